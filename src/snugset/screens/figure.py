"""One calculator: a form made from its declaration, with its result beside it as it is typed."""

import asyncio
from functools import partial

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input

from snugset.guide.address import Address
from snugset.guide.answer import LONGEST
from snugset.guide.offers import Offer, offers
from snugset.guide.ruling import Refusal
from snugset.journal.errors import JournalError
from snugset.printable import printable
from snugset.screens import outcome, worked
from snugset.screens.base import Base, Plain
from snugset.screens.calculators import kept
from snugset.screens.desk import Desk
from snugset.screens.typed import chosen
from snugset.screens.words import joined, text
from snugset.trade import calculator as declared
from snugset.trade.asked import asked
from snugset.trade.calculator import Calculator, FigureError, Result
from snugset.trade.echoed import echoed
from snugset.trade.noted import noted
from snugset.trade.typed import Fields, read_fields

MOST = 2000
"""Letters that a field takes, as many as a calculator reads."""


class FigureScreen(Base):
    """The fields at the left, what they come to at the right; both scroll."""

    NAME = "figure"
    AUTO_FOCUS = ""
    CSS = """
    #fields { width: 56%; height: 100%; padding: 0 1; }
    #result { width: 44%; height: 100%; padding: 0 1; border-left: solid $secondary; }
    #fields, #result { scrollbar-size-vertical: 1; }
    #fields Plain, #result Plain, .place { height: auto; }
    .place { padding-bottom: 1; }
    .ask { color: $accent; }
    """

    def __init__(self, calculator: Calculator, desk: Desk | None) -> None:
        super().__init__()
        self.calculator = calculator
        self.desk = desk
        self.result: Result | None = None
        """What the fields come to, as they stand."""
        self._before: dict[str, str] | None = None
        """What stood there before the example, or before the fields were emptied."""
        self._busy = False
        self._noted = ""
        self._filled: dict[str, str] = {}
        """What was filled in and not typed: typing goes over it."""

    def body(self) -> ComposeResult:
        """Give a field for each input, and the result."""
        with Horizontal(id="work"):
            with VerticalScroll(id="fields", can_focus=False):
                for one in self.calculator.inputs:
                    yield from self._place(one)
            with VerticalScroll(id="result", can_focus=False):
                yield Plain("came")

    def _place(self, one: declared.Input) -> ComposeResult:
        """Give what is asked, the field, and what it was read as."""
        with Vertical(id=f"place-{one.key}", classes="place"):
            label, echo = Plain(f"ask-{one.key}"), Plain(f"echo-{one.key}")
            label.add_class("ask")
            yield label
            yield Input(
                id=f"in-{one.key}",
                placeholder=f"{one.default}, if left empty" if one.default else "",
                max_length=MOST,
                select_on_focus=False,
            )
            yield echo

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Let the whole of a field be seen: what is asked, and what was read."""
        self._see(event.widget)
        self._mark(event.widget)

    def _mark(self, field: Widget | None) -> None:
        """Mark a figure that was filled in, so that typing goes over it."""
        if isinstance(field, Input) and field.value:
            key = (field.id or "").removeprefix("in-")
            if self._filled.get(key) == field.value:
                field.select_all()

    def _see(self, field: Widget | None) -> None:
        place = field.parent if field is not None else None
        if isinstance(place, Vertical):
            self.call_after_refresh(place.scroll_visible, animate=False)
            self.call_after_refresh(self.see_focused)  # where the whole has no room

    @property
    def _key(self) -> str:
        build = self.desk.build if self.desk else ""
        return f"{build}/{self.calculator.name}"

    def on_mount(self) -> None:
        """Fill in what was typed here before, else what the build has."""
        self.query_one("#where", Plain).put(f"{self.calculator.name} · {self.calculator.words}")
        for one in self.calculator.inputs:
            self.query_one(f"#ask-{one.key}", Plain).put(f"{one.key}: {one.words} · {asked(one)}")
        before = kept(self).forms.get(self._key)
        self._fill(self._offered() if before is None else before)
        if before is not None:
            self._filled = self._offered()
        self._field(self.calculator.inputs[0].key).focus(scroll_visible=False)

    def _field(self, key: str) -> Input:
        return self.query_one(f"#in-{key}", Input)

    def _offers(self) -> dict[str, Offer]:
        if self.desk is None:
            return {}
        look = self.desk.look
        return offers(look.plan, look.state, look.prompt, self.calculator.name)

    def _offered(self) -> dict[str, str]:
        return {key: offer.text for key, offer in self._offers().items()}

    @property
    def texts(self) -> dict[str, str]:
        """What is typed, by key; without what is blank."""
        typed = {one.key: self._field(one.key).value.strip() for one in self.calculator.inputs}
        return {key: value for key, value in typed.items() if value}

    def _fill(self, texts: dict[str, str]) -> None:
        """Put texts into all the fields."""
        for one in self.calculator.inputs:
            field = self._field(one.key)
            field.value = texts.get(one.key, "")
            field.cursor_position = len(field.value)
        self._filled = texts
        self._mark(self.focused)
        self._changed()

    def _swap(self, texts: dict[str, str]) -> None:
        """Fill in something else; where it stands there already, put back what was before."""
        now = self.texts
        if now == texts and self._before is not None:
            self._fill(self._before)
        else:
            self._before = now
            self._fill(texts)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Work out what is typed."""
        event.stop()
        self._changed()

    def _changed(self) -> None:
        kept(self).forms[self._key] = self.texts
        self.begin_work(self._work_out, anew=True)

    def _read(self) -> dict[str, str]:
        """Give the texts with a choice's words in place of its number."""
        found = self.texts
        for one in self.calculator.inputs:
            if one.choices and one.key in found and found[one.key] not in one.choices:
                found[one.key] = chosen(found[one.key], one.choices)
        return found

    async def _work_out(self) -> None:
        """Read each field and work out the whole, beside the event loop."""
        fields, result, wrong = await asyncio.to_thread(self._figure, self._read())
        self.result = result
        offered = self._offers()
        for one in self.calculator.inputs:
            echo = self.query_one(f"#echo-{one.key}", Plain)
            echo.put(self._echo(one, fields, wrong, offered.get(one.key)))
        self._show(fields, wrong)
        self._see(self.focused)

    def _figure(self, texts: dict[str, str]) -> tuple[Fields, Result | None, FigureError | None]:
        fields = read_fields(self.calculator, texts, kept(self).doors.known)
        if fields.faults or fields.missing or not texts:
            return fields, None, None
        try:
            return fields, self.calculator.compute(fields.values), None
        except FigureError as error:
            return fields, None, error

    def _echo(
        self, one: declared.Input, fields: Fields, wrong: FigureError | None, offer: Offer | None
    ) -> Content:
        """Give what stands under a field: what is wrong, or what was read and where it is from."""
        fault = fields.faults.get(one.key, "")
        if wrong is not None and wrong.key == one.key:
            fault = wrong.problem
        if fault:
            return text(f"✗ {fault}", "bold $error")
        typed = self._field(one.key).value.strip()
        if not typed:
            return text("")
        read = echoed(one, fields.values.get(one.key))
        choice = fields.values.get(one.key) if one.choices else None
        if isinstance(choice, str) and choice != typed:
            read = choice
        parts = [f"= {read}" if read else ""]
        if offer is not None and offer.text == typed:
            parts.append(f"from {offer.origin}")
        return text(" · ".join(filter(None, parts)), "$secondary")

    def _show(self, fields: Fields, wrong: FigureError | None) -> None:
        keys = {one.key for one in self.calculator.inputs}
        if self.result is not None:
            parts = worked.came(self.calculator, self.result)
        elif wrong is not None and wrong.key not in keys:
            parts = [text(f"✗ {wrong}", "bold $error")]
        elif fields.faults or wrong is not None:
            at = ", ".join(fields.faults) or (wrong.key if wrong else "")
            parts = [text(f"✗ To be put right: {at}", "bold $error")]
        elif fields.missing:
            parts = [text(f"Still needed: {', '.join(fields.missing)}", "bold")]
        else:
            parts = [text("Type what there is; what there is not stays empty.", "bold")]
        if self.result is None:
            parts += [text(""), *worked.about(self.calculator)]
        self.query_one("#came", Plain).put(joined(parts))

    def _say(self, parts: list[Content]) -> None:
        """Say something over the result."""
        shown = worked.came(self.calculator, self.result) if self.result else []
        self.query_one("#came", Plain).put(joined([*parts, text(""), *shown]))
        self.query_one("#result").scroll_home(animate=False)

    def on_input_submitted(self) -> None:
        """Go to the next field."""
        self.action_lower()

    def _go(self, by: int) -> None:
        keys = [one.key for one in self.calculator.inputs]
        here = self.focused.id.removeprefix("in-") if self.focused and self.focused.id else keys[0]
        at = keys.index(here) if here in keys else 0
        self._field(keys[(at + by) % len(keys)]).focus(scroll_visible=False)

    def action_lower(self) -> None:
        """Go to the next field."""
        self._go(1)

    def action_upper(self) -> None:
        """Go to the field before."""
        self._go(-1)

    def action_example(self) -> None:
        """Fill in the worked example, or put back what stood there."""
        self._swap(dict(self.calculator.example.inputs))

    def action_empty(self) -> None:
        """Empty every field, or put back what stood there."""
        self._swap({})

    def action_build(self) -> None:
        """Put in what the build has; what it has not stays as it is typed."""
        offered = self._offered()
        if self.desk is None:
            self._say([text("No build is open; these are only typed.", "bold $warning")])
        elif not offered:
            self._say([text("The build has nothing of it yet.", "bold $warning")])
        else:
            self._fill({**self.texts, **offered})

    def action_note(self) -> None:
        """Note inputs, result and working in the build that is open."""
        if self.desk is None:
            self._say([text("No build is open to note it in.", "bold $warning")])
        elif self.result is None:
            self._say([text("There is no result to note yet.", "bold $warning")])
        elif not self._busy:
            words = noted(self.calculator, self._read(), self.result, longest=LONGEST)
            if words == self._noted:
                self._say([text("✓ That is noted already.", "$success")])
                return
            self._busy = True
            self.begin_work(partial(self._keep, self.desk, printable(words)))

    async def _keep(self, desk: Desk, words: str) -> None:
        """Keep the note at the step that is asked, or at the last one of a finished build."""
        state, at = desk.look.state, None
        if desk.look.prompt is None and state.facts:
            at = max(state.facts, key=lambda one: state.facts[one].sequence)
        try:
            look = await desk.say(f"note {words}", at)
        except JournalError as error:
            self._say([text(f"✗ Not kept: {error.message}. F4 tries again.", "bold $error")])
            return
        finally:
            self._busy = False
        if isinstance(look.outcome, Refusal):
            self._say(outcome.came(look.outcome))
            return
        self._noted = words
        where: Address | None = look.prompt.address if look.prompt else at
        self._say([text(f"✓ Noted at {where}; it stands on the build sheet.", "$success")])

    def action_down(self) -> None:
        """Show more of the result."""
        self.query_one("#result").scroll_page_down(animate=False)

    def action_up(self) -> None:
        """Back to the beginning of the result."""
        self.query_one("#result").scroll_page_up(animate=False)

    def action_place(self) -> None:
        """Go back to where the calculators were opened."""
        self.app.pop_screen()
        self.app.pop_screen()
