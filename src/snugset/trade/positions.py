"""The two-position list: number one's firing dead centre, and one turn on."""

from collections.abc import Collection, Mapping
from decimal import Decimal

from snugset.trade.camshaft import THIN
from snugset.trade.circle import Arc, Number, degrees, plain, wrap
from snugset.trade.points import MarginError, Point

_STOPS = (Decimal(0), Decimal(360))


def two_positions(
    closed: Mapping[str, Arc], *, margin: Number = THIN, marks: Collection[Number] = ()
) -> tuple[Point, ...]:
    """Give the two positions, each place at the one where it has the wider margin.

    MarginError where a place has less than `margin` at both: then the list is not to be trusted.
    """
    least = degrees(margin)
    found: dict[Decimal, list[str]] = {stop: [] for stop in _STOPS}
    short: dict[str, Decimal] = {}
    for place, arc in closed.items():
        best = max(_STOPS, key=arc.margin)
        found[best].append(place)
        if arc.empty or arc.margin(best) < least:
            short[place] = arc.margin(best)
    if short:
        place = min(short, key=short.__getitem__)
        raise MarginError(
            f"{place} has {plain(short[place])}° of margin in two positions, under {plain(least)}°",
            tuple(short),
            short[place],
        )
    rim = {wrap(degrees(mark) + turn) for mark in marks for turn in _STOPS} | {Decimal(0)}
    points = [
        _point(number, aim, tuple(places), closed, least, marked=aim in rim or not marks)
        for number, (aim, places) in enumerate(
            ((aim, places) for aim, places in found.items() if places), 1
        )
    ]
    return tuple(points)


def _point(
    number: int,
    aim: Decimal,
    places: tuple[str, ...],
    closed: Mapping[str, Arc],
    least: Decimal,
    *,
    marked: bool,
) -> Point:
    before = min(wrap(aim - closed[place].low) for place in places) - least
    after = min(closed[p].length - wrap(aim - closed[p].low) for p in places) - least
    return Point(
        key=f"P{number}",
        places=places,
        low=aim - before,
        high=aim + after,
        aim=aim,
        margin=min(closed[place].margin(aim) for place in places),
        turn=aim if number == 1 else Decimal(360),
        marked=marked,
    )
