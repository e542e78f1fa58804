"""When the valves of an engine are surely closed: from the camshaft card to arcs of the crank.

The cycle is 720° of crank from number one's firing (compression) dead centre.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from decimal import Decimal

from snugset.trade.circle import CYCLE, Arc, Number, degrees, plain, wrap
from snugset.typed import Literal
from snugset.values import dataclass

Lift = Literal["seat", "advertised", "0.050 in"]
"""The checking lift of a camshaft card."""

ALLOWANCES: Mapping[str, Decimal] = {
    "seat": Decimal(0),
    "advertised": Decimal(10),
    "0.050 in": Decimal(35),
}
"""Degrees taken off each end of a closed arc, by checking lift (common practice, cautious)."""

THIN = Decimal(20)
"""A margin under this many degrees is warned about (common practice)."""

_ALIKE = Decimal("0.01")
"""Intervals that differ by less than this many degrees are even: 720/7 cannot be written out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Events:
    """A camshaft card, in degrees of crank; any figure may be negative, meaning the other side.

    ValueError for a figure that is no angle and for an unknown checking lift.
    """

    ivo: Number
    """Intake opens, before top dead centre."""
    ivc: Number
    """Intake closes, after bottom dead centre."""
    evo: Number
    """Exhaust opens, before bottom dead centre."""
    evc: Number
    """Exhaust closes, after top dead centre."""
    lift: Lift
    """The checking lift at which these were taken."""

    def __post_init__(self) -> None:
        for figure in (self.ivo, self.ivc, self.evo, self.evc):
            degrees(figure)
        if self.lift not in ALLOWANCES:
            known = ", ".join(ALLOWANCES)
            raise ValueError(f"“{self.lift}” is no checking lift; give one of {known}")

    @property
    def allowance(self) -> Decimal:
        """Degrees by which the valve may be off its seat outside the card's figures, each end."""
        return ALLOWANCES[self.lift]

    @property
    def intake_duration(self) -> Decimal:
        """Degrees from intake opening to closing, as on the card."""
        return 180 + degrees(self.ivo) + degrees(self.ivc)

    @property
    def exhaust_duration(self) -> Decimal:
        """Degrees from exhaust opening to closing, as on the card."""
        return 180 + degrees(self.evo) + degrees(self.evc)

    @property
    def overlap(self) -> Decimal:
        """Degrees with both valves open, as on the card; negative if there are none."""
        return degrees(self.ivo) + degrees(self.evc)

    @property
    def intake(self) -> Arc:
        """Where the intake is surely closed, from the cylinder's own firing dead centre."""
        shut = Arc(low=degrees(self.ivc) - 180, high=360 - degrees(self.ivo))
        return shut.shrunk(self.allowance)

    @property
    def exhaust(self) -> Arc:
        """Where the exhaust is surely closed, from the cylinder's own firing dead centre."""
        shut = Arc(low=degrees(self.evc) - 360, high=180 - degrees(self.evo))
        return shut.shrunk(self.allowance)

    @property
    def bridge(self) -> Arc:
        """Where both valves are surely closed, about the firing dead centre.

        A card with negative overlap closes both for a moment at the other dead centre too; that
        sliver is left out.
        """
        intake, exhaust = self.intake, self.exhaust
        return Arc(low=max(intake.low, exhaust.low), high=min(intake.high, exhaust.high))


def even_intervals(cylinders: int) -> tuple[Decimal, ...]:
    """Give the firing intervals of an even-fire engine, in degrees."""
    return (degrees(CYCLE / cylinders),) * cylinders


def is_even(intervals: Sequence[Number]) -> bool:
    """Whether all firing intervals are alike (within a hundredth of a degree)."""
    sizes = [degrees(interval) for interval in intervals]
    return max(sizes) - min(sizes) < _ALIKE


