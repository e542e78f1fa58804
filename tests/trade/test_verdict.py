import math
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.verdict import Verdict, chance_inside, decide
from snugset.units import Quantity

from .amounts import q

LENGTHS = st.decimals(min_value=0, max_value=200, places=2).map(lambda x: Quantity(x, "thou"))


@pytest.mark.parametrize(
    ("value", "verdict"),
    [
        ("25.9", "low"), ("26", "outside"), ("29.99", "outside"), ("30", "inside"),
        ("33.99", "inside"), ("34", "in"), ("36", "in"), ("36.01", "inside"), ("40", "inside"),
        ("40.01", "outside"), ("44", "outside"), ("44.01", "high"),
    ],
)  # fmt: skip
def test_the_zones_of_a_window(value: str, verdict: str) -> None:
    """Guard bands of U on both sides of each limit.

    ILAC-G8:09/2019 §4.2.3; ISO 14253-1 (from memory).
    """
    assert decide(q(f"{value} thou"), q("4 thou"), q("30 thou"), q("40 thou")) == verdict


@pytest.mark.parametrize(("doubt", "verdict"), [("5", "in"), ("5.1", "inside")])
def test_leaves_of_17_and_18_are_in_the_window_up_to_a_doubt_of_5(doubt: str, verdict: str) -> None:
    """Common practice: 17 and 18 thou read 35, in 30 to 40 if U is 5 or less."""
    assert decide(q("35 thou"), q(f"{doubt} thou"), q("30 thou"), q("40 thou")) == verdict


def test_one_limit_or_none() -> None:
    five, one = q("5 lbf·ft"), q("1 lbf·ft")
    assert decide(five, one) is Verdict.NO_LIMIT
    assert decide(five, one, low=q("4 lbf·ft")) is Verdict.IN
    assert decide(five, one, high=q("4.5 lbf·ft")) is Verdict.OUTSIDE
    assert decide(five, one, high=q("3 lbf·ft")) is Verdict.HIGH


def test_a_value_on_a_limit_is_decided_exactly_whatever_the_unit() -> None:
    # 0.97 mm has no end in thou; on the limit it must still count as inside.
    nothing = q("0 thou")
    assert decide(q("0.97 mm"), nothing, q("0.97 mm"), q("60 thou")) is Verdict.IN
    assert decide(q("35 thou"), nothing, q("0.889 mm"), q("1 mm")) is Verdict.IN


@given(LENGTHS, LENGTHS, LENGTHS, LENGTHS)
def test_the_verdict_is_the_same_in_any_unit(
    value: Quantity, doubt: Quantity, one: Quantity, other: Quantity
) -> None:
    low, high = sorted((one, other), key=lambda limit: limit.value)
    expected = decide(value, doubt, low, high)
    assert decide(value.to("mm"), doubt.to("in"), low.to("mm"), high) == expected
    assert decide(value.to("in"), doubt.to("mm"), low, high.to("mm")) == expected


@given(st.lists(LENGTHS, min_size=2), LENGTHS)
def test_a_greater_value_never_falls_to_a_lower_zone(
    values: list[Quantity], doubt: Quantity
) -> None:
    """Below the middle the zones come in the order low, outside, inside, in."""
    order = ["low", "outside", "inside", "in"]
    rising = sorted(values, key=lambda value: value.value)
    zones = [order.index(decide(value, doubt, low=q("90 thou"))) for value in rising]
    assert all(before <= after for before, after in pairwise(zones))


def test_every_code_has_words_and_only_the_ends_of_travel_are_no_measurement() -> None:
    assert Verdict.INSIDE.words == "inside, not proved"
    assert Verdict.OUTSIDE.words == "outside, not proved"
    assert [verdict for verdict in Verdict if not verdict.measured] == ["loose", "bottomed"]
    assert all(verdict.words for verdict in Verdict)


def test_limits_that_cross_and_a_negative_doubt_are_refused() -> None:
    with pytest.raises(ValueError, match="above the upper"):
        decide(q("3 thou"), q("1 thou"), q("40 thou"), q("30 thou"))
    with pytest.raises(ValueError, match="never negative"):
        decide(q("3 thou"), q("-1 thou"))


def test_the_chance_of_being_inside() -> None:
    """On a limit the chance is a half; at U inside it, 97.7 % (normal, two sigma)."""
    four, high = q("4 thou"), q("40 thou")
    assert chance_inside(q("40 thou"), four, high=high) == pytest.approx(0.5)
    two_sigma = 0.5 * (1 + math.erf(2 / math.sqrt(2)))
    assert chance_inside(q("36 thou"), four, high=high) == pytest.approx(two_sigma)
    assert chance_inside(q("34 thou"), four, q("30 thou"), q("90 thou")) == pytest.approx(two_sigma)


@pytest.mark.parametrize(("value", "chance"), [("20", 1), ("60", 1), ("19.9", 0), ("60.1", 0)])
def test_without_doubt_the_chance_is_all_or_nothing(value: str, chance: float) -> None:
    window = (q("20 thou"), q("60 thou"))
    assert chance_inside(q(f"{value} thou"), Quantity(Decimal(0), "thou"), *window) == chance
