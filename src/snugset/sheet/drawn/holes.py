"""The map of a group of fasteners, to the scale of the engine's file."""

from collections.abc import Iterator
from itertools import combinations
from math import hypot

from snugset.printable import counted
from snugset.sheet.drawn.scale import nice
from snugset.sheet.drawn.svg import Svg, element, label, line, picture, room
from snugset.sheet.fastened import Fastener, FastenerGroup

WIDTH = 760.0
_SIDE = 44.0
_LARGEST = 15.0
_SMALLEST = 5.0
_TALLEST = 420.0


def holes(name: str, title: str, group: FastenerGroup) -> Svg:
    """Draw every fastener where it is, the front at the left: key, order, wet, blind."""
    unit = group.fasteners[0].x.unit
    at = {each.key: (float(each.x.in_(unit)), float(each.y.in_(unit))) for each in group.fasteners}
    left, low = min(x for x, _ in at.values()), min(y for _, y in at.values())
    wide, high = max(x for x, _ in at.values()) - left, max(y for _, y in at.values()) - low
    scale = min((WIDTH - 2 * _SIDE) / (wide or 1), (_TALLEST - 2 * _SIDE) / (high or 1))
    size = _size(list(at.values()), scale)
    top = _SIDE - 8
    height = top + high * scale + _SIDE + 30
    begin = (WIDTH - wide * scale) / 2
    placed = {
        key: (begin + (x - left) * scale, top + (high - (y - low)) * scale)
        for key, (x, y) in at.items()
    }
    return picture(
        name,
        WIDTH,
        height,
        title,
        _told(group),
        *(
            mark
            for each in group.fasteners
            for mark in _fastener(each, *placed[each.key], size, group.order.index(each.key) + 1)
        ),
        *_rule(height - 14, scale, unit, wide),
    )


def _size(spots: list[tuple[float, float]], scale: float) -> float:
    """Give the radius of the marks: two neighbours never touch."""
    nearest = min(
        (hypot(a[0] - b[0], a[1] - b[1]) for a, b in combinations(spots, 2)), default=100.0
    )
    return max(_SMALLEST, min(_LARGEST, nearest * scale * 0.36))


def hole_of(fastener: Fastener) -> str:
    """Give the hole as it was found, else as the map has it: ``wet through``."""
    found = fastener.hole
    return found.value if found is not None and found.outcome == "done" else fastener.mapped


def _fastener(fastener: Fastener, x: float, y: float, size: float, nth: int) -> Iterator[Svg]:
    wet, blind = "wet" in hole_of(fastener), "blind" in hole_of(fastener)
    if wet:
        yield element("circle", cx=x, cy=y, r=size + 4, class_="wet")
    yield element("circle", cx=x, cy=y, r=size, class_="hole")
    if blind:
        yield line(x - size, y + size + 3, x + size, y + size + 3, "blind")
    fits = room(fastener.key) < 2 * size
    yield label(x, y + 4 if fits else y + size + 16, fastener.key, "label strong")
    yield label(x + size + 2, y - size + 1, str(nth), "small", "start")


def _rule(y: float, scale: float, unit: str, wide: float) -> Iterator[Svg]:
    """Draw the scale, and which way the front is."""
    yield label(8, y + 4, "◂ front", "small", "start")
    whole = [each for each in nice(0, wide or 1, 4) if each > 0]
    length = whole[0] if whole else 1.0
    right = WIDTH - 12
    left = right - length * scale
    for x in (left, right):
        yield line(x, y - 4, x, y + 4, "axis")
    yield line(left, y, right, y, "axis")
    yield label(left - 6, y + 4, f"{length:g} {unit}", "small", "end")


def _told(group: FastenerGroup) -> str:
    wet = [each.key for each in group.fasteners if "wet" in hole_of(each)]
    blind = [each.key for each in group.fasteners if "blind" in hole_of(each)]
    order = ", ".join(group.order)
    return (
        f"{counted(len(group.fasteners), group.kind)} to scale, the front at the left. The number "
        f"beside each is its turn: {order}. A second ring is a wet hole: "
        f"{', '.join(wet) or 'none'}. A bar below is a blind hole: {', '.join(blind) or 'none'}."
    )
