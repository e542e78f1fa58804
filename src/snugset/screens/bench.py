"""The bench: one thing to do, large and plain, with its view beside it."""

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING, cast

from textual.content import Content
from textual.widgets import Input

from snugset.guide.address import Address, AddressError
from snugset.guide.beside import HANDOVER
from snugset.guide.kinds.spec import PARTS
from snugset.guide.ruling import Decision, Refusal
from snugset.journal.errors import JournalError
from snugset.journal.owner import Owner
from snugset.plain.aside import figured
from snugset.screens import asking, outcome, typed
from snugset.screens.answer import Answer
from snugset.screens.desk import Desk
from snugset.screens.doors import Opening
from snugset.screens.painting import Painting
from snugset.screens.words import text

if TYPE_CHECKING:
    from snugset.screens.app import SnugsetApp

AGAIN = 20
"""Seconds after which the build is looked at again: a wait may be over."""
SLOW = 0.5
"""Seconds after which it is said that an answer is still being kept."""


class BenchScreen(Painting):
    """What the builder lives in."""

    NAME = "bench"

    def __init__(self, desk: Desk, note: str = "") -> None:
        super().__init__(desk, note)
        self.desk = desk
        self._refused = ""
        """What was typed when it was refused or not kept."""
        self._last = ""
        """What was typed last, to go on from where a rule stopped it."""
        self._warned = -1
        """The sequence at which it was said what stays so in metal; only then it is taken back."""
        self._later: tuple[Address, str] | None = None
        """What was typed when a break came between, to be proposed where it was asked."""

    def on_mount(self) -> None:
        """Show the first prompt."""
        self.show(self.desk.look)
        self.set_interval(AGAIN, self._look_again)

    def on_screen_resume(self) -> None:
        """Show what changed on another screen; what was being typed stays."""
        if self.desk.look is not self.shown:
            self.show(self.desk.look)
            self._foresee(self.field.value)
        self.field.focus()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show what the typed text comes to, as it is typed."""
        event.stop()
        self._foresee(event.value)

    def _foresee(self, words: str) -> None:
        asked = self.desk.look.prompt
        shows = typed.aside(words) or words.lower().startswith(typed.SHOWING)
        if not words.strip() or words == self._refused or shows:
            self.foresee(None, None)
            self.say_under(self.under)
            return
        try:
            given = typed.read(words, asked)
        except AddressError as error:
            self.foresee(None, None)
            self.say_under([text(str(error), "$warning")])
            return
        come = self.desk.preview(given.text, given.at)
        here = asked is not None and given.at is None
        live = outcome.live(asked, given.text, come) if asked is not None and here else None
        self.foresee(live, come if here and isinstance(come, Decision) else None)
        if asked is None or given.at is not None:
            self.say_under(outcome.foreseen(None, given.text, come))
        else:
            self.say_under(outcome.foreseen(asked, given.text, come))

    def on_answer_given(self, message: Answer.Given) -> None:
        """Take an answer, or do what a word asks for."""
        word = typed.aside(message.typed)
        if word:
            self.field.open()
            self.field.value = ""
            self.call_later(self.run_action, word)
            return
        if message.typed.lower().startswith("copy "):
            self.field.open()
            self.field.value = ""
            self._copying(message.typed[5:].strip())
            return
        if message.typed.lower().startswith("figure "):
            lines = figured(self.desk.look.plan.engine, message.typed[7:].strip())
            self._refuse(message.typed, [text(line.strip()) for line in lines])
            return
        try:
            given = typed.read(message.typed, self.desk.look.prompt)
        except AddressError as error:
            self._refuse(message.typed, [text(f"✗ {error}", "bold $error")])
            return
        if given.at is None and given.text.strip().lower() == "back":
            self.begin_work(self._back)
            return
        if not self._to_fill_in(given.text):
            self._keep(given.text, given.at, message.typed)

    def _to_fill_in(self, words: str) -> bool:
        """Begin a choice that needs one more word, such as “again PLACE”."""
        asked = self.desk.look.prompt
        begun = typed.to_fill_in(words)
        if asked is None or not begun or words not in asked.choices:
            return False
        come = self.desk.preview(words)
        if not isinstance(come, Refusal) or come.overridable:
            return False
        self.field.open()
        self.field.begin(begun)
        return True

    def on_answer_held(self) -> None:
        """Say why a key that is held down gives no second answer."""
        told = text("A key held down counts once. Press it again for this one.", "italic")
        self.say_under([*self.under, told])

    def _keep(self, words: str, at: Address | None = None, whole: str = "") -> None:
        """Keep an answer off the event loop; the field takes no keys until it is shown."""
        self.field.busy = True
        self.begin_work(partial(self._keeping, words, at, whole))

    async def _keeping(self, words: str, at: Address | None, whole: str) -> None:
        slow = self.set_timer(SLOW, lambda: self.say_under([text("Being kept …", "italic")]))
        try:
            look = await self.desk.say(words, at)
        except JournalError as error:
            self._refuse(
                whole,
                [
                    text(f"✗ Not kept: {error.message}.", "bold $error"),
                    text("It stays typed: Enter tries again, ^N copies the build.", "bold"),
                ],
            )
            return
        finally:
            slow.stop()
        moved = self.shown is None or look.state.sequence != self.shown.state.sequence
        if isinstance(look.outcome, Refusal) and not moved:
            asked = look.prompt if at is None else None
            self._refuse(whole, outcome.refused(asked, words, look.outcome))
            return
        if isinstance(look.outcome, Refusal) and self.shown and self.shown.prompt:
            # Nobody was here for long: something else is asked before what was typed counts.
            self._later = (self.shown.prompt.address, whole)
        stays = self._later is not None and look.prompt and look.prompt.address == self._later[0]
        self._refused, self._last = whole if stays else "", whole
        self.under = outcome.came(look.outcome)
        self.field.value = ""
        self.show(look)

    def _refuse(self, whole: str, parts: Sequence[Content]) -> None:
        """Say why an answer was not taken; it stays typed, to be put right."""
        self._refused, self._last, self.under = whole, whole, parts
        self.say_under(parts)
        self.field.open()
        if whole:
            self.field.begin(whole)

    def _look_again(self) -> None:
        """Look at the build again now and then: a wait may be over."""
        if not self.field.busy and self.is_current:
            self.begin_work(self._looking)

    def painted(self) -> None:
        """Propose what was typed before a break, where it is asked again."""
        super().painted()
        asked = self.desk.look.prompt
        if self._later and asked and asked.address == self._later[0] and not self.field.value:
            self.field.begin(self._later[1])
            self._later = None

    async def _looking(self) -> None:
        try:
            look = await self.desk.refresh()
        except JournalError as error:
            self.say_under([text(f"✗ Not kept: {error.message}.", "bold $error")])
            return
        if self.shown is not None and look.prompt != self.shown.prompt and not self.field.busy:
            self.show(look)

    def action_why(self) -> None:
        """Show the reason of this step, its cautions and tools."""
        asked = self.desk.look.prompt
        if asked is not None:
            self.under = asking.why(asked)
            self.say_under(self.under)

    def action_list(self) -> None:
        """Turn to the list of steps."""
        self.chosen_view = "list"
        self.draw_view()

    def action_crank(self) -> None:
        """Turn to the crank."""
        self.chosen_view = "crank"
        self.draw_view()

    def action_back(self) -> None:
        """Take back the newest answer; what stays so in metal is said first."""
        if not self.field.busy:
            self.field.busy = True
            self.begin_work(self._back)

    async def _back(self) -> None:
        coming = await self.desk.undoing()
        if not coming.metal or self._warned == self.desk.look.state.sequence:
            self._keep("back")
            return
        self._warned = self.desk.look.state.sequence
        again = text("F3 again takes it back; any answer leaves it.", "bold $warning")
        self.under = [*map(text, coming.lines), again]
        self.say_under(self.under)
        self.field.open()
        self.field.value = ""

    def action_far(self) -> None:
        """Show the prompt for a metre away, or as before."""
        app = cast("SnugsetApp", self.app)
        app.far = not app.far
        self.set_class(app.far, "far")
        self.place()

    def action_stage(self) -> None:
        """Begin counting what is done of a stage."""
        self._begin("stage ")

    def action_note(self) -> None:
        """Begin a note."""
        self._begin("note ")

    def action_skip(self) -> None:
        """Begin a skip with its reason."""
        self._begin("skip ")

    def action_person(self) -> None:
        """Begin a handover, also where any words would be taken as a source."""
        self._begin(f"@{HANDOVER} person " if self._takes_any_words() else "person ")

    def action_photo(self) -> None:
        """Begin a photograph."""
        if self._takes_any_words():
            self.say_under([text("Give this text first, then the photograph.")])
        else:
            self._begin("photo ")

    def _takes_any_words(self) -> bool:
        """Tell whether what is typed is taken as it is: the source of a figure."""
        asked = self.desk.look.prompt
        step = asked.address.step if asked is not None else ""
        return step.startswith("spec.") and step.rpartition(".")[2] in PARTS

    def action_order(self) -> None:
        """Show the order list."""
        from snugset.screens.order import OrderScreen  # noqa: PLC0415 - loaded when asked for

        self.app.push_screen(OrderScreen(self.desk))

    def _begin(self, word: str) -> None:
        self.field.begin(word + self.field.value.removeprefix(word))

    def action_override(self) -> None:
        """Begin the reason for going on, after what was stopped."""
        whole = self.field.value or self._last
        if whole and " ! " not in whole:
            self.field.begin(f"{whole} ! ")

    def action_arrived(self) -> None:
        """Say that what was waited for is there, at the first wait."""
        held = next(iter(self.desk.look.state.holds), None)
        if held is None:
            self.say_under([text("Nothing is waited for.")])
        elif not self.field.busy:
            self._keep("arrived", held)

    def action_working(self) -> None:
        """Show the working in full: of what is typed, else of the newest reading."""
        from snugset.screens import worked  # noqa: PLC0415 - loaded when asked for

        asked, whole = self.desk.look.prompt, self.field.value.strip()
        try:
            given = typed.read(whole, asked)
        except AddressError as error:
            self.say_under([text(str(error), "$warning")])
            return
        come = self.desk.preview(given.text, given.at) if whole else None
        at = asked if given.at is None else None
        kept = worked.newest(self.desk)
        self.app.push_screen(worked.WorkingScreen(worked.working(at, given.text, come, kept)))

    def action_specs(self) -> None:
        """Show the spec sheet."""
        from snugset.screens.specs import SpecsScreen  # noqa: PLC0415 - loaded when asked for

        self.app.push_screen(SpecsScreen(self.desk))

    def action_copy(self) -> None:
        """Copy the build to another place; what is typed stays."""
        self._copying("")

    def _copying(self, file: str) -> None:
        from snugset.screens.copy import CopyScreen  # noqa: PLC0415 - loaded when asked for

        self.app.push_screen(CopyScreen(self.desk, file))

    def action_history(self) -> None:
        """Show every answer."""
        from snugset.screens.history import HistoryScreen  # noqa: PLC0415 - loaded when asked for

        self.app.push_screen(HistoryScreen(self.desk), self._measure_again)

    def _measure_again(self, begun: object) -> None:
        """Begin what was chosen in the history."""
        if isinstance(begun, str):
            self.field.begin(begun)

    def action_sheet(self) -> None:
        """Write the build sheet as a page."""
        self.begin_work(self._write_sheet)

    async def _write_sheet(self) -> None:
        self.say_under([text("The build sheet is written …", "italic")])
        try:
            self.say_under([text(f"The build sheet is in {await self.desk.sheet()}")])
        except (JournalError, ValueError) as error:
            self.say_under([text(f"✗ No build sheet: {error}.", "bold $error")])

    def action_leave(self) -> None:
        """Empty the field; with nothing typed let the build go, back to the list."""
        if self.field.value:
            self.field.value = ""
            return
        self.field.busy = True
        self.begin_work(self._leaving)

    async def _leaving(self) -> None:
        await self.desk.let_go()
        self.app.pop_screen()


async def sit_down(opening: Opening, owner: Owner) -> BenchScreen:
    """Open a build; JournalError or BuildError if it cannot be."""
    desk = await Desk.open(opening.folder, owner=owner, clock=opening.clock, fresh=opening.fresh)
    return BenchScreen(desk, opening.note)
