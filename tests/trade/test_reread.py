import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.reread import reread, reread_round
from snugset.units import Quantity

from .amounts import EIGHT, q

READINGS = st.integers(1, 120).map(lambda x: q(f"{x} thou"))
CHANGES = st.integers(-60, 60).map(lambda x: q(f"{x} thou"))


def test_35_agrees_with_a_prediction_of_40() -> None:
    """Common practice: from 9.641 in to 9.621 in predicts 40 from 60; 35 agrees in the doubt."""
    found = reread(q("60 thou"), q("-20 thou"), q("35 thou"), q("4 thou"))
    assert (found.predicted, found.difference) == (q("40 thou"), q("-5 thou"))
    assert found.flag == "agrees"


@pytest.mark.parametrize(
    ("after", "doubt", "flag"),
    [
        ("46", "0", "agrees"), ("46.1", "0", "off"),  # .006 in: common practice
        ("48", "6", "agrees"), ("48.6", "6", "off"),  # √2 × 6 = 8.5
        ("60", "4", "old"), ("58", "4", "old"), ("54", "4", "old"), ("53.9", "4", "off"),
    ],
)  # fmt: skip
def test_flags_about_a_change_of_20(after: str, doubt: str, flag: str) -> None:
    assert reread(q("60 thou"), q("-20 thou"), q(f"{after} thou"), q(f"{doubt} thou")).flag == flag


@pytest.mark.parametrize(("after", "flag"), [("56", "old"), ("55", "agrees"), ("54", "agrees")])
def test_between_old_and_predicted_the_nearer_one_holds(after: str, flag: str) -> None:
    """A change of 10 within a doubt of 6: both are in reach of some readings."""
    assert reread(q("60 thou"), q("-10 thou"), q(f"{after} thou"), q("1 thou")).flag == flag


def test_the_tolerance_of_the_new_pushrod_is_part_of_the_doubt() -> None:
    found = reread(q("60 thou"), q("-20 thou"), q("49 thou"), q("4 thou"), tolerance=q("7 thou"))
    # √(4² + 4² + 7²) = 9.
    assert (found.doubt, found.flag) == (q("9 thou"), "agrees")


def test_the_eight_with_one_old_pushrod_left_in() -> None:
    """Measured again as predicted after +25, but the exhaust of five reads 16: the old one."""
    after = {place: Quantity(before.value + 25, "thou") for place, before in EIGHT.items()}
    after["5E"] = q("16 thou")
    found = reread_round(
        {place: (EIGHT[place], q("25 thou"), after[place]) for place in EIGHT}, q("4 thou")
    )
    assert found.flag == "old"
    assert [place for place, one in found.places.items() if one.flag == "old"] == ["5E"]
    assert all(one.flag == "agrees" for place, one in found.places.items() if place != "5E")


def test_all_off_alike_has_one_cause() -> None:
    """Lengths measured another way differ by about .017 in on common ends."""
    round_ = {
        place: (before, q("25 thou"), Quantity(before.value + 25 - 17, "thou"))
        for place, before in EIGHT.items()
    }
    assert reread_round(round_, q("4 thou")).flag == "all-off-alike"
    round_["1I"] = (EIGHT["1I"], q("25 thou"), EIGHT["1I"])
    one_old = reread_round(round_, q("2 thou"))
    assert (one_old.flag, one_old.places["1I"].flag) == ("all-off-alike", "old")


def test_a_single_place_off_is_only_off() -> None:
    round_ = {
        place: (x, q("25 thou"), Quantity(x.value + 25, "thou")) for place, x in EIGHT.items()
    }
    round_["3I"] = (EIGHT["3I"], q("25 thou"), q("50 thou"))
    assert reread_round(round_, q("4 thou")).flag == "off"
    del round_["3I"]
    assert reread_round(round_, q("4 thou")).flag == "agrees"


@given(READINGS, CHANGES, READINGS)
def test_the_flag_is_the_same_whatever_the_unit(
    before: Quantity, change: Quantity, after: Quantity
) -> None:
    inch = reread(before, change, after, q("4 thou"))
    metric = reread(before.to("mm"), change.to("in"), after.to("mm"), q("0.1016 mm"))
    assert (metric.flag, metric.predicted.unit) == (inch.flag, "mm")
    assert metric.difference.in_("thou") == inch.difference.value


@given(READINGS, CHANGES)
def test_a_reading_as_predicted_agrees(before: Quantity, change: Quantity) -> None:
    after = Quantity(before.value + change.value, "thou")
    assert reread(before, change, after, q("4 thou")).flag == "agrees"
