"""Which of the equally few points of a line come closest to where the spans would have them: exact.

A span's best point is one of the two chosen neighbours about its ideal, brought to the span's
nearer end if it lies outside. So what a choice costs is a sum over its neighbours, built up from
the right. A span's cost only grows as a point moves away, hence for a ≤ b < c ≤ d the neighbours
a, c and b, d never cost more together than a, d and b, c. So the best next point never moves back
as a point moves on, and what is found for one in the middle leaves the others a part to try.
"""

from bisect import bisect_left
from collections import Counter
from collections.abc import Mapping, Sequence

from snugset.trade.line import Span, fewest, windows
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Points chosen, and the one that each span takes, in the order of the spans."""

    missed: int
    """Spans that no chosen point reaches; they take the nearest."""
    taken: tuple[int, ...]

    @property
    def points(self) -> tuple[int, ...]:
        """The points taken, rising."""
        return tuple(sorted(set(self.taken)))


def closest(points: Sequence[int], spans: Sequence[Span], count: int) -> Choice:
    """Choose at most so many points: fewest spans missed, then least distance from the ideals.

    A missed span counts by how far outside it its nearest point lies. Among equals the fewest
    points, then the lower ones. No span may be empty.
    """
    count = min(count, len(points))
    if fewest(points, spans) == count:
        ends = windows(points, spans, count)
        ranges = [(bisect_left(points, low), bisect_left(points, high)) for low, high in ends]
    else:
        ranges = [(0, len(points) - count + nth) for nth in range(count)]
    chosen = _cheapest(_Costs(points, spans), ranges)
    return nearest([points[index] for index in chosen], spans)


def nearest(points: Sequence[int], spans: Sequence[Span]) -> Choice:
    """Give each span the best of these points: one inside, then near its end, then its ideal."""
    best = [
        min((max(0, -span.margin(point)), abs(point - span.ideal), point) for point in points)
        for span in spans
    ]
    return Choice(
        missed=sum(outside > 0 for outside, _, _ in best), taken=tuple(one[2] for one in best)
    )


class _Costs:
    """What neighbours in a choice cost, each as one number.

    A span missed outweighs any distance outside a span, and that any distance from an ideal.
    """

    def __init__(self, points: Sequence[int], spans: Sequence[Span]) -> None:
        weights = Counter(spans)
        order = sorted(weights, key=_pivot)
        pivots = [_pivot(span) for span in order]
        ends = points[0], points[-1]
        self._further = 1 + sum(max(abs(end - span.ideal) for end in ends) for span in spans)
        outside = 1 + sum(max(0, *(-span.margin(end) for end in ends)) for span in spans)
        self._miss = self._further * outside
        self._most = self._miss * (len(spans) + 2)
        """No choice costs more."""
        self._spans = [(one.low, one.high, one.ideal, weights[one]) for one in order]
        self._points = points
        self._first = [bisect_left(pivots, point) for point in points]
        """By point, the first span whose ideal lies there or right of it."""
        self._rows: dict[int, list[int]] = {}

    def before(self, index: int) -> int:
        """Cost of the spans whose ideals lie left of a choice's first point."""
        return sum(self._row(index)[: self._first[index]])

    def after(self, index: int) -> int:
        """Cost of the spans whose ideals lie right of a choice's last point."""
        return sum(self._row(index)[self._first[index] :])

    def onward(self, left: int, rights: range, rest: Mapping[int, int]) -> tuple[int, int]:
        """Give the cheapest way on from a point, and the next point on it, the lowest of equals.

        With each next point goes the cost of the rest.
        """
        first, first_of, row_of = self._first[left], self._first, self._row
        here = row_of(left)[first:]
        found, best = -1, self._most
        for right in reversed(rights):
            if rest[right] <= best:  # else too dear, whatever the spans between cost
                cost = sum(map(min, here, row_of(right)[first : first_of[right]]), rest[right])
                if cost <= best:
                    found, best = right, cost
        return best, found

    def _row(self, index: int) -> list[int]:
        """Cost of every span with this point alone."""
        if (row := self._rows.get(index)) is None:
            point, miss, further = self._points[index], self._miss, self._further
            row = self._rows[index] = [
                weight * abs(point - ideal)
                if low <= point <= high
                else weight * (miss + further * max(low - point, point - high) + abs(point - ideal))
                for low, high, ideal, weight in self._spans
            ]
        return row


_Range = tuple[int, int]
"""First and last index of the points among which one is chosen."""


def _cheapest(costs: _Costs, ranges: Sequence[_Range]) -> list[int]:
    """Find the cheapest choice of points, by index: one in each of the last so many ranges.

    Neither end of a range lies before that of the range before it.
    """
    low, high = ranges[-1]
    rest = {index: costs.after(index) for index in range(low, high + 1)}
    found, ways = [_begun(costs, rest)], []
    for own, following in zip(ranges[-2::-1], ranges[:0:-1], strict=True):
        rest, way = _extended(costs, own, following, rest)
        found.append(_begun(costs, rest))
        ways.append(way)
    used = min(range(len(found)), key=lambda used: found[used][0])
    chosen = [found[used][1]]
    for way in reversed(ways[:used]):
        chosen.append(way[chosen[-1]])
    return chosen


def _extended(
    costs: _Costs, own: _Range, following: _Range, rest: Mapping[int, int]
) -> tuple[dict[int, int], dict[int, int]]:
    """Give for each point of its own range the cheapest way on, and the next point on that way."""
    totals: dict[int, int] = {}
    way: dict[int, int] = {}
    parts = [(*own, *following)]
    while parts:
        low, high, least, most = parts.pop()
        middle = (low + high) // 2
        rights = range(max(least, middle + 1), most + 1)
        totals[middle], way[middle] = costs.onward(middle, rights, rest)
        if low < middle:
            parts.append((low, middle - 1, least, way[middle]))
        if middle < high:
            parts.append((middle + 1, high, way[middle], most))
    return totals, way


def _begun(costs: _Costs, rest: Mapping[int, int]) -> tuple[int, int]:
    """Give the cheapest choice with one of these points as its first, the lowest of equals."""
    return min((costs.before(index) + cost, index) for index, cost in rest.items())


def _pivot(span: Span) -> int:
    return min(max(span.ideal, span.low), span.high)
