"""What the readings have in common: look for the one cause before ordering against its effects.

A cause shared by many places is looked for first and taken out before single places are judged, so
that a slope is one finding and not six outliers. It must also stand when any one cylinder is left
out: a bad pair at the end of a head is no slope.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from decimal import Decimal
from itertools import combinations

from snugset.trade.exact import median
from snugset.trade.sites import Site, sites
from snugset.typed import Literal
from snugset.units import Quantity, rounded
from snugset.values import dataclass

Kind = Literal["slope", "bank", "intake-exhaust", "bridge", "outlier"]

OUTLIER = Decimal(8)
"""Thou off the median, or three times the median deviation if more. Common practice."""
SLOPE = Decimal(10)
"""Thou from one end of a head to the other. Common practice."""
OFFSET = Decimal(8)
"""Thou between banks, or between intake and exhaust. Common practice."""

LOOK_FIRST: Mapping[Kind, str] = {
    "slope": "head or deck machined out of parallel: measure the head's thickness at both ends",
    "bank": "that side's gasket, then how much its head was milled",
    "intake-exhaust": "valve stem lengths, then two pushrod lengths in one set",
    "bridge": "the bridge not drawn down, or dirt under it",
    "outlier": "that pushrod bent, wrong or not seated; then the valve tip's height; then the lobe",
}
"""What to look at first, by kind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing that the readings show."""

    kind: Kind
    places: tuple[str, ...]
    size: Quantity
    """How much, in the unit of the readings; the sign says which way, as the words do."""
    words: str

    @property
    def look_first(self) -> str:
        """Where to look before anything is ordered."""
        return LOOK_FIRST[self.kind]


def pattern(
    readings: Mapping[str, Quantity], *, banks: Mapping[str, Sequence[int]] | None = None
) -> tuple[Finding, ...]:
    """Find what stands out in readings by place (1I, 1E, 2I …).

    ``banks`` lists each bank's cylinders from the front; without it all stand in one row in the
    order of their numbers. FigureError (readings, banks) for places that are none.
    """
    search = _Search(readings, sites(readings, banks))
    search.slopes()
    search.intake_exhaust()
    search.banks()
    search.single_places()
    order = list(LOOK_FIRST)
    return tuple(sorted(search.found, key=lambda finding: order.index(finding.kind)))


class _Search:
    """The readings, thou, less every shared cause found so far."""

    def __init__(self, readings: Mapping[str, Quantity], where: Mapping[str, Site]) -> None:
        self._x = {place: reading.in_("thou") for place, reading in readings.items()}
        self._where = where
        self._unit = next(iter(readings.values())).unit if readings else "thou"
        self._banks = tuple(dict.fromkeys(site.bank for site in where.values()))
        self.found: list[Finding] = []

    def slopes(self) -> None:
        """Find a head whose readings rise or fall from front to back; take the slope out."""
        for bank in self._banks:
            places = [place for place, site in self._where.items() if site.bank == bank]
            spots = [self._where[place].position for place in places]
            length = max(spots) - min(spots)
            rise = length * _lasting(places, self._where, self._rise)
            if len(set(spots)) < 3 or abs(rise) <= SLOPE:
                continue
            verb = "rise" if rise > 0 else "fall"
            self._note("slope", places, rise, f"{_of(bank)} {verb} {{}} from front to back")
            middle = Decimal(max(spots) + min(spots)) / 2
            for place in places:
                self._x[place] -= rise / length * (self._where[place].position - middle)

    def _rise(self, places: Sequence[str]) -> Decimal:
        """Give the median rise from one cylinder to the next, valves of one kind compared."""
        steps = [
            (self._x[two] - self._x[one]) / (self._where[two].position - self._where[one].position)
            for one, two in combinations(places, 2)
            if self._where[one].valve == self._where[two].valve
            and self._where[one].position != self._where[two].position
        ]
        return median(steps) if steps else Decimal(0)

    def intake_exhaust(self) -> None:
        """Find all intakes standing off all exhausts; take the difference out."""
        both = [p for p, site in self._where.items() if site.partner in self._x]
        apart = _lasting(both, self._where, lambda some: median(self._apart(some) or [Decimal(0)]))
        each = self._apart(both)
        alike = sum(1 for one in each if one * apart > apart * apart / 2)
        if len(each) < 3 or abs(apart) <= OFFSET or alike < len(each) - 1:
            return
        more = "more" if apart > 0 else "less"
        self._note("intake-exhaust", both, apart, f"the intakes read {{}} {more} than the exhausts")
        for place, site in self._where.items():
            self._x[place] -= apart / 2 if site.valve == "I" else -apart / 2

    def _apart(self, places: Iterable[str]) -> list[Decimal]:
        return [
            self._x[place] - self._x[self._where[place].partner]
            for place in places
            if self._where[place].valve == "I"
        ]

    def banks(self) -> None:
        """Find a bank standing off the other; take the difference out."""
        if len(self._banks) != 2:
            return
        one, two = self._banks
        apart = _lasting(
            list(self._x),
            self._where,
            lambda some: self._middle(some, two) - self._middle(some, one),
        )
        if abs(apart) <= OFFSET:
            return
        higher = two if apart > 0 else one
        places = [place for place, site in self._where.items() if site.bank == higher]
        self._note(
            "bank", places, abs(apart), f"{_of(higher)} read {{}} more than the other bank's"
        )
        for place in places:
            self._x[place] -= abs(apart)

    def _middle(self, places: Iterable[str], bank: str) -> Decimal:
        some = [self._x[place] for place in places if self._where[place].bank == bank]
        return median(some) if some else Decimal(0)

    def single_places(self) -> None:
        """Find places off the rest: a pair under one bridge together, else each by itself."""
        if len(self._x) < 3:
            return
        middle = median(self._x.values())
        off = {place: x - middle for place, x in self._x.items()}
        limit = max(OUTLIER, 3 * median(abs(one) for one in off.values()))
        said: set[str] = set()
        for place in sorted(off, key=lambda one: -abs(off[one])):
            if abs(off[place]) <= limit or place in said:
                continue
            partner = self._where[place].partner
            with_it = off.get(partner, Decimal(0)) * off[place] >= off[place] ** 2 / 2
            said |= {place, partner} if with_it else {place}
            more = "over" if off[place] > 0 else "under"
            if with_it:
                both = [one for one in off if one in {place, partner}]
                mean = (off[place] + off[partner]) / 2
                words = f"{both[0]} and {both[1]}, one cylinder, are {{}} {more} the rest"
                self._note("bridge", both, mean, words)
            else:
                self._note("outlier", [place], off[place], f"{place} is {{}} {more} the rest")

    def _note(self, kind: Kind, places: Iterable[str], size: Decimal, words: str) -> None:
        shown = rounded(Quantity(size, "thou").to(self._unit))
        plain = Quantity(abs(shown.value), shown.unit)
        self.found.append(
            Finding(kind=kind, places=tuple(places), size=shown, words=words.format(plain))
        )


def _lasting(
    places: Sequence[str], where: Mapping[str, Site], size: Callable[[Sequence[str]], Decimal]
) -> Decimal:
    """Give a size, or 0 if half of it goes when some one cylinder is left out."""
    whole = size(places)
    for cylinder in {where[place].cylinder for place in places}:
        without = size([place for place in places if where[place].cylinder != cylinder])
        if without * whole < whole * whole / 2:
            return Decimal(0)
    return whole


def _of(bank: str) -> str:
    return f"the readings of the {bank} bank" if bank else "the readings"
