"""What was measured: each reading with its doubt, its limits, and what it leaves open."""

from collections.abc import Callable, Iterable
from itertools import chain

from snugset.guide.conditions import absent, hold
from snugset.guide.kinds.gap import Gap, fitted, window_of
from snugset.guide.kinds.judging import Judge
from snugset.guide.kinds.lash import Lash
from snugset.guide.kinds.nut import Nut
from snugset.guide.kinds.read import Measure, limits
from snugset.guide.scene import Occurrence, newest
from snugset.guide.state import Reading
from snugset.plan.places import valves
from snugset.sheet.entries import View
from snugset.sheet.instruments import reading_figures
from snugset.trade.verdict import Verdict
from snugset.units import Quantity, echo
from snugset.values import dataclass

FLAGS = {"agrees": "as predicted", "off": "off its prediction", "old": "reads as it did before"}
"""What a re-reading says against its prediction, in words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingRow:
    """One reading that stands."""

    address: str
    figure: str
    """The ledger it is written in."""
    place: str
    where: str
    round: int
    """The round of measuring, 0 outside rounds."""
    value: Quantity
    shown: str
    """The value in both systems."""
    uncertainty: Quantity | None
    """U, the half-width at about 95 %; None where the doubt is not known or it is but a bound."""
    low: Quantity | None
    """The limits that it was judged by, as the spec sheet has them; None without one."""
    high: Quantity | None
    verdict: str
    verdict_words: str
    flag: str
    """Against its prediction: ``agrees``, ``off``, ``old``; empty without one."""
    predicted: Quantity | None
    typed: str
    """The takes, as they were typed."""
    working: tuple[str, ...]
    provisional: bool
    """Whether the lifter was still full of oil."""
    reason: str
    """Why it stands although a rule stopped it; empty otherwise."""
    pushrod: Quantity | None
    """The pushrod that was in when it was read."""
    stale: bool
    """Whether another pushrod is in now, so that it no longer tells what is there."""
    instruments: tuple[str, ...]
    """Figures of the spec sheet that hold the doubt of what it was taken with."""
    doubts: tuple[str, ...]
    """What keeps it from being proved inside, in words; empty if nothing does."""
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """A reading that the plan asks for and that is not there."""

    address: str
    figure: str
    place: str
    where: str
    round: int
    skipped: bool
    """True: passed over, with a reason. False: not come to yet."""
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NotDue:
    """A reading of the procedure that is no part of this build."""

    step: str
    figure: str
    why: tuple[str, ...]
    """The conditions that do not hold, as the procedure has them."""


def rows(view: View, readings: Iterable[Reading]) -> tuple[ReadingRow, ...]:
    """Give readings as rows, by round and then by place in firing order."""
    order = firing(view)
    steps = list(view.plan.steps)

    def place(reading: Reading) -> tuple[int, int, tuple[int, str]]:
        at = reading.address
        return at.round, steps.index(at.step), order(at.place)

    return tuple(_row(view, reading) for reading in sorted(readings, key=place))


def firing(view: View) -> Callable[[str], tuple[int, str]]:
    """Give a key that sorts places: valves in firing order, then all others by name.

    A journal keeps no order within an object, so the sheet has to have one of its own.
    """
    keys = [site.key for site in valves(view.plan.engine)]
    order = {key: number for number, key in enumerate(keys)}
    return lambda place: (order.get(place, len(order)), place)


def final(view: View, figures: Iterable[str]) -> tuple[ReadingRow, ...]:
    """Give the newest reading of each place, of the figures that are measured in rounds."""
    scene = view.scene
    found = {
        figure: newest(sorted(scene.readings(figure), key=lambda reading: reading.at)).values()
        for figure in figures
    }
    order = firing(view)
    return tuple(
        sorted(
            rows(view, chain.from_iterable(found.values())),
            key=lambda row: (order(row.place), row.figure),
        )
    )


def _row(view: View, reading: Reading) -> ReadingRow:
    address = reading.address
    low, high = _limits(view, reading)
    stale = _stale(view, reading)
    return ReadingRow(
        address=str(address),
        figure=reading.figure,
        place=address.place,
        where=view.where(address.step, address.place),
        round=address.round,
        value=reading.value,
        shown=echo(reading.value),
        uncertainty=reading.uncertainty,
        low=low,
        high=high,
        verdict=reading.verdict,
        verdict_words=Verdict(reading.verdict).words,
        flag=reading.flag,
        predicted=reading.predicted,
        typed=reading.typed,
        working=reading.working,
        provisional=reading.provisional,
        reason=reading.reason,
        pushrod=reading.pushrod,
        stale=stale,
        instruments=reading_figures(view.plan, view.state, address.step),
        doubts=_doubts(reading, stale=stale),
        at=reading.at,
        person=reading.person,
    )


def pushrod_figure(view: View) -> str:
    """Name the figure that is the length of the pushrods in hand; empty where none is ordered."""
    blocks = (step.block for step in view.plan.steps.values())
    return next((block.pushrod for block in blocks if isinstance(block, Judge)), "")


def _limits(view: View, reading: Reading) -> tuple[Quantity | None, Quantity | None]:
    block = view.block(reading.address.step)
    if isinstance(block, Lash | Nut):
        return reading.low, reading.high
    if isinstance(block, Measure):
        return limits(view.scene, block)
    window = window_of(view.scene, block.window) if isinstance(block, Gap) else None
    return window or (None, None)


def _stale(view: View, reading: Reading) -> bool:
    if reading.pushrod is None:
        return False
    now = fitted(view.scene, reading.address.place, pushrod_figure(view))
    return now is not None and now.in_("mm") != reading.pushrod.in_("mm")


def _doubts(reading: Reading, *, stale: bool) -> tuple[str, ...]:
    verdict = Verdict(reading.verdict)
    found = [] if verdict is Verdict.IN else [verdict.words]
    if reading.provisional:
        found.append("read before the lifter had bled down")
    if reading.flag in ("off", "old"):
        found.append(f"{FLAGS[reading.flag]}, {reading.predicted}")
    if stale:
        found.append(f"read with a pushrod of {reading.pushrod}, and another is in now")
    return tuple(found)


def missing(view: View, leaves: Iterable[Occurrence]) -> tuple[Missing, ...]:
    """Give every reading that the plan unfolds to and that does not stand, in order of work."""
    found = []
    for leaf in leaves:
        block = leaf.step.block
        if not isinstance(block, Measure | Gap | Lash | Nut) or leaf.address in view.state.readings:
            continue
        fact = view.state.facts.get(leaf.address)
        found.append(
            Missing(
                address=str(leaf.address),
                figure=block.figure,
                place=leaf.address.place,
                where=view.where(leaf.address.step, leaf.address.place),
                round=leaf.address.round,
                skipped=fact is not None,
                reason="" if fact is None else fact.value,
            )
        )
    return tuple(found)


def not_due(view: View) -> tuple[NotDue, ...]:
    """Give every reading that conditions keep out of this build, so that nobody thinks it taken."""
    plan, state = view.plan, view.state
    return tuple(
        NotDue(
            step=step.id,
            figure=step.block.figure,
            why=tuple(
                condition.text
                for each in (*plan.above.get(step.id, ()), step)
                for condition in each.conditions
                if not hold((condition,), plan, state)
            ),
        )
        for step in plan.steps.values()
        if isinstance(step.block, Measure | Gap | Lash | Nut) and absent(step, plan, state)
    )
