"""Setting points: where to stop the crank, and which valves or bridges are set there.

Angles are decimal degrees after number one's firing (compression) dead centre, on the 720° scale.
"""

from collections.abc import Collection, Mapping, Sequence
from decimal import Decimal

from snugset.trade.camshaft import THIN, Events, arcs, firing
from snugset.trade.circle import CYCLE, Arc, Number, degrees, from_zero, plain, wrap
from snugset.trade.ring import cover
from snugset.trade.standing import lowest_pistons
from snugset.typed import Literal
from snugset.values import dataclass, replace

Method = Literal["camshaft", "firing-order", "valve-by-valve"]

_BY_EYE = Decimal(10)
"""Half the window of a point that is found by its dead centre or by watching a valve."""
_TYPICAL = Events(ivo=15, ivc=60, evo=60, evc=15, lift="seat")
"""Stands in for a card where valves are watched (common practice)."""
_FOR_THE_MARK = Decimal(5)
"""Degrees of margin given up at most to set number one at the mark where the crank stands."""
_UNSURE = Decimal(30)
"""Half the window where the card is not known."""


class PointsError(ValueError):
    """No setting points can be given."""


class MarginError(PointsError):
    """Some places are not closed for long enough."""

    def __init__(self, message: str, places: tuple[str, ...], margin: Decimal | None) -> None:
        super().__init__(message)
        self.places = places
        """The places with too little."""
        self.margin = margin
        """The widest margin that every place has room for; None if one never surely closes."""


class BridgeError(PointsError):
    """The way asked for cannot be gone with bridged rockers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One setting point."""

    key: str
    """``P1``, ``P2`` … in the order the crank reaches them."""
    places: tuple[str, ...]
    """What is set here, in the order of the closed arcs given; every place at one point only."""
    low: Decimal
    """Start of the window; may be under 0, where the window holds angle 0."""
    high: Decimal
    """End of the window; may be over 720. low ≤ aim ≤ high always."""
    aim: Decimal
    """Where to stop, 0 ≤ aim < 720."""
    margin: Decimal | None
    """At the aim, the least degrees to the end of a closed arc; None without a camshaft card."""
    turn: Decimal
    """Degrees from the point before, in the running direction; for P1 from angle 0."""
    marked: bool
    """Whether the aim is a marked position."""


def setting_points(
    method: Method,
    firing_order: Sequence[int],
    intervals: Sequence[Number],
    *,
    bridged: bool,
    events: Events | None = None,
    marks: Collection[Number] = (),
    margin: Number = THIN,
    prefer_down: bool = False,
    near: Number = 0,
) -> tuple[Point, ...]:
    """Plan the setting points of an engine.

    ``camshaft`` gives the fewest points there are (see `fewest_points`) and needs a card.
    ``firing-order`` sets each cylinder at its own compression dead centre. ``valve-by-valve`` sets
    an intake as its exhaust starts to open and an exhaust as its intake has nearly closed.
    Marks are crank angles on the damper rim, 0 to 360. margin, prefer_down and near concern
    ``camshaft`` only. MarginError, BridgeError or PointsError where a way cannot be gone.
    """
    tops = firing(firing_order, intervals)
    rim = {wrap(degrees(mark) + turn) for mark in marks for turn in (0, 360)}
    closed = arcs(firing_order, intervals, events, bridged=bridged) if events else None
    if method == "camshaft":
        if closed is None:
            raise PointsError(
                "the camshaft's setting points need its four events; "
                "without them set each cylinder at its own compression dead centre"
            )
        return fewest_points(
            closed,
            margin=margin,
            marks=rim,
            tops={place: tops[int(place.rstrip("IE"))] for place in closed} if prefer_down else {},
            near=near,
        )
    if method == "firing-order":
        ends = ("",) if bridged else ("I", "E")
        stops = [(top, tuple(f"{name}{end}" for end in ends)) for name, top in tops.items()]
        return _in_turn(stops, _BY_EYE, rim, closed)
    if bridged:
        raise BridgeError(
            "valve by valve cannot be done with rocker bridges: while one valve is set the bridge "
            "holds its partner, which is open; set each cylinder at its own compression dead centre"
        )
    card = events or _TYPICAL
    stops = [(wrap(top + 180 - degrees(card.evo)), (f"{name}I",)) for name, top in tops.items()]
    stops += [(wrap(top - 180 + degrees(card.ivc)), (f"{name}E",)) for name, top in tops.items()]
    return _in_turn(stops, _BY_EYE if events else _UNSURE, rim, closed)


def _in_turn(
    stops: Sequence[tuple[Decimal, tuple[str, ...]]],
    half: Decimal,
    rim: Collection[Decimal],
    closed: Mapping[str, Arc] | None,
) -> tuple[Point, ...]:
    return _numbered(
        [
            Point(
                key="",
                places=places,
                low=aim - half,
                high=aim + half,
                aim=aim,
                margin=min(closed[place].margin(aim) for place in places) if closed else None,
                turn=aim,
                marked=aim in rim,
            )
            for aim, places in stops
        ]
    )


