"""The bench: one thing to do, large and plain, with its view beside it."""

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import Input, Static

from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Refusal
from snugset.journal.errors import JournalError
from snugset.screens.answer import Answer
from snugset.screens.base import Base, Plain, lines, text
from snugset.screens.beside import VIEWS, beside
from snugset.screens.desk import Desk, Look

CUES = {"tick": "Enter ▸", "count": "how many ▸", "wait": "waiting ▸", "choice": "which ▸"}
TICK_KEYS = {" ": ""}
"""Where only a tick is asked, the space bar gives it too."""


class BenchScreen(Base):
    """What the builder lives in."""

    NAME = "bench"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.chosen_view = ""
        """The view the builder turned to; empty takes the prompt's own."""
        self._failed = ""
        """What was typed when the disk would not take it."""

    def body(self) -> ComposeResult:
        """Lay out the prompt, the typing line, the live pane, and the view."""
        with Horizontal(id="work"):
            with Vertical(id="ask"):
                with VerticalScroll(id="scroll", can_focus=False):
                    for name in ("outcome", "words", "facts", "caution", "choices"):
                        yield Plain(name)
                with Horizontal(id="typing"):
                    yield Static("", id="cue", markup=False)
                    yield Answer()
                yield Plain("pane")
            yield Plain("view")

    def on_mount(self) -> None:
        """Show the first prompt."""
        self.show(self.desk.look)
        self.set_interval(20, self._tick)

    def on_screen_resume(self) -> None:
        """Show again what may have changed on another screen."""
        self.show(self.desk.look)

    def on_resize(self, event: events.Resize) -> None:
        """Draw the view for the new size."""
        super().on_resize(event)
        self.call_after_refresh(self._view)

    def show(self, look: Look) -> None:
        """Paint a build as it stands; keys count again once it is painted."""
        self._outcome(look.outcome)
        self._where(look)
        self._prompt(look.prompt)
        self._view()
        self.call_after_refresh(self._painted)

    def _painted(self) -> None:
        field = self.query_one(Answer)
        field.busy = self.desk.look.prompt is None
        field.focus()

    def _where(self, look: Look) -> None:
        counted = look.progress
        at = f" {look.prompt.address}" if look.prompt else ""
        phase = f"{counted.phase} {counted.phase_done}/{counted.phase_known}"
        of = f"build {counted.done}/{counted.known}"
        rest = f" · {phase} · {of} ·{at}"
        room = max(8, (self.size.width or 80) - len(rest) - 2)
        name = look.state.name
        shown = name if len(name) <= room else f"{name[: room - 1]}…"
        self.query_one("#where", Plain).put(f"{shown}{rest}")

    def _outcome(self, outcome: Decision | Refusal | None) -> None:
        shown = self.query_one("#outcome", Plain)
        if outcome is None:
            shown.put("")
            return
        stopped = isinstance(outcome, Refusal) or bool(outcome.code)
        shown.set_class(stopped, "stopped")
        said = list(outcome.said) if isinstance(outcome, Decision) else [outcome.words]
        if isinstance(outcome, Refusal):
            said += [f"type: {suggestion}" for suggestion in outcome.suggest]
            said += ["F6: go on, because …"] if outcome.overridable else []
        sign = "✗ " if stopped else "✓ "
        shown.put(lines([sign + said[0], *said[1:]] if said else []))

    def _prompt(self, asked: Prompt | None) -> None:
        field = self.query_one(Answer)
        if asked is None:
            self.query_one("#words", Plain).put("The build is finished. Its sheet: snugset sheet")
            for name in ("facts", "caution", "choices", "pane"):
                self.query_one(f"#{name}", Plain).put("")
            return
        self.query_one("#words", Plain).put(asked.words)
        people = [f"{asked.people} people."] if asked.people > 1 else []
        self.query_one("#facts", Plain).put(lines([*people, *asked.waiting, *asked.facts]))
        self.query_one("#caution", Plain).put(lines([f"! {c}" for c in asked.caution]))
        choices = [f"{n}  {choice}" for n, choice in enumerate(asked.choices, 1)]
        self.query_one("#choices", Plain).put(lines(choices if asked.asks == "choice" else []))
        cue = CUES.get(asked.asks, f"{asked.unit} ▸" if asked.unit else "▸")
        self.query_one("#cue", Static).update(text(f"{cue} "))
        field.placeholder = f"Enter: {asked.proposal}" if asked.proposal else ""
        field.one_key = self._one_key(asked)
        field.watch_held = asked.address.place.count(".") == 1
        if not isinstance(self.desk.look.outcome, Refusal):
            field.value = ""
        self._pane(field.value)
        self.query_one("#scroll", VerticalScroll).scroll_home(animate=False)

    def _one_key(self, asked: Prompt) -> dict[str, str]:
        if asked.asks == "tick":
            return TICK_KEYS
        if asked.asks == "choice" and len(asked.choices) < 10:
            return {
                str(n): choice
                for n, choice in enumerate(asked.choices, 1)
                if choice.islower() and "PLACE" not in choice
            }
        return {}

    def _view(self) -> None:
        shown = self.query_one("#view", Plain)
        size = shown.content_size
        shown.update(beside(self.desk.look, self._view_name(), size.width or 30, size.height or 18))

    def _view_name(self) -> str:
        asked = self.desk.look.prompt
        return self.chosen_view or (asked.view if asked and asked.view else "list")

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show what the typed text comes to, as it is typed."""
        self._pane(event.value)

    def _pane(self, typed: str) -> None:
        pane = self.query_one("#pane", Plain)
        asked = self.desk.look.prompt
        if not typed.strip() or asked is None or asked.asks == "tick":
            pane.put("")
            return
        outcome = self.desk.preview(typed)
        stopped = isinstance(outcome, Refusal) or bool(outcome and outcome.code)
        pane.set_class(stopped, "stopped")
        pane.put(lines(_foreseen(outcome)))

    async def on_answer_given(self, message: Answer.Given) -> None:
        """Keep an answer, off the loop, and show what comes next."""
        await self.give(message.typed)

    async def give(self, typed: str) -> None:
        """Say something at the prompt; where the disk will not take it, it stays typed."""
        try:
            look = await self.desk.say(typed)
        except JournalError as error:
            self._unkept(typed, error)
            return
        self.show(look)

    def _unkept(self, typed: str, error: JournalError) -> None:
        shown = self.query_one("#outcome", Plain)
        shown.add_class("stopped")
        shown.put(
            lines([f"✗ Not kept: {error.message}", "Nothing is lost; Enter tries again, as typed."])
        )
        field = self.query_one(Answer)
        field.value = typed
        field.busy = False

    async def _tick(self) -> None:
        """Look again now and then: a wait may be over."""
        asked = self.desk.look.prompt
        if (
            asked is not None
            and (asked.asks == "wait" or asked.waiting)
            and not self.query_one(Answer).value
        ):
            look = await self.desk.refresh()
            if look.prompt != asked:
                self.show(look)

    def _begin(self, before: str, after: str = "") -> None:
        field = self.query_one(Answer)
        if not field.busy:
            field.value = f"{before}{field.value}{after}"
            field.cursor_position = len(field.value)

    def action_why(self) -> None:
        """Show the reason of this step, its cautions and tools."""
        asked = self.desk.look.prompt
        if asked is not None:
            tools = [f"Tools: {', '.join(asked.tools)}"] if asked.tools else []
            shown = [asked.why or "No reason is given for this step.", *tools]
            self.query_one("#outcome", Plain).remove_class("stopped")
            self.query_one("#outcome", Plain).put(lines(shown))

    async def action_back(self) -> None:
        """Take back the newest answer."""
        if not self.query_one(Answer).busy:
            self.query_one(Answer).busy = True
            await self.give("back")

    def action_note(self) -> None:
        """Begin a note."""
        self._begin("note ")

    def action_skip(self) -> None:
        """Begin a skip with its reason."""
        self._begin("skip ")

    def action_override(self) -> None:
        """Begin the reason for going on."""
        self._begin("", " ! ")

    async def action_arrived(self) -> None:
        """Say that what was waited for is there, at the first wait."""
        held = next(iter(self.desk.look.state.holds), None)
        if held is None:
            self.query_one("#outcome", Plain).put("Nothing is waited for.")
            return
        self.show(await self.desk.say("arrived", held))

    def action_view(self) -> None:
        """Turn to the next view."""
        names = list(VIEWS)
        self.chosen_view = names[(names.index(self._view_name()) + 1) % len(names)]
        self._view()

    def action_specs(self) -> None:
        """Show the spec sheet."""
        from snugset.screens.specs import SpecsScreen  # noqa: PLC0415 - loaded when asked for

        self.app.push_screen(SpecsScreen(self.desk))

    def action_history(self) -> None:
        """Show every answer."""
        from snugset.screens.history import HistoryScreen  # noqa: PLC0415 - loaded when asked for

        self.app.push_screen(HistoryScreen(self.desk))

    def action_leave(self) -> None:
        """Let the build go, back to the list."""
        self.desk.drop()
        self.app.pop_screen()


def _foreseen(outcome: Decision | Refusal | None) -> list[str]:
    """Give what an answer would come to, and its working."""
    if outcome is None:
        return []
    if isinstance(outcome, Refusal):
        return [f"✗ {outcome.words}", *(f"type: {s}" for s in outcome.suggest)]
    working = [w for event in outcome.events for w in event.body.get("working", ())]
    return [*outcome.said, *working]
