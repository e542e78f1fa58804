"""The rounds of measuring: readings by place, what was judged over them, the pushrods fitted."""

from collections.abc import Iterable

from snugset.guide.kinds.do import Do
from snugset.guide.kinds.gap import Gap, fitted, window_of
from snugset.guide.kinds.rounds import Rounds
from snugset.guide.state import Judged
from snugset.plan.places import Site, valves
from snugset.sheet.entries import Entry, View
from snugset.sheet.readings import Missing, ReadingRow, firing, pushrod_figure, rows
from snugset.units import Quantity, echo
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """What was decided for one place."""

    place: str
    where: str
    length: Quantity
    """The pushrod that is to be there."""
    before: Quantity | None
    """The one that was in when this round was read."""
    change: Quantity | None
    """Length less before; negative is shorter, 0 is kept."""
    predicted: Quantity | None
    """What the place should read with it; None where the round was accepted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """Places that get one length."""

    length: Quantity
    shown: str
    places: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgement:
    """What was decided over a round."""

    address: str
    outcome: str
    """``accept`` or ``order``."""
    proved: bool
    """Whether every place is surely inside: for an order as predicted, else as it was read."""
    chosen: tuple[Chosen, ...]
    batches: tuple[Batch, ...]
    """The lengths that change, the shortest first: what was ordered. Empty where accepted."""
    words: tuple[str, ...]
    """What was said with it."""
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """One pass of measuring every place."""

    step: str
    figure: str
    number: int
    low: Quantity | None
    high: Quantity | None
    """The window; None where it is not had."""
    target: Quantity | None
    readings: tuple[ReadingRow, ...]
    missing: tuple[Missing, ...]
    judgement: Judgement | None
    """None while it is still to come."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """The pushrod at one place."""

    place: str
    where: str
    length: Quantity | None
    """None where nothing says that one is in."""
    shown: str
    new: bool
    """Whether it came by an order of this build, and is not one of the set in hand."""
    entry: Entry | None
    """When it went in, or why that was skipped."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pushrods:
    """What pushrods are in, and how their length is measured."""

    figure: str
    """The figure of the spec sheet that is the length in hand; empty without one."""
    convention: str
    """How its length is measured, in the builder's words; every length here goes with it."""
    places: tuple[Fitted, ...]


def rounds(view: View, gaps: Iterable[Missing]) -> tuple[Round, ...]:
    """Give every round that was begun."""
    gaps = tuple(gaps)
    return tuple(
        _round(view, step.id, step.block, number, gaps)
        for step in view.plan.steps.values()
        if isinstance(step.block, Rounds)
        for number in range(1, _last(view, step.id) + 1)
    )


def _last(view: View, container: str) -> int:
    return max((e.round for e in view.entries if view.home(e.step).rounds == container), default=0)


def _round(
    view: View, container: str, block: Rounds, number: int, gaps: tuple[Missing, ...]
) -> Round:
    scene = view.scene
    found = rows(view, scene.readings(block.figure, number))
    inside = [s.block for s in view.plan.steps.values() if view.home(s.id).rounds == container]
    gap = next((b for b in inside if isinstance(b, Gap)), None)
    low, high = (gap and window_of(scene, gap.window)) or (None, None)
    judged = next(
        (
            each
            for address, each in view.state.judged.items()
            if address.round == number and view.home(address.step).rounds == container
        ),
        None,
    )
    open_ = tuple(g for g in gaps if (g.figure, g.round) == (block.figure, number))
    return Round(
        step=container,
        figure=block.figure,
        number=number,
        low=low,
        high=high,
        target=scene.length(gap.target) if gap else None,
        readings=found,
        missing=open_,
        judgement=None if judged is None else _judgement(view, judged, found, whole=not open_),
    )


def _judgement(
    view: View, judged: Judged, readings: tuple[ReadingRow, ...], *, whole: bool
) -> Judgement:
    order = firing(view)
    before = {row.place: row.pushrod for row in readings if row.pushrod is not None}
    chosen = tuple(
        Chosen(
            place=place,
            where=next((row.where for row in readings if row.place == place), ""),
            length=length,
            before=before.get(place),
            change=_change(length, before.get(place)),
            predicted=judged.predicted.get(place),
        )
        for place, length in sorted(judged.lengths.items(), key=lambda pair: order(pair[0]))
    )
    seen = all(row.verdict == "in" and not row.provisional for row in readings)
    return Judgement(
        address=str(judged.address),
        outcome=judged.outcome,
        proved=judged.proved and (judged.outcome == "order" or (whole and seen)),
        chosen=chosen,
        batches=_batches(chosen) if judged.outcome == "order" else (),
        words=judged.words,
        at=judged.at,
        person=next(e.person for e in view.entries if e.address == str(judged.address)),
    )


def _change(length: Quantity, before: Quantity | None) -> Quantity | None:
    return None if before is None else Quantity(length.value - before.in_(length.unit), length.unit)


def _batches(chosen: tuple[Chosen, ...]) -> tuple[Batch, ...]:
    by_length: dict[Quantity, list[str]] = {}
    for each in chosen:
        if each.change is None or each.change.value:
            by_length.setdefault(each.length, []).append(each.place)
    return tuple(
        Batch(length=length, shown=echo(length), places=tuple(places))
        for length, places in sorted(by_length.items(), key=lambda pair: pair[0].in_("mm"))
    )


def pushrods(view: View) -> Pushrods:
    """Give the pushrod at every valve, as the newest record has it."""
    figure = pushrod_figure(view)
    spec = view.state.specs.get(figure)
    went_in = {
        entry.place: entry
        for entry in view.entries
        if isinstance(block := view.block(entry.step), Do) and block.marks == "pushrod"
    }
    return Pushrods(
        figure=figure,
        convention="" if spec is None else spec.assumes or "",
        places=tuple(
            _fitted(view, site, figure, went_in.get(site.key)) for site in valves(view.plan.engine)
        ),
    )


def _fitted(view: View, site: Site, figure: str, entry: Entry | None) -> Fitted:
    key = site.key
    new = view.state.condition.mark("pushrod", key) is not None
    length = fitted(view.scene, key, figure) if new or entry is not None else None
    return Fitted(
        place=key,
        where=site.words,
        length=length,
        shown="" if length is None else echo(length),
        new=new,
        entry=entry,
    )
