"""Oil-filled lifters: whether one that was drawn down may still hold its valve open."""

from decimal import Decimal

from snugset.guide.scene import Scene, age
from snugset.guide.words import took
from snugset.units import Quantity

BLEED = Quantity(Decimal(20), "min")
"""How long oil-filled lifters take to bleed down where no figure is had. Common practice."""


def _figures(scene: Scene) -> tuple[str, str]:
    """Find the figures for state and bleed-down: this crank container's, or the first's."""
    blocks = [scene.crank.block] if scene.crank else []
    blocks += [step.block for step in scene.plan.steps.values() if step.kind in ("crank", "nut")]
    for block in blocks:
        lifter = getattr(block, "lifter", "")
        if lifter:
            return lifter, getattr(block, "bleed", "")
    return "", ""


def filled(scene: Scene) -> bool:
    """Tell whether the lifters went in full of oil."""
    lifter, _ = _figures(scene)
    return bool(lifter) and scene.state.spec(lifter) == "filled"


def left_to_bleed(scene: Scene, place: str = "") -> float:
    """Give the seconds until what was drawn down has bled down; of one bridge, or of all."""
    if not filled(scene):
        return 0
    needed = (scene.length(_figures(scene)[1]) or BLEED).number("s")
    since = [
        age(scene.state, mark.at, scene.now)
        for (what, where), mark in scene.state.condition.marks.items()
        if what == "drawn" and place in ("", where, where.rstrip("IE"))
    ]
    return needed - min(since) if since else 0


def bleeding(scene: Scene) -> str:
    """Say why the crank may not turn yet, empty if it may.

    A filled lifter holds its valve open until it has bled down; turning then can bend pushrods and
    valves.
    """
    left = left_to_bleed(scene)
    if left <= 0:
        return ""
    return (
        f"A filled lifter was drawn down and still holds its valve open: turning now can bend "
        f"pushrods and valves. Wait another {took(left)}, or loosen that bridge."
    )


def on_return(scene: Scene) -> str:
    """Say what a break made of filled lifters that were drawn down; empty for none."""
    marks = scene.state.condition.marks
    drawn = sorted(where for what, where in marks if what == "drawn")
    if not drawn or not filled(scene):
        return ""
    left = left_to_bleed(scene)
    if left > 0:
        return f"Filled lifters at {', '.join(drawn)} bleed down for another {took(left)}"
    early = [str(a) for a, r in scene.state.readings.items() if r.provisional]
    if not early:
        return ""
    return f"The lifters have bled down: read from a fresh line again {', '.join(early[:6])}"
