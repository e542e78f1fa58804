"""Crank angles as lengths and readings round the rim of the crankshaft damper."""

from collections.abc import Collection
from decimal import Decimal

from snugset.trade.circle import Number, degrees, from_zero, plain, wrap
from snugset.values import dataclass

_TURN = Decimal(360)
_PI = Decimal("3.141592653589793238462643383")


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A crank angle as it is read at the pointer."""

    mark: Decimal
    """The nearest mark, degrees after number one's dead centre, 0 to 360."""
    past: Decimal
    """Degrees to turn on past that mark in the running direction; negative before it."""

    @property
    def words(self) -> str:
        """Say it: ``58° past the 0° mark``, ``2° before the 120° mark``, ``at the 120° mark``."""
        mark = f"the {plain(self.mark)}° mark"
        if not self.past:
            return f"at {mark}"
        return f"{plain(abs(self.past))}° {'past' if self.past > 0 else 'before'} {mark}"


def distance(diameter: Number, angle: Number) -> Decimal:
    """Length of rim for an angle: π·d·angle/360, in the unit of the diameter.

    To find an angle past a mark, lay this off from the mark **against** the running direction:
    that spot comes to the pointer later. ValueError unless the diameter is above nothing.
    """
    return _PI * _positive(diameter) * degrees(angle) / _TURN


def angle_of(diameter: Number, length: Number) -> Decimal:
    """Angle in degrees for a length of rim in the unit of the diameter; undoes `distance`."""
    return degrees(length) * _TURN / (_PI * _positive(diameter))


def reading(angle: Number, marks: Collection[Number] = ()) -> Reading:
    """Read a crank angle, 0 to 720 or any other, from the nearest mark on the rim.

    Marks are degrees after number one's dead centre; without any, that dead centre is the one.
    Half way between two, the mark already passed counts.
    """
    here = degrees(angle)
    known = sorted({wrap(degrees(mark), _TURN) for mark in marks} or {Decimal(0)})
    ways = [Reading(mark=mark, past=-from_zero(mark - here, _TURN)) for mark in known]
    return min(ways, key=lambda way: (abs(way.past), way.past < 0))


def _positive(diameter: Number) -> Decimal:
    size = diameter if isinstance(diameter, Decimal) else Decimal(str(diameter))
    if not size.is_finite() or size <= 0:
        raise ValueError(f"a damper's diameter of {diameter} is no length; give more than 0")
    return size
