"""The fewest points of a line that reach every span, and those with the widest margin: exact.

Whole numbers only: the caller scales its decimals to a grid on which all of them are whole. The
points are sorted and different; each span wants at least one chosen point within it.
"""

from bisect import bisect_left
from collections.abc import Iterable, Sequence

from snugset.trade.stabbing import NOWHERE, Reach, Spans
from snugset.trade.stabbing import widest as widest_of
from snugset.values import dataclass

END = NOWHERE // 2
"""Past every point; −END lies before them all."""


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


def reached(points: Sequence[int], span: Span) -> bool:
    """Tell whether a span has a point; an empty one has none."""
    at = bisect_left(points, span.low)
    return at < len(points) and points[at] <= span.high


def fewest(points: Sequence[int], spans: Iterable[Span]) -> int | None:
    """Count the fewest points that reach every span; None if some span has no point."""
    return _count(reach(points, spans))


def widest(points: Sequence[int], spans: Sequence[Span], count: int) -> int:
    """Find the greatest margin that every span can have with so many points, which must do."""
    line = reach(points, spans)
    top = min((span.high - span.low) // 2 for span in spans)

    def works(margin: int) -> bool:
        needed = _count(Reach(line.spans, margin, line.points))
        return needed is not None and needed <= count

    return widest_of(range(top + 1), works)


def windows(points: Sequence[int], spans: Iterable[Span], count: int) -> list[tuple[int, int]]:
    """First and last point that can be the n-th of so many that reach every span."""
    return reach(points, spans).windows(-END, END, count + 1)


def reach(points: Sequence[int], spans: Iterable[Span]) -> Reach:
    """Give the spans and the points between the two ends of the line."""
    return Reach(Spans.of((span.low, span.high) for span in spans), 0, [-END, *points, END])


def _count(line: Reach) -> int | None:
    most = len(line.spans.lows) + 1
    steps = line.steps(-END, END, most)
    return steps - 1 if steps <= most else None
