"""The fewest points of a line that reach every span, exactly.

Whole numbers only: the caller scales its decimals to a grid on which all of them are whole. The
points are sorted and different; each span wants at least one chosen point within it.
"""

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """Where a point may lie, both ends included, and where it would best."""

    low: int
    high: int
    ideal: int

    def narrowed(self, margin: int) -> "Span":
        """Give the span less a margin at both ends."""
        return Span(low=self.low + margin, high=self.high - margin, ideal=self.ideal)

    def margin(self, point: int) -> int:
        """How far inside a point lies; negative outside."""
        return min(point - self.low, self.high - point)


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


def fewest(points: Sequence[int], spans: Iterable[Span]) -> int | None:
    """Count the fewest points that reach every span; None if some span has no point.

    Spans by their right ends, each unreached one stabbed at the last point inside it: no choice
    reaches further along the line, so no set is smaller.
    """
    count, last = 0, None
    for span in sorted(spans, key=lambda one: one.high):
        if last is not None and span.low <= last:
            continue
        index = bisect_right(points, span.high) - 1
        if index < 0 or points[index] < span.low:
            return None
        last = points[index]
        count += 1
    return count


def widest(points: Sequence[int], spans: Sequence[Span], count: int) -> int:
    """Find the greatest margin that every span can have with so many points.

    The answer is one of the margins that a point has in a span; feasibility only falls as the
    margin grows, so halving finds it.
    """
    margins = {
        span.margin(point)
        for span in set(spans)
        for point in points[bisect_left(points, span.low) : bisect_right(points, span.high)]
    }
    rising = sorted(margins)
    low, high = 0, len(rising) - 1
    while low < high:
        middle = (low + high + 1) // 2
        needed = fewest(points, (span.narrowed(rising[middle]) for span in spans))
        if needed is not None and needed <= count:
            low = middle
        else:
            high = middle - 1
    return rising[low]


def closest(points: Sequence[int], spans: Sequence[Span], count: int) -> Choice:
    """Choose at most so many points: fewest spans missed, then least distance from the ideals.

    A missed span counts by how far outside it its nearest point lies. A span's best point is one
    of the two chosen neighbours about its ideal, brought to the span's nearer end if it lies
    outside. So what a choice costs is a sum over its neighbours, and the best is built up from the
    left. Among equals the fewest points, then the lower ones.
    """
    needed = fewest(points, spans)
    costs = _Costs(points, spans, all_reached=needed is not None and needed <= count)
    kept = [points[index] for index in _cheapest(len(points), count, costs.between)]
    best = [_best(span, kept) for span in spans]
    return Choice(missed=sum(one[0] for one in best), taken=tuple(one[3] for one in best))


_Cost = tuple[int, int, int]
"""Spans missed, how far outside in all, how far from the ideals in all."""


class _Costs:
    """What a pair of neighbours in a choice costs."""

    def __init__(self, points: Sequence[int], spans: Sequence[Span], *, all_reached: bool) -> None:
        self._points, self._all_reached = points, all_reached
        weights = Counter(spans)
        order = sorted(weights, key=_pivot)
        self._pivots = [_pivot(span) for span in order]
        self._spans = [(span, weights[span]) for span in order]
        self._known: dict[tuple[int, int], _Cost | None] = {}

    def between(self, left: int, right: int) -> _Cost | None:
        """Cost of the spans that have these two about them; -1 and the end stand for no point.

        None, where every span can be reached, if one is missed: it stays missed by all pairs with
        the same left and a further right.
        """
        if (left, right) not in self._known:
            self._known[left, right] = self._cost(left, right)
        return self._known[left, right]

    def _cost(self, left: int, right: int) -> _Cost | None:
        points, past_end = self._points, len(self._points)
        ends = tuple(points[end] for end in (left, right) if 0 <= end < past_end)
        first = bisect_left(self._pivots, points[left]) if left >= 0 else 0
        past = bisect_left(self._pivots, points[right]) if right < past_end else len(self._pivots)
        missed = outside = away = 0
        for span, times in self._spans[first:past]:
            near = [abs(end - span.ideal) for end in ends if span.low <= end <= span.high]
            if near:
                away += times * min(near)
                continue
            if self._all_reached:
                return None
            _, out, far, _ = _best(span, ends)
            missed, outside, away = missed + times, outside + times * out, away + times * far
        return missed, outside, away


def _pivot(span: Span) -> int:
    return min(max(span.ideal, span.low), span.high)


def _best(span: Span, near: Sequence[int]) -> tuple[int, int, int, int]:
    """Give the cost of a span with these points, and the point that it takes."""
    return min(
        (
            int(point < span.low or point > span.high),
            max(0, -span.margin(point)),
            abs(point - span.ideal),
            point,
        )
        for point in near
    )


_Path = tuple[_Cost, list[int]]
"""What a choice has cost so far, and its points, rising."""


def _cheapest(size: int, count: int, between: Callable[[int, int], _Cost | None]) -> list[int]:
    """Find the cheapest rising indices, at most so many, by the cost of each pair of neighbours."""
    layer = _extended([((0, 0, 0), [-1])], size, between)
    found: _Path | None = None
    for used in range(min(count, size)):
        if used:
            layer = _extended(layer, size, between)
        for so_far, taken in layer:
            end = between(taken[-1], size)
            if end is not None:
                path = (_add(so_far, end), taken)
                # A longer choice must be cheaper; among those as long the lower points win.
                if found is None or (path[0], len(taken), taken) < (
                    found[0],
                    len(found[1]),
                    found[1],
                ):
                    found = path
    return found[1][1:] if found is not None else []


def _extended(
    layer: list[_Path], size: int, between: Callable[[int, int], _Cost | None]
) -> list[_Path]:
    """Give the cheapest way to each point as the next one."""
    best: dict[int, _Path] = {}
    for so_far, taken in layer:
        for index in range(taken[-1] + 1, size):
            step = between(taken[-1], index)
            if step is None:
                break
            path = (_add(so_far, step), [*taken, index])
            if index not in best or path < best[index]:
                best[index] = path
    return list(best.values())


def _add(one: _Cost, two: _Cost) -> _Cost:
    return (one[0] + two[0], one[1] + two[1], one[2] + two[2])
