"""The crank over two turns: where the valves of each cylinder are closed, and the points used."""

from collections.abc import Iterator
from decimal import Decimal

from snugset.sheet.drawn.scale import Scale
from snugset.sheet.drawn.svg import Svg, box, element, label, line, picture
from snugset.sheet.phrases import listed
from snugset.sheet.points import PointRow, Points, Span
from snugset.trade.circle import wrap

WIDTH = 760.0
LEFT, RIGHT, TOP = 92.0, 18.0, 56.0
_ROW = 18.0
_BAR = 9.0
_CYCLE = 720
_ALONG = Scale((0, _CYCLE), (LEFT, WIDTH - RIGHT))


def crank(name: str, title: str, points: Points) -> Svg:
    """Draw a row for each place in firing order over 720° of crank from number one firing."""
    rows = _rows(points)
    height = TOP + _ROW * len(rows) + 26
    return picture(
        name,
        WIDTH,
        height,
        title,
        _told(points),
        *_degrees(height - 26),
        *(mark for at, place in enumerate(rows) for mark in _row(points, place, at)),
        *(mark for point in points.points for mark in _point(point, rows)),
    )


def _rows(points: Points) -> tuple[str, ...]:
    """Name the rows: what the points set, in firing order."""
    keys = {key for point in points.points for key in point.places}
    order = []
    for top in points.tops:
        order += [f"{top.cylinder}", f"{top.cylinder}I", f"{top.cylinder}E"]
    known = {span.place for span in points.closed}
    return tuple(key for key in order if key in keys or key in known)


def _degrees(below: float) -> Iterator[Svg]:
    for angle in range(0, _CYCLE + 1, 90):
        x, whole = _ALONG(angle), angle % 180 == 0
        yield line(x, TOP - 6, x, below, "grid" if whole else "grid fine")
        if whole:
            yield label(x, below + 16, f"{angle}°", "small")


def _row(points: Points, place: str, at: int) -> Iterator[Svg]:
    middle = TOP + _ROW * (at + 0.5)
    yield label(LEFT - 10, middle + 4, _named(points.over, place), anchor="end")
    yield line(LEFT, middle, WIDTH - RIGHT, middle, "open")
    for span in points.closed:
        if span.place == place:
            for low, high in _pieces(span):
                x = _ALONG(low)
                yield box(x, middle - _BAR / 2, _ALONG(high) - x, _BAR, "closed")
    for top in points.tops:
        if str(top.cylinder) == place.rstrip("IE"):
            x = _ALONG(float(wrap(top.angle.value)))
            yield line(x, middle - _BAR / 2 - 2, x, middle + _BAR / 2 + 2, "top")


def _named(over: str, place: str) -> str:
    if place[-1] in "IE":
        return f"{place[:-1]} {'intake' if place[-1] == 'I' else 'exhaust'}"
    return f"{over.removesuffix('s')} {place}"


def _pieces(span: Span) -> Iterator[tuple[float, float]]:
    """Cut a span where the cycle begins anew."""
    low = wrap(span.low.value)
    high = low + min(span.high.value - span.low.value, Decimal(_CYCLE))
    yield float(low), float(min(high, Decimal(_CYCLE)))
    if high > _CYCLE:
        yield 0.0, float(high - _CYCLE)


def _point(point: PointRow, rows: tuple[str, ...]) -> Iterator[Svg]:
    x = _ALONG(float(wrap(point.aim.value)))
    window = Span(place="", low=point.low, high=point.high)
    for low, high in _pieces(window):
        yield box(_ALONG(low), TOP - 20, _ALONG(high) - _ALONG(low), 6, "reach")
    yield line(x, TOP - 24, x, TOP + _ROW * len(rows), "aim")
    yield label(x, TOP - 40, point.key, "label strong")
    yield label(x, TOP - 28, f"{point.aim.value.normalize():f}°", "small")
    for key in point.places:
        if key in rows:
            middle = TOP + _ROW * (rows.index(key) + 0.5)
            corner = f"M{x:.1f} {middle - 6:.1f}l6 6l-6 6l-6 -6z"
            yield element("path", d=corner, class_="mark")


def _told(points: Points) -> str:
    told = [
        f"{each.key} at {each.aim.value.normalize():f}° sets {listed(each.places)}"
        for each in points.points
    ]
    spans = "Bars are where the valves are closed by the camshaft card. " if points.closed else ""
    return (
        f"{spans}Short strokes are the cylinders' firing dead centres, upright lines the setting "
        f"points, lozenges what is set there: {'; '.join(told)}."
    )
