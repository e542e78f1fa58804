"""What a build has of what a calculator asks: specs, readings, the engine; each with its origin."""

from collections.abc import Iterator, Mapping, Sequence

from snugset.files.figures import SpecValue, Window
from snugset.files.known import known
from snugset.files.values import Step as CatalogueStep
from snugset.guide.prompt import Prompt
from snugset.guide.state import Reading, State
from snugset.plan.plan import Plan
from snugset.trade.calculators import CALCULATORS
from snugset.units import Quantity
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A text for one input, and where it comes from."""

    text: str
    origin: str


_PRELOAD = ("preload", "judge")
_TORQUE = ("tighten", "stages", "torque-to", "torque")
_GAP = {"window": "window", "target": "target", "travel": "travel"}
_ORDER = {"tolerance": "tolerance", "most": "most", "length": "pushrod"}
_ROLES: Mapping[str, tuple[tuple[str, ...], Mapping[str, str]]] = {
    "preload": (
        _PRELOAD,
        {**_GAP, "repeatability": "repeatability", "leaf_tolerance": "leaf", "lifter": "lifter"},
    ),
    "pushrods": (_PRELOAD, {**_GAP, **_ORDER, "step": "catalogue", "lengths": "catalogue"}),
    "place": (_PRELOAD, {**_GAP, "length": "pushrod"}),
    "reread": (_PRELOAD, {"tolerance": "tolerance"}),
    "turns": (_PRELOAD, {"lifter_travel": "travel", "travel": "target"}),
    "collapsed": (_PRELOAD, {"travel": "travel", "window": "window"}),
    "stack": (_PRELOAD, {"leaves": "leaves", "want": "target"}),
    "clamp": (
        _TORQUE,
        {"torque": "torque", "thread": "thread", "k": "nut_factor", "scatter": "scatter"},
    ),
    "wrench": (_TORQUE, {"torque": "torque", "range": "wrench"}),
    "valves": (("crank",), {"camshaft": "events", "margin": "margin"}),
    "cover": (
        ("clay",),
        {
            "under": "under",
            "gasket_old": "gasket_old",
            "gasket_new": "gasket_new",
            "crush": "crush",
            "want": "at_least",
            "uncertainty": "doubt_figure",
        },
    ),
}
"""By calculator: the kinds of steps that name its figures, and under what field each input does."""
_TORQUES = ("stages", "figure", "setting")
"""Fields of a block that name a torque."""
_LAST: Mapping[str, str] = {
    "convert": "value",
    "decide": "value",
    "collapsed": "scratch",
    "shift": "before",
}
"""The input that takes the newest reading."""
_EVERY: Mapping[str, str] = {
    "pushrods": "readings",
    "place": "readings",
    "pattern": "readings",
    "reread": "after",
}
"""The input that takes the readings of a whole round."""
_MEASURED = ("in", "inside", "outside", "low", "high", "no-limit")


def offers(plan: Plan, state: State, asked: Prompt | None, name: str) -> dict[str, Offer]:
    """Give by key what the build has for a calculator; what it has not is left out.

    What the prompt has bound comes first, then the spec sheet, the readings, the engine.
    """
    found: dict[str, Offer] = {}
    every = (
        *_bound(asked, name),
        *_specs(plan, state, asked, name),
        *_readings(plan, state, name),
        *_engine(plan),
        *_crank(state, name),
    )
    keys = {one.key for one in CALCULATORS[name].inputs}
    for key, offer in every:
        if key in keys:
            found.setdefault(key, offer)
    return found


def as_text(value: SpecValue) -> str:
    """Write a figure as an input, or a spec sheet file, reads it; empty where it is not had."""
    match value:
        case None:
            return ""
        case Window():
            return f"{value.low}..{value.high}"
        case tuple():
            return ", ".join(_bare_before_last(value))
        case CatalogueStep():
            return str(value.quantity)
    return str(value)


def _bare_before_last(values: Sequence[Quantity]) -> list[str]:
    """Write figures of one unit with the unit after the last alone, which holds for all."""
    if len({one.unit for one in values}) > 1:
        return [str(one) for one in values]
    return [*(f"{one.value:f}" for one in values[:-1]), *map(str, values[-1:])]


def _fits(key: str, value: SpecValue) -> bool:
    """Tell whether a catalogue is a step or a list, as the input wants it."""
    if key in ("step", "lengths"):
        return isinstance(value, CatalogueStep if key == "step" else tuple)
    return True


def _bound(asked: Prompt | None, name: str) -> Iterator[tuple[str, Offer]]:
    if asked is not None and asked.calculator == name:
        for key, text in asked.inputs.items():
            yield key, Offer(text=text, origin=f"the step {asked.address}")


def _specs(
    plan: Plan, state: State, asked: Prompt | None, name: str
) -> Iterator[tuple[str, Offer]]:
    kinds, roles = _ROLES.get(name, ((), {}))
    here = asked.address.step if asked else ""
    near = [plan.steps[here], *reversed(plan.above.get(here, ()))] if here in plan.steps else []
    # A clay step that names no crush is of a head, not of a cover.
    blocks = [
        step.block
        for step in (*near, *plan.steps.values())
        if step.kind in kinds and getattr(step.block, "crush", None) != ""
    ]
    for key, field in roles.items():
        fields = _TORQUES if field == "torque" else (field,)
        names = (getattr(block, each, "") for block in blocks for each in fields)
        for figure in filter(None, names):
            value = state.spec(figure)
            if value is None or not _fits(key, value):
                continue
            stage = ""
            if field == "torque" and isinstance(value, tuple):
                value, stage = value[-1], ", its last stage"
            have = state.specs.get(figure)
            practice = " (not had: common practice)" if have is None or not have.had else ""
            origin = f"{figure} on the spec sheet{stage}{practice}"
            yield key, Offer(text=as_text(value), origin=origin)
            break


def _readings(plan: Plan, state: State, name: str) -> Iterator[tuple[str, Offer]]:
    newest = max(
        state.readings.values(),
        key=lambda one: state.facts[one.address].sequence if one.address in state.facts else 0,
        default=None,
    )
    if name in _LAST and newest is not None:
        origin = f"the reading at {newest.address}"
        if name in ("convert", "decide") or _is_preload(plan, newest):
            yield _LAST[name], Offer(text=str(newest.value), origin=origin)
            if newest.uncertainty is not None and name != "collapsed":
                yield "uncertainty", Offer(text=str(newest.uncertainty), origin=origin)
        if name == "decide":
            yield from _limits(newest, origin)
    if name in _EVERY:
        rounds = _rounds(plan, state)
        if rounds:
            number, readings = max(rounds.items())
            yield _EVERY[name], _each(readings, number)
            if name == "reread":
                if number - 1 in rounds:
                    yield "before", _each(rounds[number - 1], number - 1)
                yield from _widest(readings, number)
            else:
                doubts = {r.address.place: r.uncertainty for r in readings if r.uncertainty}
                origin = f"the readings of round {number}"
                yield "uncertainty", Offer(text=_by_place(doubts), origin=origin)


def _limits(newest: Reading, origin: str) -> Iterator[tuple[str, Offer]]:
    low, high = newest.low, newest.high
    if low is not None and high is not None:
        yield "window", Offer(text=f"{low}..{high}", origin=origin)
    elif low is not None:
        yield "low", Offer(text=str(low), origin=origin)
    elif high is not None:
        yield "high", Offer(text=str(high), origin=origin)


def _is_preload(plan: Plan, reading: Reading) -> bool:
    step = plan.steps.get(reading.address.step)
    return step is not None and step.kind == "preload"


def _rounds(plan: Plan, state: State) -> dict[int, list[Reading]]:
    """Give by round the preload readings that are measurements, with their doubt."""
    found: dict[int, list[Reading]] = {}
    for reading in state.readings.values():
        if _is_preload(plan, reading) and reading.verdict in _MEASURED and reading.uncertainty:
            found.setdefault(reading.address.round, []).append(reading)
    return found


def _each(readings: list[Reading], number: int) -> Offer:
    values = {reading.address.place: reading.value for reading in readings}
    return Offer(text=_by_place(values), origin=f"the readings of round {number}")


def _by_place(values: Mapping[str, Quantity]) -> str:
    figures = _bare_before_last(list(values.values()))
    return " ".join(f"{place}={one}" for place, one in zip(values, figures, strict=True))


def _widest(readings: list[Reading], number: int) -> Iterator[tuple[str, Offer]]:
    doubts = [reading.uncertainty for reading in readings if reading.uncertainty]
    if doubts:
        widest = max(doubts, key=lambda one: one.in_("thou"))
        yield "uncertainty", Offer(text=str(widest), origin=f"the widest U of round {number}")


def _engine(plan: Plan) -> Iterator[tuple[str, Offer]]:
    engine = plan.engine
    own = f"the engine file, {engine.name}"
    texts = {
        **known(engine),
        "ratio": f"{engine.ratio}",
        "stroke": as_text(engine.stroke),
        "connecting_rod": as_text(engine.connecting_rod),
        "diameter": as_text(engine.damper),
        "banks": " ".join(
            f"{bank}={','.join(map(str, cylinders))}" for bank, cylinders in engine.banks.items()
        ),
    }
    for key, text in texts.items():
        if text:
            yield key, Offer(text=text, origin=own)


def _crank(state: State, name: str) -> Iterator[tuple[str, Offer]]:
    crank = state.condition.crank
    if name == "valves" and crank is not None:
        yield "angle", Offer(text=f"{crank.normalize():f} deg", origin="where the crank stands")