def fewest_points(
    closed: Mapping[str, Arc],
    *,
    margin: Number = THIN,
    marks: Collection[Number] = (),
    tops: Mapping[str, Decimal] | None = None,
    near: Number = 0,
) -> tuple[Point, ...]:
    """Plan the fewest points at which every place is closed with a margin.

    Provably fewest; among those the widest least margin; then most marked positions (marks are
    angles of the cycle here, 0 to 720). With tops, the firing dead centre of each place, an aim
    that has room moves to where the highest of its pistons is lowest, marked or not: a lifter full
    of oil may hold its valve out at the piston. Marks and pistons count only where the plan's
    least margin stays the widest, or falls short of it by no more than ``near`` degrees. Each
    place goes to the point where its own margin is widest.

    The crank stands at angle 0 to begin with. Where the first place's window holds 0 but its aim
    lies behind, the aim is 0 if 0 is marked and costs no more than 5° of the widest margin, or if
    it costs no more than near. MarginError names the places whose arcs are too short.
    """
    asked, spare = degrees(margin), degrees(near)
    if not closed or asked < 0 or spare < 0:
        raise PointsError("setting points need a place to set and a margin of 0° or more")
    _refuse_short(closed, asked)
    spots = {wrap(degrees(mark)) for mark in marks}
    found = cover(list(closed.values()), asked, marks=spots)
    keep = max(asked, found.margin - spare)
    aims = list(found.points)
    groups = _assigned(closed, aims)
    for _ in closed:
        aims = [
            _settled(closed, places, aim, keep=keep, spots=spots, tops=tops or {})
            for aim, places in zip(aims, groups, strict=True)
        ]
        before, groups = groups, _assigned(closed, aims)
        if groups == before:
            break
    least = max(asked, keep - _FOR_THE_MARK) if Decimal(0) in spots else keep
    begun = _begun(closed, aims, groups, least)
    points = [
        _point(closed, places, aim, asked, spots)
        for aim, places in zip(begun, _assigned(closed, begun), strict=True)
    ]
    return _numbered(points)


def _refuse_short(closed: Mapping[str, Arc], asked: Decimal) -> None:
    never = tuple(place for place, arc in closed.items() if arc.empty)
    short = tuple(place for place, arc in closed.items() if arc.most < asked)
    if never:
        raise MarginError(
            f"{', '.join(never)}: never surely closed by this camshaft card; "
            "check its figures and its checking lift",
            never,
            None,
        )
    if short:
        most = min(arc.most for arc in closed.values())
        raise MarginError(
            f"{', '.join(short)}: not closed long enough for a margin of {plain(asked)}°; "
            f"{most.normalize():f}° would do, or set each cylinder at its own compression "
            "dead centre",
            short,
            most,
        )


def _assigned(closed: Mapping[str, Arc], aims: Sequence[Decimal]) -> list[tuple[str, ...]]:
    """Give each place to the point with the widest margin for it; of equal ones the first."""
    groups: list[list[str]] = [[] for _ in aims]
    for place, arc in closed.items():
        margins = [arc.margin(aim) for aim in aims]
        groups[margins.index(max(margins))].append(place)
    return [tuple(group) for group in groups]


def _span(
    closed: Mapping[str, Arc], places: Sequence[str], aim: Decimal, margin: Decimal
) -> tuple[Decimal, Decimal]:
    """Angles about the aim at which all places have a margin; a whole turn if nothing bounds it."""
    bounded = [closed[place] for place in places if not closed[place].full]
    before = [wrap(aim - arc.low) for arc in bounded]
    after = [arc.length - way for arc, way in zip(bounded, before, strict=True)]
    if not bounded:
        return aim - CYCLE / 2, aim + CYCLE / 2
    return aim - min(before) + margin, aim + min(after) - margin


def _settled(
    closed: Mapping[str, Arc],
    places: Sequence[str],
    aim: Decimal,
    *,
    keep: Decimal,
    spots: Collection[Decimal],
    tops: Mapping[str, Decimal],
) -> Decimal:
    """Move an aim to the best angle that keeps a margin for its places.

    Low pistons come before a mark, and a mark before the widest margin.
    """
    low, high = _span(closed, places, aim, keep)
    middle = (low + high) / 2
    near_by = (middle + from_zero(spot - middle) for spot in sorted(spots))
    marked = [spot for spot in near_by if low <= spot <= high]
    pistons = {tops[place] for place in places if place in tops}
    if pistons:
        return wrap(lowest_pistons(pistons, low, high, marked))
    return wrap(min(marked, key=lambda spot: abs(spot - middle), default=middle))


def _begun(
    closed: Mapping[str, Arc],
    aims: Sequence[Decimal],
    groups: Sequence[Sequence[str]],
    least: Decimal,
) -> list[Decimal]:
    """Aim at angle 0, where the crank stands, for the first place if that is less than a turn on.

    Only where all that point's places have the least margin there.
    """
    home = next(iter(closed))
    index = next(index for index, places in enumerate(groups) if home in places)
    _, high = _span(closed, groups[index], aims[index], least)
    begun = list(aims)
    if aims[index] > CYCLE / 2 and high >= CYCLE:
        begun[index] = Decimal(0)
    return begun


def _point(
    closed: Mapping[str, Arc],
    places: tuple[str, ...],
    aim: Decimal,
    asked: Decimal,
    spots: Collection[Decimal],
) -> Point:
    low, high = _span(closed, places, aim, asked)
    return Point(
        key="",
        places=places,
        low=low,
        high=high,
        aim=aim,
        margin=min(closed[place].margin(aim) for place in places),
        turn=aim,
        marked=aim in spots,
    )


def _numbered(points: Sequence[Point]) -> tuple[Point, ...]:
    ordered = sorted(points, key=lambda point: point.aim)
    before = [Decimal(0), *(point.aim for point in ordered)]
    return tuple(
        replace(point, key=f"P{place}", turn=point.aim - came)
        for place, (point, came) in enumerate(zip(ordered, before, strict=False), start=1)
    )
