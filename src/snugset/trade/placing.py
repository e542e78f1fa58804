"""Which of the pushrods in hand belongs at which place, before anything is bought.

Pushrods of different lengths, measured and read where they stand, may serve if they change places.
"""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from snugset.trade.allowed import MOST_PLACES, Allowed, check_readings
from snugset.trade.assign import assigned
from snugset.trade.exact import padded, shown_as
from snugset.trade.fault import FigureError
from snugset.trade.pushrods import Standard
from snugset.trade.verdict import Verdict, decide
from snugset.units import Quantity
from snugset.values import dataclass

_NONE = Quantity(Decimal(0), "thou")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """One place with the pushrod it is to get."""

    pushrod: str
    """Where it stands now: a place, or the name of a spare."""
    length: Quantity
    predicted: Quantity
    verdict: Verdict
    stays: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Placing:
    """Every place."""

    stands: Mapping[str, Stand]
    standard: Standard
    """proved: every place in; inside: every nominal result inside; none: neither can be had."""
    fails: tuple[str, ...]
    """Places whose nominal result lies outside even so: for these something must be bought."""
    moved: tuple[str, ...]
    """Places that get another pushrod than they have."""
    left_over: tuple[str, ...]
    """Pushrods without a place."""
    least_margin: Quantity
    """Of the worst place to its limit: to the guarded one if proved. Negative is past it."""


def place(
    readings: Mapping[str, Quantity],
    window: tuple[Quantity, Quantity],
    *,
    uncertainty: Quantity | Mapping[str, Quantity],
    lengths: Mapping[str, Quantity],
    spare: Mapping[str, Quantity] | None = None,
    target: Quantity | None = None,
    tolerance: Quantity = _NONE,
    travel: Quantity | None = None,
) -> Placing:
    """Give every place one of the pushrods in hand, each used once.

    First the best standard that can be had with the fewest places outside, then the fewest
    pushrods moved (they have worn in with their ends), then the widest least margin, then the
    results closest in all to the target. ``lengths`` are those that stand at the places now,
    measured one like another; ``tolerance`` is how far such a length can be off, and does not count
    for a pushrod that stays.

    FigureError (readings, window, uncertainty, length, spare).
    """
    check_readings(readings, travel)
    if window[0].in_("mm") >= window[1].in_("mm"):
        raise FigureError("window", f"{window[0]} to {window[1]} must rise; give the low end first")
    spares = spare or {}
    pushrods = {name: lengths[name] for name in readings if name in lengths} | dict(spares)
    if any(name in lengths for name in spares):
        raise FigureError("spare", "a spare has the name of a place; call it A, B and so on")
    if len(pushrods) > 2 * MOST_PLACES:
        raise FigureError("spare", f"{len(spares)} spares; {MOST_PLACES} can be looked through")
    job = Allowed(
        readings=readings,
        window=window,
        uncertainty=uncertainty,
        fitted=lengths,
        catalogue=tuple(pushrods.values()),
        target=target,
        tolerance=tolerance,
    )
    return _Search(job, window, pushrods).best()


class _Search:
    """Every place against every pushrod."""

    def __init__(
        self, job: Allowed, window: tuple[Quantity, Quantity], pushrods: Mapping[str, Quantity]
    ) -> None:
        self._job, self._window = job, window
        self._places, self._names = list(job.read), list(pushrods)
        self._lengths = [job.grid.whole(length) for length in pushrods.values()]
        away = [
            [abs(job.predicted(one, length) - job.target) for length in self._lengths]
            for one in self._places
        ]
        self._away = away
        # Weights that let a sum of costs be compared part by part: outside, moved, away.
        self._move = 1 + sum(max(row) for row in away)
        self._miss = self._move * (1 + len(self._places))

    def best(self) -> Placing:
        for standard in ("proved", "inside"):
            margins = self._margins(guarded=standard == "proved")
            chosen = self._chosen(margins, 0)
            if self._least(margins, chosen) >= 0:
                widest = self._widest(margins, chosen)
                return self._placing(
                    "proved" if standard == "proved" else "inside", margins, widest
                )
        margins = self._margins(guarded=False)
        return self._placing("none", margins, self._chosen(margins, 0))

    def _margins(self, *, guarded: bool) -> list[list[int]]:
        job = self._job
        return [
            [
                job.margin(one, length, guarded=guarded, kept=one == name)
                for name, length in zip(self._names, self._lengths, strict=True)
            ]
            for one in self._places
        ]

    def _chosen(self, margins: Sequence[Sequence[int]], least: int) -> list[int]:
        """Choose with the fewest margins under the least, then the fewest moved, then closest."""
        return assigned(
            [
                [
                    (self._miss if margin < least else 0)
                    + (self._move if one != name else 0)
                    + away
                    for name, margin, away in zip(self._names, row, far, strict=True)
                ]
                for one, row, far in zip(self._places, margins, self._away, strict=True)
            ]
        )

    def _widest(self, margins: Sequence[Sequence[int]], chosen: list[int]) -> list[int]:
        """Choose with the widest least margin that moves no pushrod more."""
        moves, known = self._moves(chosen), self._least(margins, chosen)
        rising = sorted({margin for row in margins for margin in row if margin > known})
        low, high, found = 0, len(rising), chosen
        while low < high:
            middle = (low + high) // 2
            tried = self._chosen(margins, rising[middle])
            if self._least(margins, tried) >= rising[middle] and self._moves(tried) == moves:
                low, found = middle + 1, tried
            else:
                high = middle
        return found

    def _least(self, margins: Sequence[Sequence[int]], chosen: Sequence[int]) -> int:
        return min(row[column] for row, column in zip(margins, chosen, strict=True))

    def _moves(self, chosen: Sequence[int]) -> int:
        return sum(
            one != self._names[column] for one, column in zip(self._places, chosen, strict=True)
        )

    def _placing(
        self, standard: Standard, margins: Sequence[Sequence[int]], chosen: list[int]
    ) -> Placing:
        stands = {
            one: self._stand(one, column) for one, column in zip(self._places, chosen, strict=True)
        }
        taken = {stand.pushrod for stand in stands.values()}
        job = self._job
        return Placing(
            stands=stands,
            standard=standard,
            fails=tuple(
                one
                for one, row, column in zip(self._places, margins, chosen, strict=True)
                if standard == "none" and row[column] < 0
            ),
            moved=tuple(one for one, stand in stands.items() if not stand.stays),
            left_over=tuple(name for name in self._names if name not in taken),
            least_margin=shown_as(job.grid.exact(self._least(margins, chosen)), job.unit),
        )

    def _stand(self, one: str, column: int) -> Stand:
        job, name, length = self._job, self._names[column], self._lengths[column]
        predicted, stays = job.predicted(one, length), name == one
        doubt = job.doubt[one] + (0 if stays else job.tolerance)
        return Stand(
            pushrod=name,
            length=padded(shown_as(job.grid.exact(length), job.length_unit), job.length_places),
            predicted=shown_as(job.grid.exact(predicted), job.unit),
            verdict=decide(job.grid.exact(predicted), job.grid.exact(doubt), *self._window),
            stays=stays,
        )
