from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.fault import FigureError
from snugset.trade.wrench import setting
from snugset.units import Quantity

from .amounts import q

BIG = (q("20 lbf·ft"), q("150 lbf·ft"))


@pytest.mark.parametrize(
    ("torque", "wrench", "adapter", "published"),
    [
        ("300 lbf·in", "10 in", "4 in", 214),  # TM 1-1500-204-23-9 §8-5
        ("100 lbf·ft", "12 in", "6 in", 66.7),  # NAVEDTRA 14315
        ("40 lbf·ft", "12 in", "4 in", 30),  # TM 9-2350-277-40&P
    ],
)
def test_adapters_as_published(torque: str, wrench: str, adapter: str, published: float) -> None:
    found = setting(q(torque), wrench=q(wrench), adapter=q(adapter)).setting
    assert found.unit == q(torque).unit
    assert found.number(found.unit) == pytest.approx(published, rel=2e-3)


@pytest.mark.parametrize(
    ("angle", "expected"), [("90", 40), ("-90", 40), ("180", 60), ("60", 34.29)]
)
def test_the_adapters_angle(angle: str, expected: float) -> None:
    """0 straight out, 90° no change, 180° folded back: T·L/(L + E·cos α)."""
    found = setting(
        q("40 lbf·ft"), wrench=q("12 in"), adapter=q("4 in"), angle=q(f"{angle} deg")
    ).setting
    assert found.number("lbf·ft") == pytest.approx(expected, rel=1e-3)


def test_inch_pounds_of_a_cover_are_under_the_floor_of_a_head_wrench() -> None:
    """55 lbf·in on a wrench that reads to 150 lbf·ft: none claimed below 20 % of full scale."""
    found = setting(q("55 lbf·in"), scale=BIG)
    assert found.in_range is False
    assert found.usable == (q("30 lbf·ft"), q("150 lbf·ft"))
    assert found.setting.unit == "lbf·ft"
    assert found.setting.number("lbf·in") == pytest.approx(55, rel=1e-3)
    assert found.needed[0] == found.setting
    assert found.needed[1].number("lbf·in") == pytest.approx(275, rel=1e-3)


@pytest.mark.parametrize(
    ("torque", "fits"),
    [
        ("29.9 lbf·ft", False), ("30 lbf·ft", True), ("360 lbf·in", True), ("359 lbf·in", False),
        ("150 lbf·ft", True), ("1800 lbf·in", True), ("1801 lbf·in", False), ("22 lbf·ft", False),
    ],
)  # fmt: skip
def test_the_usable_range_is_a_fifth_to_the_whole_of_full_scale(torque: str, fits: bool) -> None:  # noqa: FBT001  # a case
    """TM 1-1500-204-23-9 table 8-1."""
    assert setting(q(torque), scale=BIG).in_range is fits


def test_a_wrench_is_not_used_under_its_own_lowest_mark() -> None:
    narrow = (q("50 lbf·ft"), q("150 lbf·ft"))
    assert setting(q("45 lbf·ft"), scale=narrow).in_range is False
    assert setting(q("50 lbf·ft"), scale=narrow).in_range is True


def test_stages_rise_within_one_wrench() -> None:
    """Common practice: stages of 22, 45 and 110 lbf·ft; the first wants a smaller wrench."""
    fits = [setting(q(f"{stage} lbf·ft"), scale=BIG).in_range for stage in (22, 45, 110)]
    assert fits == [False, True, True]


def test_running_torque_is_added() -> None:
    """AC 43.13-1B §7-40d: add the running torque of a self-locking nut."""
    found = setting(q("20 lbf·ft"), running=q("36 lbf·in"))
    assert found.setting == q("23 lbf·ft")


def test_what_was_typed_is_set_as_typed() -> None:
    assert str(setting(q("22 lbf·ft")).setting) == "22 lbf·ft"
    assert str(setting(q("22.50 lbf·ft"), scale=BIG).setting) == "22.50 lbf·ft"


@given(st.integers(1, 200), st.integers(4, 30), st.integers(0, 12))
def test_an_adapter_straight_out_only_lowers_the_setting(
    torque: int, length: int, offset: int
) -> None:
    wanted = q(f"{torque} lbf·ft")
    inch = setting(wanted, wrench=q(f"{length} in"), adapter=q(f"{offset} in")).setting
    assert inch.value <= wanted.value
    metric = setting(
        wanted,
        wrench=Quantity(Decimal(length) * Decimal("25.4"), "mm"),
        adapter=Quantity(Decimal(offset) * Decimal("25.4"), "mm"),
    ).setting
    assert metric == inch


@pytest.mark.parametrize(
    ("arm", "message"),
    [
        ({"adapter": q("4 in")},
         "wrench: an adapter needs the wrench's length, from drive to middle of the grip"),
        ({"adapter": q("4 in"), "wrench": q("0 in")},
         "wrench: 0 in is no length; measure from the drive to the middle of the grip"),
        ({"adapter": q("-4 in"), "wrench": q("10 in")},
         "adapter: an adapter's length is never negative; fold it back by angle=180 deg"),
        ({"adapter": q("10 in"), "wrench": q("10 in"), "angle": q("180 deg")},
         "adapter: it reaches back past the grip; use a shorter one or turn it outward"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(arm: dict[str, Quantity], message: str) -> None:
    with pytest.raises(FigureError) as refused:
        setting(q("40 lbf·ft"), **arm)  # type: ignore[arg-type]
    assert str(refused.value) == message


def test_no_torque_is_refused() -> None:
    with pytest.raises(FigureError, match="0 lbf·ft is no torque to set"):
        setting(q("0 lbf·ft"))
