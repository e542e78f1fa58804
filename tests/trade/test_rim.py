import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.rim import angle_of, distance, reading


def test_a_whole_turn_is_the_circumference() -> None:
    assert float(distance(Decimal("7.5"), 360)) == pytest.approx(math.pi * 7.5)
    assert float(distance(7.5, 60)) == pytest.approx(3.92699, abs=1e-5)
    assert distance(7.5, -60) == -distance(7.5, 60)


@given(
    diameter=st.decimals("0.5", "600", places=3),
    angle=st.decimals("-720", "720", places=3),
)
def test_there_and_back(diameter: Decimal, angle: Decimal) -> None:
    assert abs(angle_of(diameter, distance(diameter, angle)) - angle) < Decimal("0.001")


def test_a_diameter_is_no_angle_and_has_no_largest() -> None:
    assert float(distance(Decimal(7_000_000), 360)) == pytest.approx(math.pi * 7_000_000)


def test_no_damper_without_a_size() -> None:
    for wrong in (0, -7.5, float("nan"), Decimal("Infinity")):
        with pytest.raises(ValueError, match=r"diameter of .* give more than 0"):
            distance(wrong, 60)


@pytest.mark.parametrize(
    ("angle", "marks", "words"),
    [
        (58, (0, 120, 240), "58° past the 0° mark"),
        (118, (0, 120, 240), "2° before the 120° mark"),
        (478, (0, 120, 240), "2° before the 120° mark"),
        (480, (0, 120, 240), "at the 120° mark"),
        (718.5, (0, 120, 240), "1.5° before the 0° mark"),
        (60, (0, 120), "60° past the 0° mark"),
        (298, (), "62° before the 0° mark"),
        (180, (), "180° past the 0° mark"),
    ],
)
def test_read_from_the_nearest_mark(angle: float, marks: tuple[int, ...], words: str) -> None:
    assert reading(angle, marks).words == words


@given(
    angle=st.integers(-720, 1440),
    marks=st.sets(st.integers(0, 359), max_size=8),
)
def test_mark_and_way_past_it_make_the_angle(angle: int, marks: set[int]) -> None:
    found = reading(angle, marks)
    assert (found.mark + found.past - angle) % 360 == 0
    assert abs(found.past) == min(
        min((angle - mark) % 360, (mark - angle) % 360) for mark in marks or {0}
    )
