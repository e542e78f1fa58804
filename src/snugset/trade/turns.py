"""Turns of a rocker's adjuster into travel of the lifter's plunger and lash at the valve."""

from decimal import Decimal

from snugset.trade.exact import nearest
from snugset.trade.fault import FigureError
from snugset.trade.lever import check_ratio
from snugset.typed import Literal
from snugset.units import Quantity
from snugset.values import dataclass

Mount = Literal["pivot", "pushrod-end", "valve-end"]
"""Where the adjuster acts: nut or bolt at the rocker's pivot, or a screw at one of its ends."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Turns:
    """What a turn does, in the pitch's system."""

    turns: Decimal
    angle: Quantity
    plunger: Quantity
    """Travel of the lifter's plunger."""
    lash: Quantity
    """Change of the gap at the valve's tip."""
    per_turn: Quantity
    """Plunger travel for one whole turn."""


def per_turn(pitch: float, mount: Mount, ratio: float) -> tuple[float, float]:
    """Plunger travel and lash for one turn, in the unit of the pitch.

    At the pivot the rocker swings on the closed valve's tip, so the pushrod's end moves
    pitch·(1 + 1/R), and as lash R times that. A screw at the pushrod's end moves the plunger by
    the bare pitch; one at the valve's end moves the lash by it. Derived from the rocker as a lever.
    """
    plunger = {
        "pivot": pitch * (1 + 1 / ratio),
        "pushrod-end": pitch,
        "valve-end": pitch / ratio,
    }[mount]
    return plunger, plunger * ratio


def turns(
    pitch: Quantity,
    *,
    mount: Mount,
    ratio: Decimal,
    turned: Decimal | None = None,
    travel: Quantity | None = None,
) -> Turns:
    """Give travel and lash for so many turns, or the turns for so much plunger travel.

    FigureError (turns, pitch, ratio) unless exactly one of both is given and the rest can be.
    """
    if (turned is None) == (travel is None):
        raise FigureError(
            "turns", "give either the turns or the plunger travel wanted, one of the two"
        )
    if pitch.value <= 0:
        raise FigureError("pitch", f"{pitch} is no pitch; type the distance from thread to thread")
    check_ratio(ratio)
    each, lash_each = per_turn(pitch.number(pitch.unit), mount, float(ratio))
    count = float(turned) if turned is not None else 0.0
    if travel is not None:
        count = travel.number(pitch.unit) / each
    exact = turned if turned is not None else nearest(count, "", 3).value
    return Turns(
        turns=exact,
        angle=nearest(count * 360, "deg", 3),
        plunger=nearest(count * each, pitch.unit, 3),
        lash=nearest(count * lash_each, pitch.unit, 3),
        per_turn=nearest(each, pitch.unit, 3),
    )
