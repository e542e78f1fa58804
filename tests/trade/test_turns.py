from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.fault import FigureError
from snugset.trade.thread import read_thread
from snugset.trade.turns import Mount, per_turn, turns

from .amounts import q

RATIO = Decimal("1.6")
MOUNTS: tuple[Mount, ...] = ("pivot", "pushrod-end", "valve-end")


@pytest.mark.parametrize(
    ("thread", "ratio", "travel"),
    [
        ("3/8-24", "1.5", ".0694"), ("3/8-24", "1.6", ".0677"),
        ("7/16-20", "1.5", ".0833"), ("7/16-20", "1.6", ".0813"),
    ],
)  # fmt: skip
def test_one_turn_of_the_nut_at_the_pivot(thread: str, ratio: str, travel: str) -> None:
    """Pitch·(1 + 1/R), derived: the rocker swings on the closed valve's tip."""
    found = turns(read_thread(thread).pitch, mount="pivot", ratio=Decimal(ratio), turned=Decimal(1))
    assert found.plunger.number("in") == pytest.approx(float(travel), abs=6e-5)
    assert found.angle == q("360 deg")


def test_short_travel_lifters() -> None:
    """Stud 7/16-20, R 1.6: 0.6 turn is .049 in; .020 in is a quarter turn."""
    pitch = read_thread("7/16-20").pitch
    six_tenths = turns(pitch, mount="pivot", ratio=RATIO, turned=Decimal("0.6"))
    assert six_tenths.plunger.number("in") == pytest.approx(0.049, abs=5e-4)
    wanted = turns(pitch, mount="pivot", ratio=RATIO, travel=q(".020 in"))
    assert float(wanted.turns) == pytest.approx(0.25, abs=0.005)
    assert wanted.angle.number("deg") == pytest.approx(90, abs=2)


def test_screws_at_the_ends_of_the_rocker() -> None:
    """Pushrod end: plunger pitch, lash R·pitch. Valve end: lash pitch, plunger pitch/R."""
    assert per_turn(0.05, "pushrod-end", 1.6) == pytest.approx((0.05, 0.08))
    assert per_turn(0.05, "valve-end", 1.6) == pytest.approx((0.03125, 0.05))


@given(st.sampled_from(MOUNTS), st.integers(1, 90))
def test_travel_gives_back_its_turns(mount: Mount, thou: int) -> None:
    pitch = read_thread("M10").pitch
    there = turns(pitch, mount=mount, ratio=RATIO, travel=q(f"{thou} thou"))
    back = turns(pitch, mount=mount, ratio=RATIO, turned=there.turns)
    assert back.plunger.unit == "mm"
    assert back.plunger.number("thou") == pytest.approx(thou, rel=0.01)
    # A gap g at the valve's tip is g/R of plunger travel.
    assert there.lash.number("mm") == pytest.approx(1.6 * there.plunger.number("mm"), rel=0.01)


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        ({}, "turns: give either the turns or the plunger travel wanted, one of the two"),
        ({"turned": Decimal(1), "travel": q("20 thou")},
         "turns: give either the turns or the plunger travel wanted, one of the two"),
        ({"turned": Decimal(1), "ratio": Decimal(16)},
         "ratio: 16 is no rocker ratio; they run from about 1 to 2, such as 1.6"),
        ({"turned": Decimal(1), "pitch": q("0 in")},
         "pitch: 0 in is no pitch; type the distance from thread to thread"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(asked: dict[str, object], message: str) -> None:
    given_ = {"pitch": q("0.05 in"), "mount": "pivot", "ratio": RATIO, **asked}
    with pytest.raises(FigureError) as refused:
        turns(**given_)  # type: ignore[arg-type]
    assert str(refused.value) == message
