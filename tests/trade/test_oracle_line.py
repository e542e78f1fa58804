"""Pushrod lengths against an exact solver: no fewer, no wider least margin, none closer."""

import random
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import pytest
from numpy.typing import NDArray

from snugset.trade.closest import closest
from snugset.trade.line import Span, fewest, widest

from . import solver
from .solver import Block, agree, more_than

SHARES = 10
CASES = 650


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """What each place allows, and the lengths that can be had, all in thou."""

    cylinders: int
    points: tuple[int, ...]
    spans: tuple[Span, ...]


def cases(seed: int, count: int = CASES) -> Iterator[Case]:
    draw = random.Random(f"line {seed}")  # noqa: S311  # cases, no secrets
    for _ in range(count):
        cylinders = draw.randint(1, 24)
        base, apart = draw.randint(-60, 60), draw.choice([5, 20, 60, 150, 300])
        window = draw.choice([10, 20, 40])
        doubt = draw.randint(0, window // draw.choice([2, 4, 8]))
        target = draw.randint(0, window)
        spans = []
        for _ in range(cylinders * draw.choice([1, 2])):
            low = base + draw.randint(0, apart)
            guard = draw.choice([doubt, draw.randint(0, doubt)])
            spans.append(Span(low=low + guard, high=low + window - guard, ideal=low + target))
        reach = range(base - 20, base + apart + window + 20)
        step = draw.randint(1, draw.choice([window - 2 * doubt, window]) + 1)
        points = list(reach[draw.randrange(step) :: step])
        if draw.random() < 0.2:
            points = sorted(draw.sample(reach, draw.randint(1, 12)))
        yield Case(cylinders=cylinders, points=tuple(points), spans=tuple(spans))


def table(points: Sequence[int], spans: Sequence[Span], margin: int = 0) -> NDArray[np.bool_]:
    """Which span, less a margin, each point reaches."""
    at = np.array(points)
    low, high = (np.array([getattr(span, end) for span in spans]) for end in ("low", "high"))
    return (at >= low[:, None] + margin) & (at <= high[:, None] - margin)


def proofs(case: Case) -> Iterator[Block]:
    """Everything that the solver has to agree with."""
    points, spans = case.points, case.spans
    count = fewest(points, spans)
    if count is None:
        yield more_than(table(points, spans), len(spans))
        return
    yield solver.fewest(table(points, spans), count)
    margin = widest(points, spans, count)
    yield more_than(table(points, spans, margin + 1), count)
    found = closest(points, [span.narrowed(margin) for span in spans], count)
    assert (len(found.points), found.missed) == (count, 0), case
    assert all(
        span.margin(point) >= margin for span, point in zip(spans, found.taken, strict=True)
    ), case
    away = np.abs(np.array(points) - np.array([span.ideal for span in spans])[:, None])
    had = sum(abs(point - span.ideal) for span, point in zip(spans, found.taken, strict=True))
    yield solver.nearest(away, count, had, open_to=table(points, spans, margin))


@pytest.mark.parametrize("share", range(SHARES))
def test_fewest_points_widest_margin_closest(share: int) -> None:
    agree([block for case in cases(share) for block in proofs(case)])


def test_the_cases_hold_what_pushrods_hold() -> None:
    every = [case for share in range(SHARES) for case in cases(share)]
    counts = Counter(fewest(case.points, case.spans) for case in every)
    assert counts.total() - counts[None] >= 5000
    assert counts[None] >= 1000
    assert min(counts[count] for count in range(1, 16)) >= 20, counts
    assert {case.cylinders for case in every} == set(range(1, 25))


def test_where_not_all_can_be_reached_the_fewest_are_missed_by_the_least() -> None:
    """First the spans missed, then how far outside, then how far from the ideal."""
    draw = random.Random("some missed")  # noqa: S311  # cases, no secrets
    blocks, missing = [], 0
    for _ in range(600):
        points = sorted(draw.sample(range(60), draw.randint(1, 12)))
        lows = [draw.randint(0, 50) for _ in range(draw.randint(1, 12))]
        spans = [
            Span(low=low, high=low + draw.randint(0, 9), ideal=low + draw.randint(-3, 12))
            for low in lows
        ]
        most = draw.randint(1, 3)
        at = np.array(points)
        low, high, ideal = (
            np.array([[getattr(span, name)] for span in spans]) for name in ("low", "high", "ideal")
        )
        outside, away = np.maximum(np.maximum(low - at, at - high), 0), np.abs(at - ideal)
        # Twelve spans, each at most 60 outside and 72 from its ideal.
        prices = ((outside > 0) * 1000 + outside) * 1000 + away
        found = closest(points, spans, most)
        chosen = [points.index(point) for point in found.points]
        taken = [points.index(point) for point in found.taken]
        assert len(chosen) <= most
        assert found.missed == np.count_nonzero(outside[range(len(spans)), taken])
        had = int(prices[range(len(spans)), taken].sum())
        blocks.append(solver.nearest(prices, most, had))
        missing += found.missed > 0
    assert missing > 200
    agree(blocks)
