"""A limit given again: readings are judged by it anew, and open where they no longer stand."""

from collections.abc import Iterable

from snugset.files.steps import Step
from snugset.guide.events import Body
from snugset.guide.guards import SETTLED
from snugset.guide.kinds.gap import Gap, window_of
from snugset.guide.kinds.lash import Lash, span
from snugset.guide.kinds.nut import Nut
from snugset.guide.kinds.read import Measure, limits
from snugset.guide.kinds.staging import voiding
from snugset.guide.ruling import Ruling
from snugset.guide.scene import Scene
from snugset.guide.state import Reading
from snugset.plan.places import valves
from snugset.trade.preload import SATURATION
from snugset.trade.verdict import decide
from snugset.units import Quantity

Limits = tuple[Quantity | None, Quantity | None]


def _of(step: Step, scene: Scene) -> list[Reading]:
    return [r for a, r in scene.state.readings.items() if a.step == step.id]


def _open(readings: Iterable[Reading], why: str, ruling: Ruling) -> None:
    found = list(readings)
    if found:
        ruling.add("voided", voiding(ruling.address, (r.address for r in found), why))
        ruling.said.append(f"To be read again, {why}: {', '.join(str(r.address) for r in found)}.")


def _verdict(reading: Reading, low: Quantity | None, high: Quantity | None) -> str:
    doubt = reading.uncertainty or Quantity(reading.value.value * 0, reading.value.unit)
    return str(decide(reading.value, doubt, low, high))


def _rejudged(reading: Reading, low: Quantity | None, high: Quantity | None) -> Body:
    return {
        "at": str(reading.address),
        "verdict": _verdict(reading, low, high),
        "low": None if low is None else low.to_json(),
        "high": None if high is None else high.to_json(),
    }


def _judge(pairs: Iterable[tuple[Reading, Limits]], ruling: Ruling) -> None:
    """Judge readings by new limits; open those that would have been stopped."""
    wrong, judged = [], 0
    for reading, (low, high) in pairs:
        if (reading.low, reading.high) == (low, high):
            continue
        if _verdict(reading, low, high) in SETTLED:
            ruling.add("rejudged", _rejudged(reading, low, high))
            judged += 1
        else:
            wrong.append(reading)
    if judged:
        ruling.said.append(f"Readings judged by the new figure, and standing: {judged}.")
    _open(wrong, "they do not stand by the new figure", ruling)


def measure(step: Step, scene: Scene, ruling: Ruling) -> None:
    """Judge the readings of a read step by its new limit."""
    if isinstance(step.block, Measure):
        new = limits(scene, step.block)
        _judge(((reading, new) for reading in _of(step, scene)), ruling)


def lash(step: Step, scene: Scene, ruling: Ruling) -> None:
    """Judge each valve's lash by the setting that it has now."""
    block = step.block
    if not isinstance(block, Lash):
        raise TypeError(step.kind)
    at = {site.key: scene.at(site=site) for site in valves(scene.plan.engine)}
    found = [(r, at[r.address.place]) for r in _of(step, scene) if r.address.place in at]
    _judge(((reading, span(here, block)) for reading, here in found), ruling)


def nut(step: Step, scene: Scene, ruling: Ruling) -> None:
    """Open nuts that were turned by another figure."""
    _open(_of(step, scene), "the turns are others now", ruling)


def nut_limits(step: Step, scene: Scene, ruling: Ruling) -> None:
    """Judge what nuts made of the plungers by the new window and travel."""
    block = step.block
    if not isinstance(block, Nut):
        raise TypeError(step.kind)
    low, high = window_of(scene, block.window) or (None, None)
    bottomed = _bottomed(_of(step, scene), scene.length(block.travel))
    _open(bottomed, "they reach the end of the lifter's travel", ruling)
    _judge(((r, (low, high)) for r in _of(step, scene) if r not in bottomed), ruling)


def _bottomed(readings: Iterable[Reading], whole: Quantity | None) -> list[Reading]:
    if whole is None:
        return []
    most = whole.in_("thou") - SATURATION.in_("thou")
    return [reading for reading in readings if reading.value.in_("thou") >= most]


def clay(step: Step, scene: Scene, ruling: Ruling) -> None:
    """Ask for the clay again: the clearance was worked out and judged with another figure."""
    read = [r.address for r in _of(step, scene)]
    if read:
        why = "a figure it was worked out with was given again"
        ruling.add("voided", voiding(ruling.address, read, why))
        ruling.said.append(f"{step.id} is to be worked out again: type the clay once more.")


def _last_round(block: Gap, scene: Scene) -> tuple[Reading, ...]:
    readings = scene.readings(block.figure)
    number = max((r.address.round for r in readings), default=0)
    return tuple(r for r in readings if r.address.round == number)


def travel(step: Step, scene: Scene, ruling: Ruling) -> None:
    """Open readings of the last round that are no measurement by the travel given now."""
    if isinstance(step.block, Gap):
        found = _bottomed(_last_round(step.block, scene), scene.length(step.block.travel))
        _open(found, "they reach the end of the lifter's travel", ruling)


def lifter(step: Step, scene: Scene, ruling: Ruling) -> None:
    """Open the last round where it was read as dry and the lifters are filled."""
    if isinstance(step.block, Gap) and scene.state.spec(step.block.lifter) == "filled":
        _open(
            _last_round(step.block, scene), "the lifters are filled, and were read as dry", ruling
        )


def window(step: Step, scene: Scene, ruling: Ruling) -> None:
    """Judge the readings of the last round by the new window; its acceptance does not stand."""
    if not isinstance(step.block, Gap):
        raise TypeError(step.kind)
    low, high = window_of(scene, step.block.window) or (None, None)
    readings = _last_round(step.block, scene)
    if not readings:
        return
    number = readings[0].address.round
    for reading in readings:
        if reading.uncertainty is not None:
            ruling.add("rejudged", _rejudged(reading, low, high))
    ruling.said.append(f"Round {number} is judged by the new window.")
    judged = [
        a for a, j in scene.state.judged.items() if a.round == number and j.outcome == "accept"
    ]
    if judged:
        ruling.add("voided", voiding(ruling.address, judged, "the window was given again"))
