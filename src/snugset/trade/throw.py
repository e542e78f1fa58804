"""The piston on its crank: how far it has fallen at an angle, and where its dead centre is."""

import math
from decimal import Decimal

from snugset.trade.circle import from_zero, wrap
from snugset.trade.exact import nearest
from snugset.trade.fault import FigureError
from snugset.units import Quantity
from snugset.values import dataclass

_TURN = Decimal(360)


def fallen(radians: float, ratio: float | None) -> float:
    """Share of its travel that a piston is below top at an angle past top dead centre, 0 to 1.

    s = a(1 − cos θ) + l − √(l² − a² sin² θ), a half the stroke: Heywood, Internal Combustion Engine
    Fundamentals, eq. 2.5 (from memory). ``ratio`` is the connecting rod's length over the stroke;
    without one the connecting rod counts as endless. ValueError for a ratio not over a half.
    """
    swing = (1 - math.cos(radians)) / 2
    if ratio is None:
        return swing
    if not (math.isfinite(ratio) and ratio > 0.5):  # shorter than the crank's throw
        raise ValueError(f"a connecting rod of {ratio} strokes cannot turn; give more than a half")
    return swing + ratio - math.sqrt(ratio**2 - (math.sin(radians) / 2) ** 2)


def travel_at(stroke: Quantity, connecting_rod: Quantity, angle: Quantity) -> Quantity:
    """Piston travel from top dead centre at a crank angle, in the unit of the stroke.

    FigureError (stroke, connecting_rod).
    """
    share = fallen(math.radians(angle.number("deg")), _ratio(stroke, connecting_rod))
    return nearest(round(share * stroke.number(stroke.unit), 9), stroke.unit, 5)


def angle_at(stroke: Quantity, connecting_rod: Quantity, travel: Quantity) -> Quantity:
    """Crank angle, 0 to 180 degrees either way from top, at which the piston has fallen so far.

    The triangle of throw, connecting rod and x = a + l − s: cos θ = (x² + a² − l²)/(2·a·x).
    FigureError (stroke, connecting_rod, travel).
    """
    ratio = _ratio(stroke, connecting_rod)
    share = travel.number("mm") / stroke.number("mm")
    if not 0 <= share <= 1:
        raise FigureError(
            "travel", f"{travel} is not within the stroke of {stroke}; read the dial again"
        )
    x = 0.5 + ratio - share
    cosine = (x * x + 0.25 - ratio * ratio) / x
    return nearest(math.degrees(math.acos(min(1.0, max(-1.0, cosine)))), "deg", 5)


@dataclass(frozen=True, slots=True, kw_only=True)
class DeadCentre:
    """Dead centre from a positive stop touched on both sides of it."""

    reading: Decimal
    """What the wheel shows at dead centre, 0 to 360 degrees."""
    each_way: Decimal
    """Degrees from there to either mark."""


def dead_centre(one: Decimal, other: Decimal) -> DeadCentre:
    """Find dead centre half way between two wheel readings, in degrees, the shorter way round.

    FigureError (stops) for readings that are the same or half a turn apart.
    """
    apart = from_zero(other - one, _TURN)
    if apart == 0 or abs(apart) == _TURN / 2:
        raise FigureError(
            "stops",
            f"{one} and {other} do not tell which way dead centre lies; set the stop so that the"
            " piston meets it less than a quarter turn from top, once each way",
        )
    return DeadCentre(reading=wrap(one + apart / 2, _TURN), each_way=abs(apart) / 2)


def _ratio(stroke: Quantity, connecting_rod: Quantity) -> float:
    if stroke.value <= 0:
        raise FigureError("stroke", f"{stroke} is no stroke; give twice the crank's throw")
    ratio = connecting_rod.number("mm") / stroke.number("mm")
    if ratio <= 0.5:
        raise FigureError(
            "connecting_rod",
            f"{connecting_rod} cannot turn with a stroke of {stroke}; give its length between"
            " centres",
        )
    return ratio
