"""The order in which fasteners are tightened when their maker gives none: from the centre outwards.

Common practice; no source gives it for every pattern, so an order made here is marked generated.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Literal

Pattern = Literal["criss-cross", "spiral"]
Spot = tuple[Decimal, Decimal]
"""Along, growing from the front, and across, growing upwards; one unit for all."""


def centre_out(places: Mapping[str, Spot], pattern: Pattern = "criss-cross") -> tuple[str, ...]:
    """Return the keys of the places from the centre outwards.

    A ring holds the columns that lie equally far from the middle of the length, whatever the pitch
    and the number of rows. The nearest ring comes first. Within a ring, criss-cross goes on with
    the fastener farthest from the last; a spiral begins nearest the very centre and goes on with
    the first one met turning clockwise from the last (the front to the left, y upwards), so that
    it goes once round every ring. Where that leaves a choice, the one nearer the front goes first,
    then the one with the smaller y, then the one named first.
    """
    if not places:
        return ()
    # Twice the distance from the centre, so that nothing is divided and rounded.
    along, across = ([spot[axis] for spot in places.values()] for axis in (0, 1))
    middle = min(along) + max(along), min(across) + max(across)
    twice = {key: (2 * x - middle[0], 2 * y - middle[1]) for key, (x, y) in places.items()}
    rings: dict[Decimal, list[str]] = {}
    for key in sorted(twice, key=twice.__getitem__):
        rings.setdefault(abs(twice[key][0]), []).append(key)
    rank = _round_from if pattern == "spiral" else _far_from
    order: list[str] = []
    for ring in sorted(rings):
        left = rings[ring]
        while left:
            last = twice[order[-1]] if order else None
            # min() keeps the first of equals: the one nearer the front, then the lower.
            key = min(left, key=lambda one: rank(last, twice[one]))
            left.remove(key)
            order.append(key)
    return tuple(order)


def removal(order: tuple[str, ...]) -> tuple[str, ...]:
    """Return the order in which fasteners are loosened: the reverse of tightening."""
    return order[::-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderFaults:
    """What keeps an order from naming every place once; all three empty if nothing does."""

    unknown: tuple[int, ...]
    """Where in the order, from 0, stands what is no place."""
    repeated: tuple[int, ...]
    """Where stands a place that stood before."""
    missing: tuple[str, ...]


def order_faults(order: Sequence[str], places: Collection[str]) -> OrderFaults:
    """Check a maker's own order: it names each place once and nothing else."""
    known = [key in places for key in order]
    return OrderFaults(
        unknown=tuple(at for at in range(len(order)) if not known[at]),
        repeated=tuple(at for at, key in enumerate(order) if known[at] and key in order[:at]),
        missing=tuple(key for key in places if key not in order),
    )


def _far_from(last: Spot | None, spot: Spot) -> Fraction:
    if last is None:
        return Fraction(0)
    return -_square(spot[0] - last[0], spot[1] - last[1])


def _round_from(last: Spot | None, spot: Spot) -> Fraction:
    """How far to turn clockwise from the last; at the very centre there is nothing to turn."""
    if last is None:
        return _square(*spot)
    if not any(last) or not any(spot):
        return Fraction(0)
    return (_bearing(last) - _bearing(spot)) % 4 or Fraction(4)


def _square(x: Decimal, y: Decimal) -> Fraction:
    return Fraction(x) ** 2 + Fraction(y) ** 2


def _bearing(spot: Spot) -> Fraction:
    """Measure a direction round the square |x| + |y| = 1, in sides from +x: exact, unlike an angle."""
    x, y = map(Fraction, spot)
    side = y / (abs(x) + abs(y))
    return (2 - side if x < 0 else side) % 4
