"""The spec sheet: every figure with its value, source and what it assumes."""

from textual.app import ComposeResult
from textual.widgets import Input, OptionList
from textual.widgets.option_list import Option

from snugset.files.figures import show_value
from snugset.guide.address import Address
from snugset.guide.ruling import Refusal
from snugset.guide.state import Spec
from snugset.journal.errors import JournalError
from snugset.screens.base import Base, Plain, lines, text
from snugset.screens.desk import Desk


def row(name: str, spec: Spec | None) -> str:
    """Give a figure in one line."""
    if spec is None:
        return f"{name:<20} —"
    value = show_value(spec.value) if spec.had else "not had"
    assumes = f" · {spec.assumes}" if spec.assumes else ""
    return f"{name:<20} {value}{assumes}   [{spec.source or 'no source yet'}]"


class SpecsScreen(Base):
    """The figures; the one that is marked can be given again."""

    NAME = "specs"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.name_given = ""
        """The figure that is being given again."""

    def body(self) -> ComposeResult:
        """Give the list, what is asked, and the field."""
        yield OptionList(id="figures", classes="list", markup=False)
        yield Plain("facts")
        yield Input(id="given", placeholder="value; source; what it assumes — or none")
        yield Plain("message")

    def on_mount(self) -> None:
        """Fill the list."""
        self._fill(0)
        self.query_one("#given", Input).display = False
        self.query_one(OptionList).focus()

    def _fill(self, marked: int) -> None:
        look = self.desk.look
        found = self.query_one(OptionList)
        found.clear_options()
        for name in look.plan.procedure.figures:
            found.add_option(Option(text(row(name, look.state.specs.get(name))), id=name))
        found.highlighted = marked
        had = sum(s.had for s in look.state.specs.values())
        self.query_one("#where", Plain).put(
            f"Spec sheet · {had} of {len(look.plan.procedure.figures)} figures had"
        )

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show what the marked figure is for."""
        figure = self.desk.look.plan.procedure.figures.get(event.option.id or "")
        if figure is not None:
            none = f"Not had: {figure.none}" if figure.none else "It must be had."
            asks = [figure.ask, figure.why, figure.assumes, none]
            self.query_one("#facts", Plain).put(lines([a for a in asks if a]))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Open the field for the marked figure."""
        self.name_given = event.option.id or ""
        field = self.query_one("#given", Input)
        field.display = True
        field.value = ""
        field.focus()

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Give the figure again; the newest counts."""
        name = self.name_given
        asked = self.desk.look.prompt
        address = Address(f"spec.{name}")
        again = name in self.desk.look.state.specs
        if not again and (asked is None or asked.address != address):
            self.query_one("#message", Plain).put("That figure is asked for in its turn.")
            return
        try:
            look = await self.desk.say(f"again {event.value}" if again else event.value, address)
        except JournalError as error:
            self.query_one("#message", Plain).put(f"Not kept: {error.message}")
            return
        outcome = look.outcome
        words = (
            outcome.words
            if isinstance(outcome, Refusal)
            else "; ".join(outcome.said)
            if outcome
            else ""
        )
        self.query_one("#message", Plain).put(words)
        if not isinstance(outcome, Refusal):
            event.input.display = False
            self._fill(list(look.plan.procedure.figures).index(name))
            self.query_one(OptionList).focus()

    def action_open(self) -> None:
        """Open the marked figure."""
        self.query_one(OptionList).action_select()
