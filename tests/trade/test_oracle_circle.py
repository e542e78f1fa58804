"""Setting points against an exact solver: no fewer points, no wider margin, no more on marks."""

import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

import numpy as np
import pytest
from numpy.typing import NDArray

from snugset.trade.camshaft import Events, arcs, even_intervals
from snugset.trade.circle import Arc
from snugset.trade.ring import cover

from .solver import Block, agree, fewest, more_than

TICK = 4_000_000
"""Ticks a degree: an arc's end is a whole number of them, and so is half of half their distance."""
ROUND = 720 * TICK
FINEST = 2
"""Ticks of half a millionth of a degree: no two margins that can matter lie closer."""
SHARES = 10
CASES = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """Closed arcs to be reached with a margin, and marks to aim at."""

    cylinders: int
    arcs: tuple[Arc, ...]
    margin: int
    marks: frozenset[Decimal]

    @property
    def possible(self) -> bool:
        return all(arc.full or arc.length >= 2 * self.margin for arc in self.arcs)


def cases(seed: int, count: int = CASES) -> Iterator[Case]:
    draw = random.Random(f"circle {seed}")  # noqa: S311  # cases, no secrets
    for _ in range(count):
        cylinders = draw.randint(1, 24)
        margin = draw.choice([0, 5, 20])
        make = draw.choice([scattered, engine])
        found = make(draw, cylinders, margin)
        if draw.random() < 0.03:
            low = Decimal(draw.randrange(720))
            found[draw.randrange(len(found))] = Arc(low=low, high=low + draw.randint(-30, 39))
        marks = {Decimal(draw.randrange(720)) for _ in range(draw.choice([0, 0, 3, 12]))}
        yield Case(cylinders=cylinders, arcs=tuple(found), margin=margin, marks=frozenset(marks))


def scattered(draw: random.Random, cylinders: int, margin: int) -> list[Arc]:
    """Arcs of any length anywhere, over the seam, full ones among them."""
    longest = draw.choice([90, 200, 300, 480, 719])
    found = []
    for _ in range(cylinders * draw.choice([1, 2])):
        low = Decimal(draw.randrange(-7200, 14400)) / 10
        length = 720 if draw.random() < 0.03 else draw.randint(2 * margin, max(longest, 2 * margin))
        found.append(Arc(low=low, high=low + length))
    return found


def engine(draw: random.Random, cylinders: int, _: int) -> list[Arc]:
    """Closed arcs of valves or bridges, firing evenly or not."""
    order = draw.sample(range(1, cylinders + 1), cylinders)
    intervals = even_intervals(cylinders)
    if draw.random() < 0.5:
        shares = [draw.randint(1, 9) for _ in order]
        intervals = tuple(720 * Decimal(share) / sum(shares) for share in shares)
    card = Events(
        ivo=draw.randint(-20, 45),
        ivc=draw.randint(20, 75),
        evo=draw.randint(25, 75),
        evc=draw.randint(-20, 45),
        lift=draw.choice(["seat", "advertised", "0.050 in"]),
    )
    return list(arcs(order, intervals, card, bridged=draw.random() < 0.5).values())


def ticks(angle: Decimal) -> int:
    whole = int(angle * TICK)
    assert whole == angle * TICK
    return whole


def table(case: Case, margin: int, points: NDArray[np.int64] | None = None) -> NDArray[np.bool_]:
    """Which arc, less a margin in ticks, each point reaches.

    Without points: every end, and one point between any two ends that follow each other. All that
    a point can reach, one of these reaches.
    """
    lows = np.array([ticks(arc.low) for arc in case.arcs]) + margin
    lengths = np.array([ticks(arc.length) for arc in case.arcs]) - 2 * margin
    if points is None:
        ends = np.unique(np.concatenate([lows, lows + lengths]) % ROUND)
        points = np.concatenate([ends, (ends + np.roll(ends, -1)) // 2])
        points[-1] = (ends[0] + ROUND + ends[-1]) // 2
        marks = [ticks(mark) for mark in sorted(case.marks)]
        points = np.concatenate([points, np.array(marks, np.int64)])
    inside: NDArray[np.bool_] = (points - lows[:, None]) % ROUND <= lengths[:, None]
    inside[[arc.full for arc in case.arcs]] = True
    return inside


def proofs(case: Case) -> Iterator[Block]:
    """Everything that the solver has to agree with."""
    asked = case.margin * TICK
    if not case.possible:
        with pytest.raises(ValueError, match="twice the margin"):
            cover(case.arcs, Decimal(case.margin))
        yield more_than(table(case, asked), len(case.arcs))
        return
    found = cover(case.arcs, Decimal(case.margin), marks=case.marks)
    count, widest = len(found.points), ticks(found.margin)
    points = np.array([ticks(point) for point in found.points])
    assert found.margin >= case.margin
    assert table(case, widest, points).any(axis=1).all(), case
    yield fewest(np.unique(table(case, asked), axis=1), count)
    if not all(arc.full for arc in case.arcs):
        yield more_than(np.unique(table(case, widest + FINEST), axis=1), count)
    if case.marks:
        best = table(case, widest)
        costs = np.zeros(best.shape[1], np.int64)
        costs[-len(case.marks) :] = -1
        on_marks = sum(point in case.marks for point in found.points)
        yield Block(table=best, costs=costs, had=-on_marks, most=count)


@pytest.mark.parametrize("share", range(SHARES))
def test_fewest_points_widest_margin_most_marks(share: int) -> None:
    agree([block for case in cases(share) for block in proofs(case)])


def test_the_cases_hold_what_engines_hold() -> None:
    seen = Counter[str]()
    sizes = set()
    for share in range(SHARES):
        for case in cases(share):
            sizes.add(case.cylinders)
            seen["cases"] += 1
            seen["over the seam"] += any(
                not arc.full and arc.low % 720 + arc.length > 720 for arc in case.arcs
            )
            seen["full"] += any(arc.full for arc in case.arcs)
            seen["empty"] += any(arc.empty for arc in case.arcs)
            seen["too short"] += not case.possible
            seen["marks"] += bool(case.marks)
    assert seen["cases"] == 5000
    assert sizes == set(range(1, 25))
    assert min(seen.values()) >= 50, seen
