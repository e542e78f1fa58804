import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.uncertainty import (
    STUDENT,
    Pooled,
    combine,
    leaves_term,
    of_mean,
    of_pair,
    pool,
    rectangular,
    student,
    triangular,
)

from .amounts import q


@pytest.mark.parametrize(
    ("freedom", "published"),
    [(1, 12.706), (2, 4.303), (3, 3.182), (4, 2.776), (5, 2.571), (10, 2.228)],
)
def test_students_t_as_published(freedom: int, published: float) -> None:
    """NIST/SEMATECH e-Handbook 1.3.6.7.2."""
    assert student(freedom) == published


@pytest.mark.parametrize("freedom", STUDENT)
def test_students_t_covers_95_percent(freedom: int) -> None:
    """Every row against the integral of the density, which the rows were not made from."""
    norm = math.gamma((freedom + 1) / 2) / (math.sqrt(freedom * math.pi) * math.gamma(freedom / 2))
    steps, top = 2000, STUDENT[freedom]
    heights = [
        norm * (1 + (top * step / steps) ** 2 / freedom) ** (-(freedom + 1) / 2)
        for step in range(steps + 1)
    ]
    simpson = (heights[0] + heights[-1] + 4 * sum(heights[1:-1:2]) + 2 * sum(heights[2:-1:2])) * (
        top / steps / 3
    )
    # The table is rounded to a thousandth; the density there turns that into this much.
    assert 2 * simpson == pytest.approx(0.95, abs=0.0011 * heights[-1])


@given(st.lists(st.floats(min_value=1, max_value=1000), min_size=2))
def test_more_freedom_never_widens(freedoms: list[float]) -> None:
    widths = [student(freedom) for freedom in sorted(freedoms)]
    assert all(before >= after for before, after in pairwise(widths))


def test_students_t_needs_two_readings() -> None:
    with pytest.raises(ValueError, match="two readings"):
        student(0)


def test_half_widths() -> None:
    """JCGM 100 (from memory): a/√3 and a/√6."""
    assert rectangular(3) == pytest.approx(math.sqrt(3))
    assert triangular(6) == pytest.approx(math.sqrt(6))
    assert combine(3, 4) == 5
    assert leaves_term(0.3, 3) == pytest.approx(0.3)


def test_one_take_within_4_thou() -> None:
    """± .004 in, rectangular, gives U = .0046 in: 2 × .004/√3."""
    assert of_mean([q("35 thou")], repeatability=q("4 thou")) == q("4.6 thou")
    assert of_mean([q(".035 in")], repeatability=q(".004 in")) == q(".0046 in")


@pytest.mark.parametrize(("count", "doubt"), [(2, "3.3 thou"), (3, "2.7 thou")])
def test_more_takes_divide_by_their_root(count: int, doubt: str) -> None:
    """s/√n: 4.62/√2 = 3.27, 4.62/√3 = 2.67."""
    assert of_mean([q("35 thou")] * count, repeatability=q("4 thou")) == q(doubt)


def test_takes_too_far_apart_widen_the_doubt() -> None:
    # Half of 15 thou as a half-width: 2 × 7.5/√3, and no division.
    takes = [q("20 thou"), q("35 thou"), q("34 thou")]
    assert of_mean(takes, repeatability=q("4 thou")) == q("8.7 thou")


def test_leaves_widen_the_doubt_by_their_root_and_are_not_averaged_away() -> None:
    plain = {"repeatability": q("0 thou"), "leaf_tolerance": q("3 thou")}
    # 2 × 3/√3 × √n for one and for three leaves.
    assert of_mean([q("35 thou")], leaves=1, **plain) == q("3.5 thou")
    assert of_mean([q("35 thou")] * 3, leaves=3, **plain) == q("6 thou")


@given(st.integers(1, 3), st.integers(0, 40), st.integers(0, 40))
def test_the_doubt_only_grows_with_the_repeatability(count: int, one: int, other: int) -> None:
    less, more = sorted((one, other))
    takes = [q("35 thou")] * count
    assert (
        of_mean(takes, repeatability=q(f"{less} thou")).value
        <= of_mean(takes, repeatability=q(f"{more} thou")).value
    )


def test_one_pair_says_next_to_nothing() -> None:
    """Two takes 1 thou apart, by themselves, would give t·s/√2 = 6.4 thou."""
    alone = Pooled(deviation=1 / math.sqrt(2), freedom=1)
    assert of_pair(alone) == q("6.4 thou")
    assert pool([(q("35 thou"), q("36 thou"))] * 5) is None


def test_six_pairs_are_pooled() -> None:
    """s = √(Σd²/2m), ν = m: six pairs 2 thou apart give s = √2 and U = 2.447·√2/√2."""
    pooled = pool([(q("35 thou"), q("37 thou"))] * 6)
    assert pooled is not None
    assert pooled.freedom == 6
    assert pooled.deviation == pytest.approx(math.sqrt(2))
    assert of_pair(pooled) == q("2.4 thou")
    # 2·√3/√3 for the line and 2·0.6/√3·√3 for three leaves: √(2.447² + 2² + 1.2²).
    with_line = of_pair(pooled, line=q("1.7320508 thou"), leaf_tolerance=q("0.6 thou"), leaves=3)
    assert with_line == q("3.4 thou")
    assert of_pair(pooled, unit="mm") == q("0.06096 mm")
