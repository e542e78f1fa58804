"""Which pushrod lengths to order, and what every place will read with them.

A longer pushrod raises the preload by as much. Each place therefore allows a span of lengths, and
the order is the fewest lengths of the catalogue that reach every span: first the spans in which the
result is proved, low + U + t to high − U − t, then those in which it only lies inside.
"""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from snugset.trade.allowed import Allowed, Catalogue, check_readings
from snugset.trade.closest import closest, nearest
from snugset.trade.exact import padded, shown_as
from snugset.trade.fault import FigureError
from snugset.trade.line import fewest, reached, widest
from snugset.trade.verdict import Verdict, decide
from snugset.typed import Literal
from snugset.units import Quantity
from snugset.values import dataclass

Standard = Literal["proved", "inside", "none"]
"""The best that can be had: every place proved in, every nominal result inside, or neither."""

_NONE = Quantity(Decimal(0), "thou")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """The pushrod for one place and what it is expected to read."""

    length: Quantity
    change: Quantity
    """Against the one in hand there; negative is shorter."""
    predicted: Quantity
    verdict: Verdict
    kept: bool
    """Whether it is the one in hand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """Pushrods of one length to order."""

    length: Quantity
    places: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbour:
    """What would happen with the next length of the catalogue."""

    length: Quantity
    instead_of: Quantity
    predicted_low: Quantity
    predicted_high: Quantity
    fails: tuple[str, ...]
    """Places that would no longer reach the standard of the order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """The decision before money is spent."""

    fits: Mapping[str, Fit]
    batches: tuple[Batch, ...]
    """What to order, shortest first; empty when every pushrod in hand is kept."""
    standard: Standard
    fails: tuple[str, ...]
    """Places whose nominal result lies outside the window even so."""
    least_margin: Quantity
    """Of the worst place to its limit: to the guarded one if proved. Negative is past it."""
    predicted_low: Quantity
    predicted_high: Quantity
    counted_from: Quantity
    """The length in hand that changes and catalogue steps are counted from."""
    allowed_low: Quantity
    """Least change with which one common length proves every place."""
    allowed_high: Quantity
    """Greatest such change; under the least when no common length does."""
    neighbours: tuple[Neighbour, ...]
    proves_with: int | None
    """Fewest lengths that would prove every place, however many are allowed; None if none do."""
    step_for_one: Quantity | None
    """A catalogue step no larger surely has one length that proves every place."""
    step_for_each: Quantity | None
    """A catalogue step no larger surely has a length that proves each place by itself."""

    @property
    def proved(self) -> bool:
        """Whether every place is expected inside the window whatever the doubt."""
        return self.standard == "proved"


def order(
    readings: Mapping[str, Quantity],
    window: tuple[Quantity, Quantity],
    *,
    uncertainty: Quantity | Mapping[str, Quantity],
    fitted: Quantity | Mapping[str, Quantity],
    catalogue: Catalogue,
    target: Quantity | None = None,
    tolerance: Quantity = _NONE,
    most: int | None = None,
    keep: bool = False,
    travel: Quantity | None = None,
) -> Order:
    """Choose pushrods for every place from its reading and the length in hand there.

    The fewest different lengths (no more than ``most``); among equals the widest least margin,
    then the results closest in all to the target (the window's middle without one), then the
    shorter. If none reach the standard, the fewest places are left outside and the others served
    so. With ``keep`` a place whose pushrod in hand is good already keeps it. Every reading must
    be a measurement: with ``travel`` a bottomed one is refused as a loose one is.

    FigureError (readings, window, uncertainty, length, step, lengths, tolerance, most).
    """
    _check(readings, window, most, travel)
    job = Allowed(
        readings=readings,
        window=window,
        uncertainty=uncertainty,
        fitted=fitted,
        catalogue=catalogue,
        target=target,
        tolerance=tolerance,
    )
    standard, lengths = _decided(job, list(readings), most, keep=keep)
    if standard == "none":
        lengths = _least_bad(job, list(readings), most, keep=keep)
    chosen = {place: lengths.get(place, job.in_hand[place]) for place in readings}
    return _Account(job, window, chosen, frozenset(readings) - frozenset(lengths), standard).order()


def _check(
    readings: Mapping[str, Quantity],
    window: tuple[Quantity, Quantity],
    most: int | None,
    travel: Quantity | None,
) -> None:
    check_readings(readings, travel)
    if window[0].in_("mm") >= window[1].in_("mm"):
        raise FigureError(
            "window", f"{window[0]} to {window[1]} must rise; give the lower limit first"
        )
    if most is not None and most < 1:
        raise FigureError("most", f"{most} lengths; at least one is needed")


_Lengths = dict[str, int]
"""The length chosen for each place that does not keep its pushrod."""


def _decided(
    job: Allowed, places: list[str], most: int | None, *, keep: bool
) -> tuple[Standard, _Lengths]:
    """Reach the best standard that can be had with so many lengths."""
    for guarded in (True, False):
        left = _left(job, places, guarded=guarded, keep=keep)
        spans = job.spans(left, guarded=guarded)
        count = fewest(job.points, spans)
        if count is None or (most is not None and count > most):
            continue
        standard: Standard = "proved" if guarded else "inside"
        if not left:
            return standard, {}
        margin = widest(job.points, spans, count)
        found = closest(job.points, [span.narrowed(margin) for span in spans], count)
        return standard, dict(zip(left, found.taken, strict=True))
    return "none", {}


