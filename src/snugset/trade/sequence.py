"""The order in which fasteners are tightened when their maker gives none: from the centre outwards.

Common practice; no source gives it for every pattern, so an order made here is marked generated.
"""

from collections.abc import Collection, Mapping, Sequence
from decimal import Decimal

from snugset.trade.exact import decimals
from snugset.typed import TYPE_CHECKING, Literal
from snugset.values import dataclass

if TYPE_CHECKING:
    from fractions import Fraction

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
    twice = _from_centre(places)
    rings: dict[int, list[str]] = {}
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
    first: dict[str, int] = {}
    for at, key in enumerate(order):
        first.setdefault(key, at)
    return OrderFaults(
        unknown=tuple(at for at in range(len(order)) if not known[at]),
        repeated=tuple(at for at, key in enumerate(order) if known[at] and first[key] < at),
        missing=tuple(key for key in places if key not in first),
    )


_Way = tuple[int, int]


def _from_centre(places: Mapping[str, Spot]) -> dict[str, _Way]:
    """Give twice the way from the centre to each place, in whole numbers: nothing is rounded."""
    finest = max(decimals(part) for spot in places.values() for part in spot)
    whole = {key: [int(part.scaleb(finest)) for part in spot] for key, spot in places.items()}
    x0, y0 = (min(parts) + max(parts) for parts in zip(*whole.values(), strict=True))
    return {key: (2 * x - x0, 2 * y - y0) for key, (x, y) in whole.items()}


def _far_from(last: _Way | None, way: _Way) -> int:
    return -_square(way[0] - last[0], way[1] - last[1]) if last else 0


def _round_from(last: _Way | None, way: _Way) -> "int | Fraction":
    """How far to turn clockwise from the last; at the very centre there is nothing to turn."""
    if last is None:
        return _square(*way)
    if not any(last) or not any(way):
        return 0
    return (_bearing(last) - _bearing(way)) % 4 or 4


def _square(x: int, y: int) -> int:
    return x * x + y * y


def _bearing(way: _Way) -> "Fraction":
    """Measure a direction round the square |x| + |y| = 1, in sides from +x on: exact."""
    from fractions import Fraction  # noqa: PLC0415 - for a spiral only

    x, y = way
    side = Fraction(y, abs(x) + abs(y))
    return 2 - side if x < 0 else side
