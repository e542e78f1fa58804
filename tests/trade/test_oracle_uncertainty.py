"""Uncertainty against independent libraries: linear propagation (JCGM 100), distributions."""

import math
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats  # type: ignore[import-untyped]
from uncertainties import ufloat  # type: ignore[import-untyped]

from snugset.trade.collapsed import collapsed
from snugset.trade.lash import measured
from snugset.trade.reread import THRESHOLD, reread
from snugset.trade.uncertainty import (
    STUDENT,
    combine,
    leaves_term,
    of_mean,
    of_pair,
    pool,
    rectangular,
    student,
    triangular,
)
from snugset.trade.verdict import chance_inside
from snugset.units import Quantity

TENTH = 0.05 + 1e-9
"""U is given to a tenth of a thou."""

tenths = st.integers(1, 100).map(lambda number: number / 10)
readings = st.integers(10, 90)


def thou(number: float) -> Quantity:
    return Quantity(Decimal(str(number)), "thou")


# --- Student's t ----------------------------------------------------------------------------------


@pytest.mark.parametrize("freedom", STUDENT)
def test_the_table_is_the_quantile_to_a_thousandth(freedom: int) -> None:
    assert STUDENT[freedom] == round(float(stats.t.ppf(0.975, freedom)), 3)


@given(st.floats(1, 100))
def test_between_the_rows_t_is_never_too_small_and_little_too_large(freedom: float) -> None:
    exact = float(stats.t.ppf(0.975, freedom))
    assert student(freedom) >= exact - 0.0005
    # From one degree to two the quantile itself falls by two thirds, from ten to eleven by 1.2 %.
    assert freedom < 10 or student(freedom) <= exact * 1.013


@given(st.floats(100, 1e6))
def test_past_the_last_row_t_errs_on_the_wide_side(freedom: float) -> None:
    assert 0 <= student(freedom) - float(stats.t.ppf(0.975, freedom)) < 0.025


# --- one error ------------------------------------------------------------------------------------


@given(tenths)
def test_half_widths_have_the_deviation_of_their_distribution(half: float) -> None:
    assert rectangular(half) == pytest.approx(stats.uniform(-half, 2 * half).std())
    assert triangular(half) == pytest.approx(stats.triang(0.5, -half, 2 * half).std())


@given(st.lists(tenths, min_size=1, max_size=6))
def test_independent_parts_combine_as_their_sum_does(parts: list[float]) -> None:
    assert combine(*parts) == pytest.approx(sum(ufloat(0, part) for part in parts).std_dev)


@given(tenths, st.integers(1, 10))
def test_the_leaves_of_a_stack_each_err_their_own_way(tolerance: float, leaves: int) -> None:
    stack = sum(ufloat(10, rectangular(tolerance)) for _ in range(leaves))
    assert leaves_term(tolerance, leaves) == pytest.approx(stack.std_dev)


# --- what a mean is worth -------------------------------------------------------------------------


@given(readings, st.integers(1, 5), tenths, tenths, st.integers(1, 3))
def test_u_of_a_mean(
    reading: int, count: int, repeatability: float, tolerance: float, leaves: int
) -> None:
    """The same leaves serve every take: their errors do not average away."""
    takes = [ufloat(reading, rectangular(repeatability)) for _ in range(count)]
    stack = sum(ufloat(0, rectangular(tolerance)) for _ in range(leaves))
    mean = sum(take + stack for take in takes) / count
    found = of_mean(
        [thou(reading)] * count,
        repeatability=thou(repeatability),
        leaf_tolerance=thou(tolerance),
        leaves=leaves,
    )
    assert found.number("thou") == pytest.approx(2 * mean.std_dev, abs=TENTH)


pairs = st.lists(st.tuples(readings, readings), min_size=6, max_size=40).filter(
    lambda found: any(one != two for one, two in found)
)


@given(pairs, tenths, tenths, st.integers(1, 3))
def test_pooled_pairs(
    found: list[tuple[int, int]], line: float, tolerance: float, leaves: int
) -> None:
    """Pairs pool to the root of the mean of their variances; t covers what they show, k = 2 the
    rest.
    """
    pooled = pool([(thou(one), thou(two)) for one, two in found])
    assert pooled is not None
    deviation = math.sqrt(np.var(np.array(found), axis=1, ddof=1).mean())
    assert pooled.deviation == pytest.approx(deviation)
    assert pooled.freedom == len(found)
    one, two = ufloat(30, deviation), ufloat(30, deviation)
    shared = ufloat(0, rectangular(line)) + sum(
        ufloat(0, rectangular(tolerance)) for _ in range(leaves)
    )
    wide = student(len(found)) / 2 * ((one + two) / 2 - 30) + shared
    doubt = of_pair(pooled, line=thou(line), leaf_tolerance=thou(tolerance), leaves=leaves)
    assert doubt.number("thou") == pytest.approx(2 * wide.std_dev, abs=TENTH)


# --- what is reckoned from readings ---------------------------------------------------------------


@given(readings, st.integers(-40, 40), readings, tenths, tenths)
def test_a_reading_again_against_its_prediction(
    before: int, change: int, after: int, doubt: float, tolerance: float
) -> None:
    predicted = ufloat(before, doubt / 2) + ufloat(change, tolerance / 2)
    off = ufloat(after, doubt / 2) - predicted
    found = reread(thou(before), thou(change), thou(after), thou(doubt), tolerance=thou(tolerance))
    assert found.difference.number("thou") == pytest.approx(off.nominal_value)
    allowed = max(2 * off.std_dev, THRESHOLD.number("thou"))
    assert found.doubt.number("thou") == pytest.approx(allowed, abs=TENTH)


@given(st.integers(1, 90), st.sampled_from(["1.5", "1.6", "1.73"]), tenths)
def test_preload_over_a_collapsed_lifter(gap: int, ratio: str, doubt: float) -> None:
    left = ufloat(gap, doubt / 2) / float(ratio)
    found = collapsed(thou(gap), Decimal(ratio), thou(140), uncertainty=thou(doubt))
    assert found.preload.number("thou") == pytest.approx(140 - left.nominal_value, rel=5e-4)
    assert found.uncertainty.number("thou") == pytest.approx(2 * left.std_dev, abs=TENTH)


@given(st.integers(5, 40), st.integers(5, 40), tenths)
def test_lash_measured_hot_and_cold(hot: int, cold: int, doubt: float) -> None:
    by = ufloat(cold, doubt / 2) - ufloat(hot, doubt / 2)
    found = measured(thou(hot), thou(cold), uncertainty=thou(doubt))
    assert found.size.number("thou") == pytest.approx(by.nominal_value)
    assert found.uncertainty.number("thou") == pytest.approx(2 * by.std_dev, abs=TENTH)


@given(readings, tenths, st.integers(0, 50), st.integers(50, 100))
def test_the_chance_that_a_value_lies_inside(x: int, doubt: float, low: int, high: int) -> None:
    """JCGM 106 (from memory): normal about the reading, U/2 wide."""
    normal = stats.norm(x, doubt / 2)
    assert chance_inside(thou(x), thou(doubt), thou(low), thou(high)) == pytest.approx(
        normal.cdf(high) - normal.cdf(low), abs=1e-12
    )
    assert chance_inside(thou(x), thou(doubt), low=thou(low)) == pytest.approx(
        normal.sf(low), abs=1e-12
    )
