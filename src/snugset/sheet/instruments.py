"""What was measured and tightened with: which figures of the spec sheet speak for an instrument."""

from collections.abc import Iterable

from snugset.guide.kinds.gap import Gap
from snugset.guide.kinds.nut import Nut
from snugset.guide.kinds.read import Measure
from snugset.guide.state import State
from snugset.plan.plan import Plan
from snugset.sheet.entries import View
from snugset.sheet.specs import SpecRow
from snugset.typed import Literal
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument:
    """One instrument, as far as the spec sheet knows it."""

    figure: str
    """The figure that speaks for it: a wrench's range, the doubt of a calliper."""
    kind: Literal["wrench", "measure"]
    ask: str
    shown: str
    """Its range or its doubt; empty where nothing is known of it."""
    checked: str
    """Its accuracy and last check, in the builder's words; empty where nothing was said."""
    source: str
    """Where that comes from; for a figure that is not had, ``common practice`` or nothing."""
    had: bool
    steps: tuple[str, ...]
    """The steps of the plan that it serves."""


def measured_with(block: object) -> tuple[str, ...]:
    """Name the figures that hold the doubt of what a reading is taken with."""
    match block:
        case Measure():
            names: Iterable[str] = (block.doubt_figure,)
        case Gap():
            names = (block.repeatability, block.leaf, block.leaves)
        case Nut():
            names = (block.doubt,)
        case _:
            names = ()
    return tuple(filter(None, names))


def wrench_of(plan: Plan, step: str) -> str:
    """Name the figure that is the range of a step's wrench; empty where none is named."""
    found = plan.steps.get(step)
    if found is None:
        return ""
    for each in (found, *reversed(plan.above.get(step, ()))):
        if name := str(getattr(each.block, "wrench", "")):
            return name
    return ""


def reading_figures(plan: Plan, state: State, step: str) -> tuple[str, ...]:
    """Name the instruments of a reading whose figures are on the spec sheet."""
    found = plan.steps.get(step)
    names = () if found is None else measured_with(found.block)
    return tuple(name for name in names if name in state.specs)


def instruments(view: View, specs: tuple[SpecRow, ...]) -> tuple[Instrument, ...]:
    """Give every instrument that the steps of this build name, in the spec sheet's order."""
    serves: dict[str, list[str]] = {}
    wrenches = set()
    asked = {step.id for step in view.plan.figure_steps}
    for step in view.plan.steps.values():
        if step.id in asked:
            continue
        if name := str(getattr(step.block, "wrench", "")):
            wrenches.add(name)
            serves.setdefault(name, []).append(step.id)
        for name in measured_with(step.block):
            serves.setdefault(name, []).append(step.id)
    return tuple(
        Instrument(
            figure=row.name,
            kind="wrench" if row.name in wrenches else "measure",
            ask=row.ask,
            shown=row.shown,
            checked=row.assumes,
            source=row.source,
            had=row.state == "had",
            steps=tuple(dict.fromkeys(serves[row.name])),
        )
        for row in specs
        if row.name in serves
    )
