"""Readings judged anew, because what they were judged by was given again."""

from collections.abc import Callable

from snugset.files.steps import Step
from snugset.guide.events import Body
from snugset.guide.kinds import lash, read
from snugset.guide.kinds.gap import window_of
from snugset.guide.kinds.nut import Nut
from snugset.guide.ruling import Ruling
from snugset.guide.scene import Scene
from snugset.guide.state import Reading
from snugset.plan.places import valves
from snugset.trade.preload import SATURATION
from snugset.trade.verdict import Verdict, decide
from snugset.units import Quantity

Limits = tuple[Quantity | None, Quantity | None]
_STANDS = (Verdict.IN, Verdict.INSIDE, Verdict.NO_LIMIT)


def judge_again(
    step: Step,
    scene: Scene,
    new: Scene,
    ruling: Ruling,
    limits: Callable[[Step, Scene], Limits],
) -> None:
    """Judge a step's readings by its limits in the new scene; those outside are open again."""
    sites = {site.key: site for site in valves(scene.plan.engine)}
    opened, judged = [], 0
    for reading in [r for a, r in scene.state.readings.items() if a.step == step.id]:
        here = new.at(site=sites.get(reading.address.place), round=reading.address.round)
        low, high = limits(step, here)
        if (low, high) == (reading.low, reading.high) and not isinstance(step.block, Nut):
            continue
        doubt = reading.uncertainty or Quantity(reading.value.value * 0, reading.value.unit)
        verdict = decide(reading.value, doubt, low, high)
        if isinstance(step.block, Nut):
            verdict = saturated(reading.value, new.length(step.block.travel)) or verdict
        judged += 1
        if verdict in _STANDS:
            ruling.add("rejudged", rejudged(reading, str(verdict), low, high))
        else:
            opened.append(str(reading.address))
    if opened:
        reason = "it is outside by the figure that was given again"
        ruling.add("voided", {"addresses": opened, "reason": reason, "effects": []})
        ruling.said.append(f"Outside by the new figure, and open again: {', '.join(opened)}.")
    elif judged:
        ruling.said.append(f"{step.id}: {judged} judged by the new figure; all stand.")


def rejudged(reading: Reading, verdict: str, low: Quantity | None, high: Quantity | None) -> Body:
    """Make the body of the event that gives a reading another verdict."""
    return {
        "at": str(reading.address),
        "verdict": verdict,
        "low": None if low is None else low.to_json(),
        "high": None if high is None else high.to_json(),
    }


def saturated(value: Quantity, travel: Quantity | None) -> Verdict | None:
    """Tell that a plunger's travel is at its end, so that it measures nothing."""
    if travel is None or value.in_("thou") < travel.in_("thou") - SATURATION.in_("thou"):
        return None
    return Verdict.BOTTOMED


def lash_limits(step: Step, scene: Scene) -> Limits:
    """Give the limits of a lash."""
    if not isinstance(step.block, lash.Lash):
        raise TypeError(step.kind)
    return lash.limits(scene, step.block)


def measure_limits(step: Step, scene: Scene) -> Limits:
    """Give the limits of a plain reading."""
    if not isinstance(step.block, read.Measure):
        raise TypeError(step.kind)
    return read.limits(scene, step.block)


def nut_limits(step: Step, scene: Scene) -> Limits:
    """Give the window of a preload that nuts make."""
    if not isinstance(step.block, Nut):
        raise TypeError(step.kind)
    return window_of(scene, step.block.window) or (None, None)
