"""The whole pushrod decision against an exact solver, for one to twenty-four cylinders."""

import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

import numpy as np
import pytest
from numpy.typing import NDArray

from snugset.trade.pushrods import Order, order
from snugset.units import Quantity

from .solver import Block, agree, fewest, more_than, nearest

SHARES = 4
CASES = 250
IN_HAND = 9600


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """What is known before pushrods are ordered, in thou."""

    readings: Mapping[str, int]
    doubts: Mapping[str, int]
    low: int
    high: int
    target: int
    step: int | None
    lengths: tuple[int, ...]
    most: int | None

    def order(self) -> Order:
        catalogue = thou(self.step) if self.step else tuple(map(thou, self.lengths))
        return order(
            {place: thou(reading) for place, reading in self.readings.items()},
            (thou(self.low), thou(self.high)),
            uncertainty={place: thou(doubt) for place, doubt in self.doubts.items()},
            fitted=thou(IN_HAND),
            catalogue=catalogue,
            target=thou(self.target),
            most=self.most,
        )

    @property
    def predicted(self) -> NDArray[np.int64]:
        """What each place would read with each length."""
        change = np.array(self.lengths, np.int64) - IN_HAND
        return change + np.array(list(self.readings.values()), np.int64)[:, None]

    def table(self, margin: int, *, guarded: bool) -> NDArray[np.bool_]:
        """Which length serves which place, with so much to spare."""
        guard = margin + np.array([[doubt * guarded] for doubt in self.doubts.values()])
        read = self.predicted
        return (read >= self.low + guard) & (read <= self.high - guard)


def thou(number: int) -> Quantity:
    return Quantity(Decimal(number), "thou")


def cases(seed: int) -> Iterator[Case]:
    draw = random.Random(f"order {seed}")  # noqa: S311  # cases, no secrets
    for _ in range(CASES):
        cylinders = draw.randint(1, 24)
        places = [f"{n}{valve}" for n in range(1, cylinders + 1) for valve in "IE"]
        base, apart = draw.randint(1, 60), draw.choice([10, 40, 100, 250])
        readings = {place: base + draw.randint(0, apart) for place in places}
        low = draw.randint(20, 30)
        high = low + draw.choice([10, 20, 40])
        doubt = draw.choice([0, 2, 4, 9])
        step = draw.choice([None, 2, 5, 10, 14, 20, 25])
        # Every length that brings any place anywhere near the window.
        ends = low - base - apart, high - base
        every = range(ends[0] - ends[0] % step - step, ends[1] + 2 * step, step) if step else None
        listed = sorted(draw.sample(range(ends[0], ends[1] + 1), draw.randint(1, 9)))
        yield Case(
            readings=readings,
            doubts={place: draw.choice([doubt, draw.randint(0, doubt)]) for place in places},
            low=low,
            high=high,
            target=draw.randint(low, high),
            step=step,
            lengths=tuple(IN_HAND + change for change in (every or listed)),
            most=draw.choice([None, None, 1, 2, 4]),
        )


def proofs(case: Case, found: Order) -> Iterator[Block]:
    """Everything that the solver has to agree with."""
    places = list(case.readings)
    most = case.most or len(places)
    read = {place: int(fit.predicted.value) for place, fit in found.fits.items()}
    if found.standard != "proved":
        yield more_than(case.table(0, guarded=True), most)
    if found.standard == "none":
        yield more_than(case.table(0, guarded=False), most)
        outside = [place for place in places if not case.low <= read[place] <= case.high]
        assert found.fails == tuple(outside)
        inside = case.table(0, guarded=False)
        yield nearest((~inside).astype(np.int64), most, len(outside))
        return
    guarded, count = found.standard == "proved", len(found.batches)
    margin = int(found.least_margin.value)
    best = case.table(margin, guarded=guarded)
    for row, fit in enumerate(found.fits.values()):
        assert best[row, case.lengths.index(int(fit.length.in_("thou")))]
    assert found.fails == ()
    assert 1 <= count <= most
    yield fewest(case.table(0, guarded=guarded), count)
    yield more_than(case.table(margin + 1, guarded=guarded), count)
    had = sum(abs(value - case.target) for value in read.values())
    yield nearest(np.abs(case.predicted - case.target), count, had, open_to=best)


@pytest.mark.parametrize("share", range(SHARES))
def test_standard_lengths_margin_and_closeness(share: int) -> None:
    seen = {"proved": 0, "inside": 0, "none": 0}
    blocks: list[Block] = []
    for case in cases(share):
        found = case.order()
        seen[found.standard] += 1
        blocks += proofs(case, found)
    assert min(seen.values()) >= 20, seen
    agree(blocks)
