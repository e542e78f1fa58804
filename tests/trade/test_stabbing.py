"""The search for pushrod lengths is exact: nothing that can be tried by hand is better."""

import random
from collections.abc import Iterator, Sequence
from itertools import combinations

import pytest

from snugset.trade.closest import closest
from snugset.trade.line import Span, fewest, widest

Case = tuple[list[int], list[Span]]
Cost = tuple[int, int, int]


def cases(seed: int, count: int, *, reach: int = 12) -> Iterator[Case]:
    """Small cases: a few points and spans, some of which no point reaches."""
    draw = random.Random(seed)  # noqa: S311  # cases, no secrets
    for _ in range(count):
        points = sorted(draw.sample(range(40), draw.randint(1, 7)))
        spans = []
        for _ in range(draw.randint(1, 6)):
            low = draw.randint(0, 34)
            high = low + draw.randint(0, reach)
            spans.append(Span(low=low, high=high, ideal=draw.randint(low - 4, high + 4)))
        yield points, spans


def sets(points: Sequence[int], most: int) -> Iterator[tuple[int, ...]]:
    for size in range(1, most + 1):
        yield from combinations(points, size)


def reached(chosen: Sequence[int], spans: Sequence[Span]) -> bool:
    return all(any(span.low <= point <= span.high for point in chosen) for span in spans)


def cost(chosen: Sequence[int], spans: Sequence[Span]) -> Cost:
    """Cost each span by its best point, in plain words: inside first, then near the ideal."""
    total = [0, 0, 0]
    for span in spans:
        inside = [point for point in chosen if span.low <= point <= span.high]
        if inside:
            total[2] += min(abs(point - span.ideal) for point in inside)
        else:
            gap, far = min(
                (max(span.low - point, point - span.high), abs(point - span.ideal))
                for point in chosen
            )
            total[0], total[1], total[2] = total[0] + 1, total[1] + gap, total[2] + far
    return total[0], total[1], total[2]


def test_no_set_is_smaller() -> None:
    for points, spans in cases(1, 2500):
        best = next((some for some in sets(points, len(points)) if reached(some, spans)), None)
        assert fewest(points, spans) == (None if best is None else len(best)), (points, spans)


def test_no_set_as_small_has_a_wider_least_margin() -> None:
    tried = 0
    for points, spans in cases(2, 4000, reach=24):
        count = fewest(points, spans)
        if count is None:
            continue
        tried += 1
        margins = (
            min(max(span.margin(point) for point in some) for span in spans)
            for some in sets(points, count)
        )
        assert widest(points, spans, count) == max(margins), (points, spans)
    assert tried > 1000


@pytest.mark.parametrize("most", [1, 2, 3])
def test_no_set_misses_fewer_or_comes_closer(most: int) -> None:
    for points, spans in cases(2 + most, 1000):
        found = closest(points, spans, most)
        best = min((cost(some, spans), len(some), some) for some in sets(points, most))
        assert (cost(found.points, spans), found.missed) == (best[0], best[0][0]), (points, spans)
        assert found.points == best[2], (points, spans)


def test_each_span_takes_the_best_of_the_points() -> None:
    spans = [Span(low=0, high=10, ideal=5), Span(low=20, high=30, ideal=21)]
    assert closest([4, 22, 29], spans, 2).taken == (4, 22)


def test_a_narrowed_span_may_be_empty() -> None:
    assert fewest([5], [Span(low=0, high=10, ideal=5).narrowed(6)]) is None
