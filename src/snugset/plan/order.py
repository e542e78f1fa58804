"""Steps that name another one which the work has not come to by then, or never comes to."""

from collections.abc import Iterable, Iterator, Mapping

from snugset.files.problems import Mark, Problems, quote
from snugset.files.steps import Phase, Step
from snugset.values import dataclass

BEFORE = ("same_as", "since", "before", "line")
"""Fields of blocks that name a step done earlier."""


@dataclass(frozen=True, slots=True)
class _Stands:
    """Where a step stands."""

    number: int
    """In the order of work, from 0."""
    step: Step
    options: Mapping[str, str]
    """The option of each `choose` that it stands in."""


def check_order(phases: Iterable[Phase], into: Problems) -> None:
    """Add each need, and each step named as one done earlier, that is not done by then."""
    found: dict[str, _Stands] = {}
    for phase in phases:
        for step, options in _walk(phase.steps, {}):
            found[step.id] = _Stands(len(found), step, options)
    for here in found.values():
        for name, said, mark in _named(here.step):
            there = found.get(name)
            wrong = "" if there is None else _wrong(here, there)
            if wrong:
                into.add(mark, f"{here.step.id}: {said} {quote(name)}, {wrong}", (name,))


def _walk(
    steps: Iterable[Step], options: Mapping[str, str]
) -> Iterator[tuple[Step, Mapping[str, str]]]:
    for step in steps:
        yield step, options
        for field, inner in step.children.items():
            own = {step.id: field} if step.kind == "choose" else {}
            yield from _walk(inner, {**options, **own})


def _named(step: Step) -> Iterator[tuple[str, str, Mark]]:
    """Yield each step named as done earlier, how it is named, and where."""
    for name, mark in zip(step.needs, step.need_marks, strict=True):
        yield name, "it needs", mark
    for field in BEFORE:
        name = getattr(step.block, field, "")
        if name and field in getattr(step.block, "STEPS", ()):
            said = f"“{field.replace('_', '-')}” names"
            yield name, said, step.field_marks.get(name, step.mark)


def _wrong(here: _Stands, there: _Stands) -> str:
    """Say why one step is not done when the other is come to; empty where it is.

    One that names itself is a circle, and told as such.
    """
    if there.number > here.number:
        line = there.step.mark.line
        place = f" in line {line}" if there.step.mark.file == here.step.mark.file else ""
        return f"which stands after it{place}; name a step before it, or move one of them"
    for choose, option in there.options.items():
        own = here.options.get(choose)
        if own is None:
            return (
                f"which is done only where {quote(choose)} is answered {quote(option)}; put this "
                "step under that option too, or name one outside"
            )
        if own != option:
            return (
                f"which stands under another answer of {quote(choose)}, {quote(option)}; only one "
                "of them is done"
            )
    return ""
