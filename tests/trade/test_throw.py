"""The piston on its crank."""

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.fault import FigureError
from snugset.trade.throw import angle_at, dead_centre, fallen, travel_at
from snugset.units import Quantity

from .amounts import q

STROKE, LINK = q("4.25 in"), q("7.5 in")


@pytest.mark.parametrize("angle", [0, 20, 60, 90, 120, 180, 240, 300, 360])
def test_travel(angle: int) -> None:
    """s = a(1 − cos θ) + l − √(l² − a² sin² θ): Heywood eq. 2.5 (from memory), as two vectors."""
    throw = 2.125 * complex(math.cos(math.radians(angle)), math.sin(math.radians(angle)))
    pin = throw.real + math.sqrt(7.5**2 - throw.imag**2)
    found = travel_at(STROKE, LINK, q(f"{angle} deg"))
    assert found.number("in") == pytest.approx(2.125 + 7.5 - pin, abs=1e-4)


def test_a_third_of_the_angle_is_a_fifth_to_a_quarter_of_the_travel() -> None:
    """Derived: 60° past bottom is a third of the stroke's angle and less of its travel."""
    for ratio in (1.5, 1.75, 2.0, None):
        risen = 1 - fallen(math.radians(240), ratio)
        assert 0.18 < risen <= 0.25 + 1e-12


@given(angle=st.floats(0.5, 179.5), ratio=st.floats(0.75, 3))
def test_there_and_back(angle: float, ratio: float) -> None:
    link = Quantity(Decimal(repr(round(4.25 * ratio, 4))), "in")
    there = travel_at(STROKE, link, Quantity(Decimal(repr(angle)), "deg"))
    back = angle_at(STROKE, link, there).number("deg")
    # Near a dead centre the travel's last digit is worth more of an angle.
    assert back == pytest.approx(angle, abs=0.05 if 10 < angle < 170 else 1.0)


def test_the_same_in_millimetres() -> None:
    inch = travel_at(STROKE, LINK, q("60 deg"))
    metric = travel_at(STROKE.to("mm"), LINK.to("mm"), q("60 deg"))
    assert metric.number("in") == pytest.approx(inch.number("in"), rel=1e-4)
    assert angle_at(STROKE, LINK.to("mm"), metric) == pytest.approx(angle_at(STROKE, LINK, metric))


@pytest.mark.parametrize(
    ("one", "other", "reading", "each_way"),
    [("38", "342", "10", "28"), ("342", "38", "10", "28"), ("20", "340", "0", "20"),
     ("100", "150", "125", "25"), ("25.5", "340.5", "3", "22.5")],
)  # fmt: skip
def test_dead_centre_is_the_middle_of_two_stops(
    one: str, other: str, reading: str, each_way: str
) -> None:
    """Positive stop, two marks, the middle: common practice."""
    found = dead_centre(Decimal(one), Decimal(other))
    assert (found.reading, found.each_way) == (Decimal(reading), Decimal(each_way))


@given(centre=st.integers(0, 359), each_way=st.integers(1, 89))
def test_a_wheel_turned_on_its_hub_finds_its_dead_centre(centre: int, each_way: int) -> None:
    one, other = Decimal((centre + each_way) % 360), Decimal((centre - each_way) % 360)
    assert dead_centre(one, other).reading == centre
    assert dead_centre(other, one).each_way == each_way


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(FigureError, match="connecting_rod: 2 in cannot turn with a stroke of"):
        travel_at(STROKE, q("2 in"), q("60 deg"))
    with pytest.raises(FigureError, match="stroke: 0 in is no stroke; give twice the crank's"):
        travel_at(q("0 in"), LINK, q("60 deg"))
    with pytest.raises(FigureError, match=r"travel: 4\.3 in is not within the stroke of 4\.25 in"):
        angle_at(STROKE, LINK, q("4.3 in"))
    with pytest.raises(FigureError, match="stops: 10 and 190 do not tell which way dead centre"):
        dead_centre(Decimal(10), Decimal(190))
