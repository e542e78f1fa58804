"""The order list: what to order and why, from the build as it stands."""

from collections.abc import Iterable, Iterator

from snugset.guide.events import Record
from snugset.guide.kinds.hold import Wait
from snugset.guide.kinds.judging import Judge
from snugset.guide.kinds.stage_blocks import Stages
from snugset.guide.kinds.staging import yields
from snugset.guide.walk import occurrences
from snugset.plan.plan import Plan
from snugset.sheet.entries import View, view_of
from snugset.sheet.readings import missing
from snugset.sheet.rounds import Judgement, Pushrods, Round, pushrods, rounds
from snugset.sheet.specs import both
from snugset.typed import Literal
from snugset.units import Quantity, echo
from snugset.values import dataclass

Status = Literal["to-order", "waited-for", "arrived", "fitted"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """Pushrods of one length, in place of ones of another."""

    count: int
    length: Quantity
    shown: str
    """The length in both systems."""
    measured: Quantity | None
    """The pushrod that was in when it was measured, and that this one differs from."""
    change: Quantity | None
    """Length less measured; negative is shorter."""
    places: tuple[str, ...]
    read: tuple[Quantity, Quantity] | None
    """Least and most that was read at these places with the measured one in."""
    predicted: tuple[Quantity, Quantity] | None
    """Least and most that they should read with this one in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PushrodOrder:
    """The pushrods that were decided on last."""

    status: Status
    since: str
    """When it came to that."""
    lines: tuple[Line, ...]
    figure: str
    """What was measured to decide."""
    round: int
    window: tuple[Quantity, Quantity] | None
    convention: str
    """How lengths are measured, in the builder's words; empty where nobody said."""
    source: str
    """Where the length of the measured pushrods comes from."""
    tolerance: Quantity | None
    catalogue: str
    """What lengths can be had, in words."""
    proved: bool
    words: tuple[str, ...]
    """What was said when it was decided."""
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Renewal:
    """Something that is used once, or was lost."""

    what: str
    count: int
    """How many; 0 where the build does not say."""
    detail: tuple[str, ...]
    """Sorts among them, such as lengths: “3 × 4.25 in”."""
    why: str
    address: str
    """The step that wants it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderList:
    """What a build wants ordered. All times are RFC 3339 in UTC."""

    build: str
    engine: str
    as_of: str
    """The last record's time."""
    pushrods: PushrodOrder | None
    renewals: tuple[Renewal, ...]
    none: tuple[str, ...]
    """Why something is not on the list, a sentence each."""


def order_of(plan: Plan, records: Iterable[Record]) -> OrderList:
    """Make the order list of a build; ValueError unless the records begin with its first."""
    view = view_of(plan, tuple(records))
    leaves = tuple(occurrences(plan, view.state, view.now))
    every = rounds(view, missing(view, leaves))
    found, none = _pushrods(view, every)
    open_ = {leaf.address.step for leaf in leaves if leaf.open}
    return OrderList(
        build=view.state.name,
        engine=plan.engine.name,
        as_of=view.state.last_at,
        pushrods=found,
        renewals=tuple(_renewals(view, open_)),
        none=none,
    )


def _pushrods(view: View, every: tuple[Round, ...]) -> tuple[PushrodOrder | None, tuple[str, ...]]:
    if not any(isinstance(step.block, Judge) for step in view.plan.steps.values()):
        return None, ("This procedure orders no pushrods.",)
    judged = [each for each in every if each.judgement is not None]
    if not judged:
        return None, ("No round of readings is judged yet: no pushrod is decided on.",)
    last = judged[-1]
    verdict = last.judgement
    if verdict is None or verdict.outcome != "order":
        return None, (f"Round {last.number} was accepted: the pushrods stay as they are.",)
    now = pushrods(view)
    lines = tuple(_lines(last, verdict))
    if not lines:
        return None, ("The pushrods in hand were placed anew: none is ordered.",)
    block = next(
        step.block
        for step in view.plan.steps.values()
        if isinstance(step.block, Judge) and view.home(step.id).rounds == last.step
    )
    status, since = _status(view, last, verdict, now)
    spec = view.state.specs.get(block.pushrod)
    catalogue = view.state.spec(block.catalogue)
    low, high = last.low, last.high
    return (
        PushrodOrder(
            status=status,
            since=since,
            lines=lines,
            figure=last.figure,
            round=last.number,
            window=(low, high) if low is not None and high is not None else None,
            convention=now.convention,
            source=spec.source or "" if spec else "",
            tolerance=view.scene.length(block.tolerance),
            catalogue="" if catalogue is None else both(catalogue),
            proved=verdict.proved,
            words=verdict.words,
            at=verdict.at,
            person=verdict.person,
        ),
        (),
    )


def _lines(found: Round, verdict: Judgement) -> Iterator[Line]:
    """Give the lengths that change, the shortest first; one line for each that they replace."""
    ordered: dict[tuple[Quantity, Quantity | None], list[str]] = {}
    for each in verdict.chosen:
        if each.change is None or each.change.value:
            ordered.setdefault((each.length, each.before), []).append(each.place)
    predicted = {each.place: each.predicted for each in verdict.chosen}
    read = {row.place: row.value for row in found.readings}
    for (length, before), places in sorted(ordered.items(), key=lambda pair: pair[0][0].in_("mm")):
        change = None
        if before is not None:
            change = Quantity(length.value - before.in_(length.unit), length.unit)
        yield Line(
            count=len(places),
            length=length,
            shown=echo(length),
            measured=before,
            change=change,
            places=tuple(places),
            read=_span(read.get(place) for place in places),
            predicted=_span(predicted.get(place) for place in places),
        )


def _span(values: Iterable[Quantity | None]) -> tuple[Quantity, Quantity] | None:
    there = sorted((v for v in values if v is not None), key=lambda v: v.in_("mm"))
    return (there[0], there[-1]) if there else None


def _status(view: View, found: Round, verdict: Judgement, now: Pushrods) -> tuple[Status, str]:
    """Tell how far an order has come: ordered once the wait for it has begun."""
    wanted = {each.place: each.length for each in verdict.chosen}
    fitted = {each.place: each for each in now.places}
    changed = [place for batch in verdict.batches for place in batch.places]
    entries = [fitted[place].entry for place in changed]
    if all(e is not None and e.round >= found.number for e in entries) and all(
        fitted[place].length == wanted[place] for place in changed
    ):
        return "fitted", max(entry.at for entry in entries if entry is not None)
    for address, held in view.state.holds.items():
        if address.round == found.number and view.home(address.step).rounds == found.step:
            return "waited-for", held.since
    for entry in reversed(view.entries):
        waited = isinstance(view.block(entry.step), Wait) and entry.round == found.number
        if waited and view.home(entry.step).rounds == found.step:
            return "arrived", entry.at
    return "to-order", verdict.at


def _renewals(view: View, open_: set[str]) -> Iterator[Renewal]:
    """Give what the stages of a group want new: fasteners used once, a gasket that was lost."""
    for step in view.plan.steps.values():
        if not isinstance(step.block, Stages):
            continue
        name = step.block.group
        group = view.plan.engine.fasteners[name]
        renew = [f"{step.id}.renew", *(f"{s.id}.renew" for s in step.children["steps"])]
        asked = next((each for each in renew if each in open_), "")
        begun = {*renew, *(s.id for s in step.children["steps"])}
        given = any(address.step in begun for address in view.state.facts)
        single_use = yields(view.scene, step) == "yes"
        if asked or (single_use and not given and step.id in _open_containers(view, open_)):
            lengths: dict[str, int] = {}
            for place in group.places.values():
                if place.length is not None:
                    lengths[echo(place.length)] = lengths.get(echo(place.length), 0) + 1
            yield Renewal(
                what=f"{name} {group.kind}s",
                count=len(group.places),
                detail=tuple(f"{count} x {length}" for length, count in lengths.items()),
                why=_why(view, step.id, single_use=single_use, again=bool(asked)),
                address=asked or step.id,
            )
        yield from _gasket(view, step.id, step.block, open_)


def _open_containers(view: View, open_: set[str]) -> set[str]:
    return {above.id for step in open_ for above in view.plan.above.get(step, ())}


def _why(view: View, step: str, *, single_use: bool, again: bool) -> str:
    used = "torque-to-yield: used once" if single_use else "torque-to-yield ones are used once"
    if not again:
        return used
    inside = {each.id for each in view.plan.steps[step].children["steps"]}
    reasons = [
        record.body["reason"]
        for record in view.standing
        if record.kind == "voided"
        and inside & {address.partition("@")[0] for address in record.body["addresses"]}
    ]
    return f"begun again ({reasons[-1]}); {used}" if reasons else f"broken off; {used}"


def _gasket(view: View, step: str, block: Stages, open_: set[str]) -> Iterator[Renewal]:
    where = f"{step}.gasket"
    answered = next((e for e in view.entries if e.step == where), None)
    if where in open_:
        why = "it was clamped and let go: ask its maker whether it may be clamped again"
    elif answered is not None and answered.value == "renewed" and set(block.gasket) & open_:
        why = "it was clamped and let go, and is renewed"
    else:
        return
    yield Renewal(what=f"{block.group} gasket", count=1, detail=(), why=why, address=where)
