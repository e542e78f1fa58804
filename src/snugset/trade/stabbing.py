"""The fewest points that reach every span: the greedy chain, and the widest margin that it leaves.

A chain of points reaches every span if none lies wholly between two neighbours. From a point, going
on every time as far as leaves no span behind is the best that can be done: the n-th point of no
other chain from there lies further on. So the steps it takes to the end are the fewest there are.
On a line a chain runs from before everything to past everything; on a circle, from a point round to
itself.

As the margin grows all spans shrink and nothing else is reached, so halving finds the widest margin
that so many points can keep. Whole numbers only: nothing is rounded anywhere.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Sequence
from itertools import accumulate

from snugset.values import dataclass

NOWHERE = 1 << 256
"""Past everything: ahead of the last span there is no end to stop at."""


@dataclass(frozen=True, slots=True)
class Spans:
    """Ends of spans, sorted once for every margin, since all their ends move alike."""

    lows: Sequence[int]
    first_high: Sequence[int]
    """Least high among the spans from this low on."""
    highs: Sequence[int]
    last_low: Sequence[int]
    """Greatest low among the spans before this high."""

    @classmethod
    def of(cls, ends: Iterable[tuple[int, int]]) -> "Spans":
        """Sort spans given as low and high, neither of them empty."""
        by_low = sorted(ends)
        by_high = sorted((high, low) for low, high in by_low)
        backward = accumulate((high for _, high in reversed(by_low)), min, initial=NOWHERE)
        return cls(
            [low for low, _ in by_low],
            list(backward)[::-1],
            [high for high, _ in by_high],
            list(accumulate((low for _, low in by_high), max, initial=-NOWHERE)),
        )


@dataclass(frozen=True, slots=True)
class Reach:
    """Spans less a margin at both ends, and the points that may be chosen to reach them."""

    spans: Spans
    margin: int
    points: Sequence[int] | None = None
    """Rising; None if a point may be anywhere."""

    def ahead(self, point: int) -> int:
        """Furthest next point that leaves no span unreached between the two.

        No further than the point itself if none of those that may be chosen does.
        """
        spans, points = self.spans, self.points
        end = spans.first_high[bisect_right(spans.lows, point - self.margin)] - self.margin
        return end if points is None else points[bisect_right(points, end) - 1]

    def behind(self, point: int) -> int:
        """Furthest point before, likewise; some point before must leave none unreached."""
        spans, points = self.spans, self.points
        end = spans.last_low[bisect_left(spans.highs, point + self.margin)] + self.margin
        return end if points is None else points[bisect_left(points, end)]

    def steps(self, start: int, finish: int, most: int) -> int:
        """Fewest steps of a chain from start to finish or past it; over `most`, most + 1."""
        point, count = start, 1
        while (following := self.ahead(point)) < finish:
            if count >= most or following <= point:
                return most + 1
            point, count = following, count + 1
        return count

    def windows(self, start: int, finish: int, steps: int) -> list[tuple[int, int]]:
        """Where each point between the two can lie in a chain of so many steps.

        No earlier than leaves the rest able to come to the finish, no later than leaves no span
        behind. There must be such a chain.
        """
        latest, earliest = [start], [finish]
        for _ in range(steps - 1):
            latest.append(self.ahead(latest[-1]))
            earliest.append(self.behind(earliest[-1]))
        return list(zip(reversed(earliest[1:]), latest[1:], strict=True))


def widest(tries: Sequence[int], works: Callable[[int], bool]) -> int:
    """Find the last of some rising margins that works; the first is known to.

    What works with a margin works with every narrower one.
    """
    return tries[bisect_left(tries, x=True, lo=1, key=lambda margin: not works(margin)) - 1]