def _left(job: Allowed, places: list[str], *, guarded: bool, keep: bool) -> list[str]:
    """Give the places that need another pushrod."""
    return [place for place in places if not (keep and job.good(place, guarded=guarded))]


def _least_bad(job: Allowed, places: list[str], most: int | None, *, keep: bool) -> _Lengths:
    """Leave the fewest places outside, and serve the others as if those were not there."""
    left = _left(job, places, guarded=False, keep=keep)
    spans = job.spans(left, guarded=False)
    enough = fewest(job.points, [span for span in spans if reached(job.points, span)]) or 1
    tried = closest(job.points, spans, min(enough, most or enough))
    taken = dict(zip(left, tried.taken, strict=True))
    served = [place for place in places if place not in taken or job.inside(place, taken[place])]
    _, lengths = _decided(job, served, most, keep=keep)
    points = sorted(set(lengths.values())) or tried.points
    failing = [place for place in places if place not in served]
    found = nearest(points, job.spans(failing, guarded=False))
    return lengths | dict(zip(failing, found.taken, strict=True))


class _Account:
    """The decision worked out for the builder."""

    def __init__(
        self,
        job: Allowed,
        window: tuple[Quantity, Quantity],
        chosen: Mapping[str, int],
        kept: frozenset[str],
        standard: Standard,
    ) -> None:
        self._job, self._window, self._chosen = job, window, chosen
        self._kept, self._standard = kept, standard
        self._shown: dict[tuple[str, int], Quantity] = {}

    def order(self) -> Order:
        job = self._job
        predicted = [job.predicted(place, length) for place, length in self._chosen.items()]
        spans = job.spans(job.read, guarded=True)
        low = max(span.low for span in spans) - job.base
        high = min(span.high for span in spans) - job.base
        narrowest = min(span.high - span.low for span in spans)
        return Order(
            fits={place: self._fit(place) for place in job.read},
            batches=tuple(
                Batch(length=self._length(length), places=places)
                for length, places in self._batches().items()
            ),
            standard=self._standard,
            fails=self._fails(self._chosen, guarded=False),
            least_margin=self._reading(self._least_margin()),
            predicted_low=self._reading(min(predicted)),
            predicted_high=self._reading(max(predicted)),
            counted_from=self._length(job.base),
            allowed_low=self._reading(low),
            allowed_high=self._reading(high),
            neighbours=tuple(self._neighbours()),
            proves_with=fewest(job.points, spans),
            step_for_one=self._reading(high - low) if high > low else None,
            step_for_each=self._reading(narrowest) if narrowest > 0 else None,
        )

    def _fit(self, place: str) -> Fit:
        job, length, kept = self._job, self._chosen[place], place in self._kept
        predicted = job.predicted(place, length)
        doubt = job.doubt[place] + (0 if kept else job.tolerance)
        return Fit(
            length=self._length(length),
            change=self._reading(length - job.in_hand[place]),
            predicted=self._reading(predicted),
            verdict=decide(job.grid.exact(predicted), job.grid.exact(doubt), *self._window),
            kept=kept,
        )

    def _batches(self) -> dict[int, tuple[str, ...]]:
        bought = [place for place in self._job.read if place not in self._kept]
        return {
            length: tuple(place for place in bought if self._chosen[place] == length)
            for length in sorted({self._chosen[place] for place in bought})
        }

    def _least_margin(self) -> int:
        job, guarded = self._job, self._standard == "proved"
        return min(
            job.margin(place, length, guarded=guarded, kept=place in self._kept)
            for place, length in self._chosen.items()
        )

    def _fails(self, lengths: Mapping[str, int], *, guarded: bool) -> tuple[str, ...]:
        job = self._job
        return tuple(
            place
            for place, length in lengths.items()
            if job.margin(place, length, guarded=guarded, kept=place in self._kept) < 0
        )

    def _neighbours(self) -> Iterator[Neighbour]:
        job, guarded = self._job, self._standard == "proved"
        for length, places in self._batches().items():
            at = job.points.index(length)
            for index in (at - 1, at + 1):
                if not 0 <= index < len(job.points):
                    continue
                other = job.points[index]
                read = [job.predicted(place, other) for place in places]
                yield Neighbour(
                    length=self._length(other),
                    instead_of=self._length(length),
                    predicted_low=self._reading(min(read)),
                    predicted_high=self._reading(max(read)),
                    fails=self._fails(dict.fromkeys(places, other), guarded=guarded),
                )

    def _reading(self, steps: int) -> Quantity:
        return self._in(self._job.unit, steps)

    def _length(self, steps: int) -> Quantity:
        return padded(self._in(self._job.length_unit, steps), self._job.length_places)

    def _in(self, unit: str, steps: int) -> Quantity:
        if (unit, steps) not in self._shown:  # many places read alike
            self._shown[unit, steps] = shown_as(self._job.grid.exact(steps), unit)
        return self._shown[unit, steps]
