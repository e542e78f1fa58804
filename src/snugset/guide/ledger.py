"""The ledger: every place's reading of one figure, this pass beside the one before."""

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

from snugset.files.engine import Engine
from snugset.files.figures import Window
from snugset.guide.address import Address
from snugset.guide.events import Event
from snugset.guide.kinds.read import Measure
from snugset.guide.kinds.rounds import Rounds
from snugset.guide.state import Reading, State
from snugset.plan.places import cylinders, valves
from snugset.plan.plan import Plan
from snugset.trade.pattern import Finding, pattern
from snugset.units import Quantity, rounded
from snugset.values import dataclass, replace

KINDS = ("preload", "lash", "nut")
"""Steps whose readings stand in a ledger, valve by valve."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One place. Quantities are in the unit of the ledger."""

    place: str
    value: Quantity | None = None
    """None where it is not read yet."""
    uncertainty: Quantity | None = None
    verdict: str = ""
    flag: str = ""
    provisional: bool = False
    before: Quantity | None = None
    """What it read in the pass before."""
    predicted: Quantity | None = None
    low: Quantity | None = None
    high: Quantity | None = None
    typed: bool = False
    """It is being typed and not kept yet."""
    odd: bool = False
    """A pattern that was found names it."""

    @property
    def off(self) -> Quantity | None:
        """Give how far it reads off its prediction."""
        if self.value is None or self.predicted is None:
            return None
        return rounded(Quantity(self.value.value - self.predicted.value, self.value.unit))


@dataclass(frozen=True, slots=True, kw_only=True)
class Ledger:
    """All places in firing order."""

    title: str
    lines: tuple[Line, ...]
    window: tuple[Quantity, Quantity] | None
    patterns: tuple[str, ...]
    """What the readings of a whole round have in common, each with what to look at first."""
    limit: str = ""
    """Where there is no window: the limit on one side, in words."""

    @property
    def again(self) -> bool:
        """Tell whether there was a pass before this one."""
        return any(line.before is not None or line.predicted is not None for line in self.lines)


def ledger(
    plan: Plan, state: State, asked: Address | None, coming: Iterable[Event] = ()
) -> Ledger | None:
    """Give the ledger of what is asked, else of what was measured last; None where there is none.

    `coming` is what is being typed: its reading stands in its line, marked as such. A figure that
    is read place by place, as a pushrod's runout, has a ledger of its own.
    """
    alone = _read_ledger(plan, state, asked, coming) if asked is not None else None
    if alone is not None:
        return alone
    steps = {s.id: s for s in plan.steps.values() if s.kind in KINDS}
    step = steps.get(asked.step) if asked else None
    rounds = next((s.block for s in plan.steps.values() if isinstance(s.block, Rounds)), None)
    figure = getattr(step.block, "figure", "") if step else ""
    figure = figure or (rounds.figure if rounds else "")
    figure = figure or next((getattr(s.block, "figure", "") for s in steps.values()), "")
    mine = [id_ for id_, s in steps.items() if getattr(s.block, "figure", "") == figure]
    if not mine:
        return None
    passes: dict[tuple[int, int], dict[str, Reading]] = {}
    for reading in state.readings.values():
        if reading.address.step in mine:
            at = (mine.index(reading.address.step), reading.address.round)
            passes.setdefault(at, {})[reading.address.place] = reading
    now = max(passes, default=(0, 1))
    if step is not None and asked is not None:
        now = (mine.index(step.id), asked.round)
    earlier = max((at for at in passes if at < now), default=None)
    own = steps[mine[now[0]]]
    unit = getattr(own.block, "unit", "thou")
    window = _window(state, getattr(own.block, "window", ""), unit)
    predicted = _predicted(state, now[1])
    live = _live(coming, unit, mine)
    lines = []
    for site in valves(plan.engine):
        key = site.key
        was = passes[earlier].get(key) if earlier else None
        line = replace(
            _line(key, passes.get(now, {}).get(key), unit),
            before=None if was is None else was.value.to(unit),
        )
        if line.predicted is None and key in predicted:
            line = replace(line, predicted=rounded(predicted[key].to(unit)))
        if key in live:
            line = replace(line, **live[key], typed=True)  # type: ignore[arg-type]
        if line.low is None and line.high is None and window is not None:
            line = replace(line, low=window[0], high=window[1])
        lines.append(line)
    found = _found(lines, plan.engine) if rounds is not None else ()
    odd = {place for finding in found for place in finding.places}
    title = f"round {now[1]}" if now[1] else own.id
    return Ledger(
        title=title,
        lines=tuple(replace(line, odd=line.place in odd) for line in lines),
        window=window,
        patterns=tuple(f"{f.words}. Look first: {f.look_first}." for f in found),
    )


