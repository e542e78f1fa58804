"""A calculator's form: a field for each input, and the room for what they come to."""

from abc import abstractmethod

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widget import Widget
from textual.widgets import Input

from snugset.screens.base import Base, Field, Plain
from snugset.screens.calculators import kept
from snugset.screens.desk import Desk
from snugset.screens.typed import chosen
from snugset.trade import calculator as declared
from snugset.trade.calculator import Calculator

MOST = 2000
"""Letters that a field takes, as many as a calculator reads."""


class FigureForm(Base):
    """The fields at the left, what they come to at the right; both scroll."""

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
        self._before: dict[str, str] | None = None
        """What stood there before the example, or before the fields were emptied."""
        self._filled_before: dict[str, str] = {}
        self._filled: dict[str, str] = {}
        """What was filled in and not typed: typing goes over it."""

    @abstractmethod
    async def _work_out(self) -> None:
        """Work out what the fields come to."""

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
            yield Field(
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

    def _field(self, key: str) -> Input:
        return self.query_one(f"#in-{key}", Input)

    @property
    def texts(self) -> dict[str, str]:
        """What is typed, by key; without what is blank."""
        typed = {one.key: self._field(one.key).value.strip() for one in self.calculator.inputs}
        return {key: value for key, value in typed.items() if value}

    def _fill(self, texts: dict[str, str], given: dict[str, str]) -> None:
        """Put texts into all the fields; those that are `given` too were not typed."""
        for one in self.calculator.inputs:
            field = self._field(one.key)
            field.value = texts.get(one.key, "")
            field.cursor_position = len(field.value)
        self._filled = given
        self._mark(self.focused)
        self._changed()

    def _swap(self, texts: dict[str, str]) -> None:
        """Fill in something else; where it stands there already, put back what was before."""
        now = self.texts
        if now == texts and self._before is not None:
            self._fill(self._before, self._filled_before)
        else:
            self._before, self._filled_before = now, self._filled
            self._fill(texts, texts)

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
