"""The fewest points that reach every arc of a circle: exact, and proved by how it is found.

Some point must lie in the shortest arc, and it may be moved on to the first end of an arc that it
alone reaches. So only the ends of arcs inside the shortest one can be first; from each of them,
going on every time as far as leaves no arc behind is the best that can be done. The least over
those few starts is the fewest there are. The widest margin is found by the same test: as all arcs
shrink together, the order of their ends changes only where one's high meets another's low, so the
widest margin that still works is half the distance between two ends, and they are tried by halving.

All angles are whole numbers of half millionths of a degree: no rounding anywhere.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Collection, Sequence
from decimal import Decimal

from snugset.trade.circle import CYCLE, Arc
from snugset.trade.stabbing import Reach, Spans, widest
from snugset.values import dataclass

_GRAIN = 2_000_000
_ROUND = int(CYCLE) * _GRAIN


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """Fewest points that reach every arc with the widest least margin."""

    points: tuple[Decimal, ...]
    """Angles 0 ≤ angle < 720, as many as are needed and no more, in running order."""
    margin: Decimal
    """The widest margin that every arc can have from some point, with that many points."""


@dataclass(frozen=True, slots=True)
class _Ring:
    """The arcs that are not full, laid out over five laps so that no step sees the seam."""

    arcs: tuple[tuple[int, int], ...]
    spans: Spans

    @classmethod
    def of(cls, arcs: Sequence[tuple[int, int]]) -> "_Ring":
        laps = range(-2 * _ROUND, 3 * _ROUND, _ROUND)
        return cls(
            tuple(arcs), Spans.of((low + lap, high + lap) for lap in laps for low, high in arcs)
        )

    def ends_inside(self, arc: tuple[int, int], margin: int) -> set[int]:
        """Highs of shrunk arcs inside a shrunk arc."""
        ends = {(high - margin) % _ROUND for _, high in self.arcs}
        return {end for end in ends if _inside(end, arc, margin)}

    def fewest(self, margin: int, most: int) -> int:
        """Fewest points for arcs shrunk by a margin, or most + 1 if more than `most`."""
        shortest = min(self.arcs, key=lambda arc: arc[1] - arc[0])
        reach, found = Reach(self.spans, margin), most + 1
        for start in self.ends_inside(shortest, margin):
            found = min(found, reach.steps(start, start + _ROUND, found - 1))
        return found

    def widest(self, count: int, floor: int) -> int:
        """Widest margin, at least the floor, at which so many points do."""
        top = min(high - low for low, high in self.arcs) // 2
        ways = {high - low for _, high in self.arcs for low, _ in self.arcs}
        halves = {way % _ROUND // 2 for way in ways}
        tries = [floor, *sorted(half for half in halves if floor < half <= top)]
        return widest(tries, lambda margin: self.fewest(margin, count) <= count)

    def chain(
        self, start: int, count: int, margin: int, marks: set[int]
    ) -> tuple[int, tuple[int, ...]] | None:
        """So many points from start that reach everything, most of them on marks; None if none.

        Layer by layer: each point lies in its window, on a mark or as far on as it may. Off the
        marks nothing is gained by less: a mark that it would pass could be had without it.
        """
        reach, finish = Reach(self.spans, margin), start + _ROUND
        if reach.steps(start, finish, count) > count:
            return None
        spots = sorted(mark + lap for mark in marks for lap in (0, _ROUND))
        layer: dict[int, tuple[int, tuple[int, ...]]]
        layer = {start: (int(start in marks), (start,))}
        for least, _ in reach.windows(start, finish, count):
            following: dict[int, tuple[int, tuple[int, ...]]] = {}
            for point, (score, path) in layer.items():
                furthest = reach.ahead(point)
                low, high = bisect_left(spots, max(least, point + 1)), bisect_right(spots, furthest)
                for spot in {*spots[low:high], furthest}:
                    better = score + (spot % _ROUND in marks)
                    if spot >= least and better > following.get(spot, (-1,))[0]:
                        following[spot] = (better, (*path, spot))
            layer = following
        return max(layer.values(), key=lambda found: (found[0], -found[1][-1]))


def cover(
    arcs: Sequence[Arc], margin: Decimal, *, marks: Collection[Decimal] = (), first: int = 0
) -> Cover:
    """Find the fewest points that reach every arc with a margin, and the widest they all can have.

    Among equals: most points on marks (angles of the cycle), then the one inside the first arc
    come to soonest from angle 0 on. ValueError if an arc is too short for the margin, or there is
    none.
    """
    if not arcs or any(arc.most < margin for arc in arcs):
        raise ValueError("every arc must be at least twice the margin long")
    ends = [(_grains(arc.low) % _ROUND, _grains(arc.length)) for arc in arcs]
    spots = {_grains(mark) % _ROUND for mark in marks}
    bounded = [(low, low + length) for low, length in ends if length < _ROUND]
    if not bounded:
        return Cover(points=(_angle(min(spots, default=0)),), margin=CYCLE / 2)
    ring = _Ring.of(bounded)
    count = ring.fewest(_grains(margin), len(bounded))
    best = ring.widest(count, _grains(margin))
    low, length = ends[first]
    home = (low, low + length) if length < _ROUND else bounded[0]
    starts = ring.ends_inside(home, best) | {s for s in spots if _inside(s, home, best)}
    chains = [ring.chain(start, count, best, spots) for start in starts]
    _, path = max(
        (chain for chain in chains if chain is not None),
        key=lambda chain: (chain[0], -chain[1][0]),
    )
    return Cover(
        points=tuple(_angle(point) for point in sorted(point % _ROUND for point in path)),
        margin=_angle(best),
    )


def _inside(point: int, arc: tuple[int, int], margin: int) -> bool:
    low, high = arc
    return (point - low - margin) % _ROUND <= high - low - 2 * margin


def _grains(angle: Decimal) -> int:
    return int(angle * _GRAIN)


def _angle(grains: int) -> Decimal:
    return Decimal(grains) / _GRAIN
