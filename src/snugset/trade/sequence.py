"""The order in which fasteners are tightened when their maker gives none: centre-out."""

from collections.abc import Mapping
from decimal import Decimal


def centre_out(places: Mapping[str, tuple[Decimal, Decimal]]) -> tuple[str, ...]:
    """Return the keys of the places (x along, y across, one unit) from the centre outwards.

    A ring holds the columns that lie equally far from the middle of the length. The nearest ring
    comes first; within a ring the next fastener is the one farthest from the last. Where that
    leaves a choice, the one nearer the front goes first, then the one with the smaller y, then the
    one named first. Common practice; no source gives it for every pattern, so an order made here
    is marked generated.
    """
    if not places:
        return ()
    along = [x for x, _ in places.values()]
    # Twice the distance from the centre, so that nothing is divided and rounded.
    ends = min(along) + max(along)
    rings: dict[Decimal, list[str]] = {}
    for key in sorted(places, key=places.__getitem__):
        rings.setdefault(abs(2 * places[key][0] - ends), []).append(key)
    order: list[str] = []
    for ring in sorted(rings):
        left = rings[ring]
        while left:
            # max() keeps the first of equals: the one nearer the front, then the lower.
            key = max(left, key=lambda k: _apart(places, order[-1], k)) if order else left[0]
            left.remove(key)
            order.append(key)
    return tuple(order)


def removal(order: tuple[str, ...]) -> tuple[str, ...]:
    """Return the order in which fasteners are loosened: the reverse of tightening."""
    return order[::-1]


def _apart(places: Mapping[str, tuple[Decimal, Decimal]], a: str, b: str) -> Decimal:
    """Return the square of the distance between two places."""
    (ax, ay), (bx, by) = places[a], places[b]
    return (ax - bx) ** 2 + (ay - by) ** 2