def firing(firing_order: Sequence[int], intervals: Sequence[Number]) -> dict[int, Decimal]:
    """Angle of each cylinder's firing dead centre after number one's, 0 to 720, in firing order.

    Each interval is the degrees from that cylinder's firing to the next one's. ValueError unless
    the order names every cylinder from 1 on once and the intervals, one each, sum to 720.
    """
    if sorted(firing_order) != list(range(1, len(firing_order) + 1)) or not firing_order:
        order = "-".join(map(str, firing_order)) or "nothing"
        raise ValueError(f"firing order {order} does not name each cylinder from 1 on once")
    if len(intervals) != len(firing_order):
        raise ValueError(
            f"{len(intervals)} firing intervals for {len(firing_order)} cylinders; give one each"
        )
    sizes = [degrees(interval) for interval in intervals]
    if min(sizes) < 0 or abs(sum(sizes) - CYCLE) > _ALIKE:
        raise ValueError(f"firing intervals sum to {plain(sum(sizes, Decimal(0)))}°, not to 720°")
    start = firing_order.index(1)
    angle, tops = Decimal(0), {}
    for k in range(len(firing_order)):
        place = (start + k) % len(firing_order)
        tops[firing_order[place]] = angle
        angle += sizes[place]
    return tops


def arcs(
    firing_order: Sequence[int], intervals: Sequence[Number], events: Events, *, bridged: bool
) -> dict[str, Arc]:
    """Give the closed arc of every place over the cycle, in firing order.

    Places are bridges, ``1`` ``2`` …, where a cylinder's rockers are bridged (both valves closed),
    else valves, ``1I`` ``1E`` …
    """
    own = {"": events.bridge} if bridged else {"I": events.intake, "E": events.exhaust}
    return {
        f"{cylinder}{valve}": arc.moved(top)
        for cylinder, top in firing(firing_order, intervals).items()
        for valve, arc in own.items()
    }


def closed_at(closed: Mapping[str, Arc], angle: Number, margin: Number = 0) -> tuple[str, ...]:
    """Name the places whose valves are closed at a crank angle with at least this margin."""
    here, least = degrees(angle), degrees(margin)
    return tuple(place for place, arc in closed.items() if arc.margin(here) >= least)


def companions(firing_order: Sequence[int], intervals: Sequence[Number]) -> dict[int, int]:
    """Pair each cylinder with the one whose piston moves with it, a whole turn apart.

    Split the firing order in half and stack it (NAVEDTRA 14264, p. 104). Empty for uneven firing
    and for an odd number of cylinders.
    """
    firing(firing_order, intervals)
    half, odd = divmod(len(firing_order), 2)
    if odd or not is_even(intervals):
        return {}
    turned = [*firing_order[half:], *firing_order[:half]]
    return dict(zip(firing_order, turned, strict=True))


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """One place of somebody's list: set at an angle, with the margin that it has there."""

    angle: Decimal
    place: str
    margin: Decimal
    """Degrees to the nearer end of the closed arc; negative: open by so many degrees."""
    warning: str
    """Empty, or what is wrong, in one sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ListCheck:
    """A whole list judged."""

    claims: tuple[Claim, ...]
    missing: tuple[str, ...]
    """Places of the engine that the list never sets."""
    repeated: tuple[str, ...]
    """Places that the list sets more than once."""


def check_list(
    claimed: Sequence[tuple[Number, Sequence[str]]],
    closed: Mapping[str, Arc],
    *,
    thin: Number = THIN,
) -> ListCheck:
    """Judge a published list, (angle, places) a line, against the closed arcs.

    ValueError for a place that the engine has not.
    """
    claims = []
    for angle, places in claimed:
        for place in places:
            if place not in closed:
                raise ValueError(f"no place {place}; this engine has {', '.join(closed)}")
            margin = closed[place].margin(degrees(angle))
            claims.append(
                Claim(
                    angle=wrap(degrees(angle)),
                    place=place,
                    margin=margin,
                    warning=_warning(place, margin, degrees(thin)),
                )
            )
    times = Counter(claim.place for claim in claims)
    return ListCheck(
        claims=tuple(claims),
        missing=tuple(place for place in closed if place not in times),
        repeated=tuple(place for place in closed if times[place] > 1),
    )


def _warning(place: str, margin: Decimal, thin: Decimal) -> str:
    if margin < 0:
        return f"{place} is {plain(-margin)}° outside its closed arc: it may be open"
    if margin < thin:
        return f"{place} has {plain(margin)}° of margin, under {plain(thin)}°"
    return ""
