"""The gap over a collapsed lifter, beside its scratch line."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.collapsed import collapsed
from snugset.trade.fault import FigureError

from .amounts import q

RATIO = Decimal("1.6")
TRAVEL = q("140 thou")


def test_a_gap_at_the_valve_is_so_much_over_r_of_travel_left() -> None:
    """Derived: g/R is left, the rest is preload; U comes down by R as well."""
    found = collapsed(q("168 thou"), RATIO, TRAVEL, uncertainty=q("4 thou"))
    assert found.travel_left == q("105 thou")
    assert found.preload == q("35 thou")
    assert found.uncertainty == q("2.5 thou")
    assert found.verdict == "no-limit"


@pytest.mark.parametrize(
    ("scratch", "agrees"),
    [("35 thou", True), ("41 thou", True), ("41.1 thou", False), ("0.7 mm", False)],
)
def test_a_cross_check_on_the_scratch_line(scratch: str, agrees: bool) -> None:  # noqa: FBT001  # a case
    """Within .006 in of one another: common practice."""
    found = collapsed(q("168 thou"), RATIO, TRAVEL, scratch=q(scratch))
    assert found.against is not None
    assert found.against.agrees is agrees
    assert found.against.doubt == q("6 thou")


def test_a_doubtful_gap_widens_what_agrees() -> None:
    """√((8/1.6)² + 4.6²) = 6.8."""
    found = collapsed(q("168 thou"), RATIO, TRAVEL, scratch=q("41.8 thou"), uncertainty=q("8 thou"))
    assert found.against is not None
    assert (found.against.doubt, found.against.agrees) == (q("6.8 thou"), True)


@pytest.mark.parametrize(
    ("gap", "verdict", "preload"),
    [
        ("0 thou", "bottomed", "140 thou"), ("160 thou", "in", "40 thou"),
        ("184 thou", "inside", "25 thou"), ("224 thou", "loose", "0 thou"),
        ("232 thou", "loose", "-5 thou"), ("80 thou", "high", "90 thou"),
    ],
)  # fmt: skip
def test_verdicts(gap: str, verdict: str, preload: str) -> None:
    window = (q("20 thou"), q("60 thou"))
    found = collapsed(q(gap), RATIO, TRAVEL, window=window, uncertainty=q("8.1 thou"))
    assert (found.verdict, found.preload) == (verdict, q(preload))


@given(st.integers(1, 200), st.integers(1, 200))
def test_more_gap_is_less_preload_whatever_the_unit(gap: int, more: int) -> None:
    less = collapsed(q(f"{gap + more} thou"), RATIO, TRAVEL)
    here = collapsed(q(f"{gap} thou").to("mm"), RATIO, TRAVEL)
    assert less.preload.number("thou") < here.preload.number("thou")
    left = here.travel_left.number("thou") + here.preload.number("thou")
    assert left == pytest.approx(140, abs=0.05)


@pytest.mark.parametrize(
    ("gap", "ratio", "travel", "message"),
    [
        ("-1 thou", "1.6", "140 thou", "gap: a gap is never negative; type 0 if no leaf goes in"),
        ("9 thou", "0", "140 thou",
         "ratio: 0 is no rocker ratio; they run from about 1 to 2, such as 1.6"),
        ("9 thou", "1.6", "0 thou",
         "travel: 0 thou is no travel; take the plunger's whole travel from its maker"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(gap: str, ratio: str, travel: str, message: str) -> None:
    with pytest.raises(FigureError) as refused:
        collapsed(q(gap), Decimal(ratio), q(travel))
    assert str(refused.value) == message
