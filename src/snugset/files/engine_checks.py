"""Holds the numbers of an engine file against each other."""

from collections import Counter
from collections.abc import Callable, Iterable

from snugset.files.engine_shape import Draft
from snugset.files.problems import Mark, Problems, all_of, an
from snugset.units import Quantity


def check(draft: Draft, into: Problems) -> None:
    """Add a problem for everything in the engine that cannot be."""
    for look, about in _CHECKS:
        own = Problems()
        look(draft, own)
        for problem in own.items:
            into.add(problem.mark, problem.text, about)


def _firing_order(draft: Draft, into: Problems) -> None:
    _each_once(draft.firing_order, draft, "the firing order", "each fires once", into)


def _connecting_rod(draft: Draft, into: Problems) -> None:
    if draft.connecting_rod is None or draft.stroke is None:
        return
    (length, _), (stroke, _) = draft.connecting_rod, draft.stroke
    if 2 * length.in_(stroke.unit) > stroke.value:
        return
    into.add(
        draft.mark,
        f"a connecting rod of {length} cannot turn a stroke of {stroke}; mend one of them",
    )


def _size(name: str) -> Callable[[Draft, Problems], None]:
    def look(draft: Draft, into: Problems) -> None:
        given: tuple[Quantity, Mark] | None = getattr(draft, name.replace("-", "_"))
        if given is not None and given[0].value <= 0:
            said = f"a {name} of {given[0]} is no size; give more than 0, or leave the field out"
            into.add(given[1], said)

    return look


def _each_once(
    cylinders: Iterable[tuple[int, Mark]], draft: Draft, what: str, rule: str, into: Problems
) -> None:
    seen: set[int] = set()
    at = draft.mark
    for number, (cylinder, mark) in enumerate(cylinders):
        at = at if number else mark
        if cylinder > draft.cylinders:
            into.add(mark, f"there is no cylinder {cylinder}; the engine has {draft.cylinders}")
        elif cylinder in seen:
            into.add(mark, f"cylinder {cylinder} stands twice in {what}; {rule}")
        seen.add(cylinder)
    missing = [n for n in range(1, draft.cylinders + 1) if n not in seen]
    if missing:
        said = (
            f"cylinders {all_of(missing)} are" if len(missing) > 1 else f"cylinder {missing[0]} is"
        )
        into.add(at, f"{said} missing from {what}; {rule}")


def _intervals(draft: Draft, into: Problems) -> None:
    if draft.intervals is None:
        return
    degrees, mark = draft.intervals
    if len(degrees) != draft.cylinders:
        into.add(
            mark,
            f"{len(degrees)} intervals for {draft.cylinders} cylinders; give one after each "
            "firing, or none if they are even",
        )
    elif sum(degrees) != 720:
        into.add(mark, f"the intervals sum to {sum(degrees)}°; two turns of the crank are 720°")


def _banks(draft: Draft, into: Problems) -> None:
    if not draft.banks:
        return
    marks = [mark for _, mark in draft.banks.values()]
    if draft.layout != "v":
        into.add(
            marks[0], f"{an(draft.layout)} engine has no banks; take them out, or write layout: v"
        )
        return
    cylinders = [each for bank, _ in draft.banks.values() for each in bank]
    _each_once(cylinders, draft, "the banks", "each lies in one bank", into)


def _marks(draft: Draft, into: Problems) -> None:
    count = Counter(angle for angle, _ in draft.marks)
    for angle, mark in draft.marks:
        if angle >= 360:
            into.add(mark, f"a mark at {angle}° is the mark at {angle % 360}°; write that")
        elif count[angle] > 1:
            into.add(mark, f"the mark at {angle}° is given {count[angle]} times; keep one")
            count[angle] = 1


def _valves(draft: Draft, into: Problems) -> None:
    if draft.valves is None:
        return
    valves, mark = draft.valves
    if len(valves) != 2 * draft.cylinders:
        into.add(
            mark,
            f"{len(valves)} valves for {draft.cylinders} cylinders; give two to a cylinder, "
            "from the front",
        )
        return
    for cylinder in range(draft.cylinders):
        pair = valves[2 * cylinder : 2 * cylinder + 2]
        if pair[0] == pair[1]:
            into.add(
                mark,
                f"valves {2 * cylinder + 1} and {2 * cylinder + 2} are both {pair[0]}; "
                "each cylinder has one E and one I",
            )


_CHECKS: tuple[tuple[Callable[[Draft, Problems], None], tuple[str, ...]], ...] = (
    (_firing_order, ("firing-order", "cylinders")),
    (_intervals, ("intervals", "cylinders")),
    (_banks, ("banks", "layout", "cylinders")),
    (_marks, ("marks",)),
    (_valves, ("valves", "cylinders")),
    (_connecting_rod, ("stroke", "connecting-rod")),
    *((_size(name), (name,)) for name in ("damper", "stroke", "connecting-rod")),
)
"""Each check with the fields that it looks at."""
