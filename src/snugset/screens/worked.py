"""A calculator's result as it stands beside its form, and the working of the bench in full."""

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content

from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Refusal
from snugset.screens import outcome
from snugset.screens.base import Base, Plain
from snugset.screens.desk import Desk
from snugset.screens.words import joined, lines, text
from snugset.trade.calculator import Calculator, Result
from snugset.trade.calculators import CALCULATORS, shown_with_doubt


def came(calculator: Calculator, result: Result) -> list[Content]:
    """Give a result: each output with its U, the formula with the numbers put in, its source."""
    words = {out.key: out.words for out in calculator.outputs}
    found: list[Content] = []
    for key, one in result.outputs.items():
        found.append(text(f"{key}  {shown_with_doubt(one)}", "bold $accent"))
        if len(result.outputs) < len(words) or len(words) < 9:
            found.append(text(f"  {words.get(key, '')}"))
    found += [text(""), text("Working", "bold")]
    found += [text(line) for line in result.working]
    return [*found, text(""), *about(calculator)]


def about(calculator: Calculator) -> list[Content]:
    """Give the formula as the trade writes it, and where it stands."""
    return [
        text("Formula", "bold"),
        *(text(line) for line in calculator.formula),
        text(f"Source: {calculator.source}", "$secondary"),
    ]


def working(
    asked: Prompt | None, typed: str, come: Decision | Refusal | None, kept: Sequence[str]
) -> list[Content]:
    """Give the working in full of what is typed at a prompt, else of the newest reading.

    `come` is what the answer would come to, `kept` the newest reading with its working.
    """
    found: list[Content] = []
    own = CALCULATORS.get(asked.calculator) if asked else None
    if asked is not None and typed:
        found += [text(f"Typed: {typed}", "bold"), *outcome.foreseen(asked, typed, come)]
        if own is None and not any(len(part.plain) for part in found[1:]):
            found.append(text("Nothing is worked out of it."))
    elif kept:
        found += [text("The newest reading", "bold"), lines(kept)]
    else:
        found.append(text("Nothing has been measured yet, and nothing is typed."))
    if own is not None and asked is not None:
        found += [text(""), text("What the calculation is given here", "bold")]
        found += [text(f"{key}  {value}") for key, value in asked.inputs.items()]
        found += [text(""), *about(own)]
    return found


def newest(desk: Desk) -> list[str]:
    """Give the newest reading with the working that was kept with it; nothing without one."""
    state = desk.look.state
    readings = [one for one in state.readings.values() if one.address in state.facts]
    if not readings:
        return []
    last = max(readings, key=lambda one: state.facts[one.address].sequence)
    doubt = f" ± {last.uncertainty}" if last.uncertainty else ""
    return [f"{last.address}: {last.value}{doubt}, typed as {last.typed}", *last.working]


class WorkingScreen(Base):
    """The working in full; it scrolls."""

    NAME = "working"

    def __init__(self, parts: Sequence[Content]) -> None:
        super().__init__()
        self._parts = parts

    def body(self) -> ComposeResult:
        """Give the text."""
        with VerticalScroll(id="scroll"):
            yield Plain("help")

    def on_mount(self) -> None:
        """Write it."""
        self.query_one("#where", Plain).put("The working · arrows and PgDn go on")
        self.query_one("#help", Plain).put(joined(self._parts))
        self.query_one("#scroll").focus()