def _line(place: str, reading: Reading | None, unit: str) -> Line:
    if reading is None:
        return Line(place=place)
    low, high, predicted = (
        None if each is None else each.to(unit)
        for each in (reading.low, reading.high, reading.predicted)
    )
    return Line(
        place=place,
        value=rounded(reading.value.to(unit)),
        uncertainty=None if reading.uncertainty is None else rounded(reading.uncertainty.to(unit)),
        verdict=reading.verdict,
        flag=reading.flag,
        provisional=reading.provisional,
        predicted=None if predicted is None else rounded(predicted),
        low=low,
        high=high,
    )


def _window(state: State, name: str, unit: str) -> tuple[Quantity, Quantity] | None:
    found = state.spec(name) if name else None
    return (found.low.to(unit), found.high.to(unit)) if isinstance(found, Window) else None


def _predicted(state: State, number: int) -> Mapping[str, Quantity]:
    """Give what was predicted for a round when its pushrods were ordered."""
    return next(
        (
            judged.predicted
            for judged in state.judged.values()
            if judged.outcome == "order" and judged.address.round == number - 1
        ),
        {},
    )


def _read_ledger(
    plan: Plan, state: State, asked: Address, coming: Iterable[Event]
) -> Ledger | None:
    """Give the ledger of a read step that goes over valves or cylinders; None for any other."""
    step = plan.steps.get(asked.step)
    if step is None or not isinstance(step.block, Measure):
        return None
    every = (valves(plan.engine), cylinders(plan.engine))
    sites = next((each for each in every if asked.place in {site.key for site in each}), None)
    if sites is None:
        return None
    block, limit = step.block, ""
    window = _window(state, block.window, block.unit)
    for words, name in (("at least", block.at_least), ("at most", block.at_most)):
        one = state.spec(name) if name and window is None else None
        if isinstance(one, Quantity):
            limit = f"{words} {rounded(one.to(block.unit))}"
    live = _live(coming, block.unit, [step.id])
    lines = []
    for site in sites:
        reading = state.readings.get(Address(step.id, site.key, asked.round))
        line = _line(site.key, reading, block.unit)
        if site.key in live:
            line = replace(line, **live[site.key], typed=True)  # type: ignore[arg-type]
        if line.low is None and line.high is None and window is not None:
            line = replace(line, low=window[0], high=window[1])
        lines.append(line)
    return Ledger(title=step.id, lines=tuple(lines), window=window, patterns=(), limit=limit)


def _live(coming: Iterable[Event], unit: str, steps: Sequence[str]) -> dict[str, dict[str, object]]:
    """Give the readings of these steps among events that are not kept yet, by place."""
    found: dict[str, dict[str, object]] = {}
    for event in coming:
        if event.kind == "reading" and Address.parse(event.body["at"]).step in steps:
            body = event.body
            value = Quantity.from_json(body["value"])
            doubt = body.get("uncertainty")
            found[Address.parse(body["at"]).place] = {
                "value": rounded(value.to(unit)),
                "uncertainty": rounded(Quantity.from_json(doubt).to(unit)) if doubt else None,
                "verdict": body["verdict"],
                "flag": body["flag"],
                "provisional": body["provisional"],
            }
    return found


def _found(lines: Iterable[Line], engine: Engine) -> tuple[Finding, ...]:
    """Find the patterns of a round once every place is measured and kept."""
    read = tuple((n.place, n.value) for n in lines if n.value and n.uncertainty and not n.typed)
    if len(read) < len(valves(engine)):
        return ()
    return _patterns(read, engine)


@lru_cache(maxsize=4)
def _patterns(read: tuple[tuple[str, Quantity], ...], engine: Engine) -> tuple[Finding, ...]:
    return pattern(dict(read), banks=engine.banks or None)
