"""What each place allows: the lengths that bring its reading into the window."""

from collections import Counter
from collections.abc import Collection, Mapping

from snugset.trade.exact import decimals
from snugset.trade.fault import FigureError
from snugset.trade.grid import Grid
from snugset.trade.line import Span
from snugset.trade.preload import SATURATION
from snugset.units import Quantity

Catalogue = Quantity | tuple[Quantity, ...]
"""The step between lengths that can be had, counted from the one in hand; or the lengths."""

MOST_LENGTHS = 400
"""Lengths of a catalogue that are looked through."""

MOST_PLACES = 64


class Allowed:
    """Everything given, on one grid of whole numbers."""

    def __init__(
        self,
        *,
        readings: Mapping[str, Quantity],
        window: tuple[Quantity, Quantity],
        uncertainty: Quantity | Mapping[str, Quantity],
        fitted: Quantity | Mapping[str, Quantity],
        catalogue: Catalogue,
        target: Quantity | None,
        tolerance: Quantity,
    ) -> None:
        doubts = _per_place(uncertainty, readings, "uncertainty")
        lengths = _per_place(fitted, readings, "length")
        steps = catalogue if isinstance(catalogue, tuple) else (catalogue,)
        aims = (target,) if target is not None else ()
        self.grid = grid = Grid(
            *readings.values(), *window, *doubts.values(), *lengths.values(), *steps, *aims,
            tolerance,
        )  # fmt: skip
        self.low, self.high = (grid.whole(limit) for limit in window)
        self.read = {place: grid.whole(reading) for place, reading in readings.items()}
        self.doubt = {place: grid.whole(doubt) for place, doubt in doubts.items()}
        self.in_hand = {place: grid.whole(length) for place, length in lengths.items()}
        self.tolerance = grid.whole(tolerance)
        middle = (self.low + self.high) // 2
        self.target = grid.whole(target) if target is not None else middle
        self.unit = next(iter(readings.values())).unit
        self.length_unit = next(iter(lengths.values())).unit
        self.length_places = max(decimals(length.value) for length in lengths.values())
        common = Counter(self.in_hand.values()).most_common()
        self.base = min(length for length, times in common if times == common[0][1])
        self._spans: dict[bool, dict[str, Span]] = {True: {}, False: {}}
        self.points = self._points(catalogue)
        """The catalogue's lengths, rising; of a step, those about the lengths allowed."""

    def _points(self, catalogue: Catalogue) -> list[int]:
        if isinstance(catalogue, tuple):
            if not 1 <= len(catalogue) <= MOST_LENGTHS:
                raise FigureError("lengths", f"{len(catalogue)} lengths; give 1 to {MOST_LENGTHS}")
            return sorted({self.grid.whole(length) for length in catalogue})
        step = self.grid.whole(catalogue)
        if step <= 0:
            raise FigureError("step", f"{catalogue} is no step; type the distance between lengths")
        spans = self.spans(self.read, guarded=False)
        first = (min(span.low for span in spans) - self.base) // step - 1
        last = -((self.base - max(span.high for span in spans)) // step) + 1
        if last - first >= MOST_LENGTHS:
            raise FigureError(
                "step", f"{catalogue} is too fine to be a catalogue's; check the unit"
            )
        return [self.base + count * step for count in range(first, last + 1)]

    def predicted(self, place: str, length: int) -> int:
        """Give the reading expected at a place with a length."""
        return self.read[place] + length - self.in_hand[place]

    def spans(self, places: Collection[str], *, guarded: bool) -> list[Span]:
        """Give the lengths that each place allows: proved inside, or only inside."""
        known = self._spans[guarded]
        for place in places:
            if place not in known:
                known[place] = self._span(place, guarded=guarded)
        return [known[place] for place in places]

    def _span(self, place: str, *, guarded: bool) -> Span:
        guard = self.doubt[place] + self.tolerance if guarded else 0
        zero = self.in_hand[place] - self.read[place]
        return Span(
            low=zero + self.low + guard, high=zero + self.high - guard, ideal=zero + self.target
        )

    def margin(self, place: str, length: int, *, guarded: bool, kept: bool = False) -> int:
        """Give how far inside its limits a place will read; a pushrod kept has no tolerance."""
        guard = self.doubt[place] + (0 if kept else self.tolerance) if guarded else 0
        expected = self.predicted(place, length)
        return min(expected - self.low, self.high - expected) - guard

    def inside(self, place: str, length: int) -> bool:
        """Whether a length brings a place's nominal result inside the window."""
        return self.margin(place, length, guarded=False) >= 0

    def good(self, place: str, *, guarded: bool) -> bool:
        """Whether the pushrod in hand, whose length is what was read with, already serves."""
        return self.margin(place, self.in_hand[place], guarded=guarded, kept=True) >= 0


def check_readings(readings: Mapping[str, Quantity], travel: Quantity | None) -> None:
    """Refuse what is no measurement; FigureError (readings)."""
    if not 1 <= len(readings) <= MOST_PLACES:
        raise FigureError(
            "readings", f"{len(readings)} readings; give 1 to {MOST_PLACES}, as 1I=11 1E=14"
        )
    for place, reading in readings.items():
        if reading.value <= 0:
            raise FigureError(
                "readings",
                f"{place} reads {reading}: loose by an unknown amount; measure it with a longer"
                " pushrod, or leave it out",
            )
        if travel is not None and reading.in_("mm") >= travel.in_("mm") - SATURATION.in_("mm"):
            raise FigureError(
                "readings",
                f"{place} reads {reading} of {travel}: bottomed by an unknown amount; measure it"
                " with a shorter pushrod, or leave it out",
            )


def _per_place(
    given: Quantity | Mapping[str, Quantity], readings: Mapping[str, Quantity], key: str
) -> Mapping[str, Quantity]:
    """Give one figure to every place; FigureError where a place is left without."""
    if isinstance(given, Quantity):
        return dict.fromkeys(readings, given)
    for place in readings:
        if place not in given:
            raise FigureError(
                key, f"there is none for {place}; give one for every place, or one for all"
            )
    return {place: given[place] for place in readings}
