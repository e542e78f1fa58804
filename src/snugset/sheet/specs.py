"""The spec sheet as it was brought: every figure with its source, or what follows without it."""

from decimal import Decimal

from snugset.files.figures import Figure, SpecValue, Window, show_value
from snugset.guide.conditions import hold
from snugset.sheet.entries import View
from snugset.typed import Literal
from snugset.units import Quantity, echo
from snugset.values import dataclass

MOST = 12
"""Figures of a list that are said one by one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SpecRow:
    """One figure of the spec sheet."""

    name: str
    ask: str
    """What was asked."""
    state: Literal["had", "not-had", "not-asked"]
    value: SpecValue
    """What is reckoned with; None where nothing is."""
    shown: str
    """The value in words, in both systems where it has two."""
    typed: str
    source: str
    """Where it comes from; for a figure not had, ``common practice`` or nothing."""
    assumes: str
    """What the value holds with: a lubricant, hot or cold, how a length is measured."""
    asked: str
    """The question that `assumes` answers; empty if none was asked."""
    consequence: str
    """What follows from not having it, as it was said; empty for a figure that is had."""
    at: str
    person: str


def specs(view: View) -> tuple[SpecRow, ...]:
    """Give every figure that the procedure asks for in this build, in its order."""
    people = {r.body["name"]: r.person for r in view.standing if r.kind == "spec"}
    return tuple(
        _row(figure, view, people.get(figure.name, ""))
        for figure in view.plan.procedure.figures.values()
        if figure.name in view.state.specs or hold(figure.conditions, view.plan, view.state)
    )


def _row(figure: Figure, view: View, person: str) -> SpecRow:
    spec = view.state.specs.get(figure.name)
    return SpecRow(
        name=figure.name,
        ask=figure.ask,
        state="not-asked" if spec is None else "had" if spec.had else "not-had",
        value=None if spec is None else spec.value,
        shown="" if spec is None or spec.value is None else both(spec.value),
        typed="" if spec is None else spec.typed,
        source="" if spec is None else spec.source or "",
        assumes="" if spec is None else spec.assumes or "",
        asked=figure.assumes,
        consequence="" if spec is None or spec.had else figure.none,
        at="" if spec is None else spec.at,
        person=person,
    )


def both(value: SpecValue) -> str:
    """Say a value in both systems: ``30, 60, 85 lbf·ft = 40.7, 81.3, 115 N·m``."""
    match value:
        case Window():
            return _joined((value.low, value.high), " to ")
        case tuple() if len(value) > MOST and len({each.unit for each in value}) == 1:
            return _gathered(value)
        case tuple():
            return _joined(value, ", ")
    return show_value(value)


def _gathered(values: tuple[Quantity, ...]) -> str:
    """Say a long list of one unit by its even runs: ``1 to 45 by 1, 60 thou, 46 in all``."""
    runs: list[list[Decimal]] = []
    for each in (value.value for value in values):
        last = runs[-1] if runs else []
        if last and (len(last) == 1 or each - last[-1] == last[1] - last[0]):
            last.append(each)
        elif len(last) == 2:  # two alone are no run: the second may begin one
            runs.append([last.pop(), each])
        else:
            runs.append([each])
    told = ", ".join(
        f"{run[0]:f} to {run[-1]:f} by {run[1] - run[0]:f}"
        if len(run) > 2
        else ", ".join(f"{each:f}" for each in run)
        for run in runs
    )
    return f"{told} {values[0].unit}, {len(values)} in all"


def _joined(values: tuple[Quantity, ...], between: str) -> str:
    told = [echo(value).partition(" = ") for value in values]
    left = _run([each[0] for each in told], between)
    if not all(each[2] for each in told):
        return left
    return f"{left} = {_run([each[2] for each in told], between)}"


def _run(texts: list[str], between: str) -> str:
    """Join figures; a unit common to all is said once."""
    units = {text.partition(" ")[2] for text in texts}
    if len(units) > 1:
        return between.join(texts)
    *most, last = texts
    return between.join([*(text.partition(" ")[0] for text in most), last])
