"""What machining, gaskets, shims and heat do to the preload."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.fault import FigureError
from snugset.trade.shift import Change, shift
from snugset.units import Quantity

from .amounts import q

RATIO = Decimal("1.6")
CHANGES: tuple[Change, ...] = (
    "mill", "deck", "gasket_old", "gasket_new", "shim", "tip", "base_radius", "growth",
)  # fmt: skip


def changes(**texts: str) -> dict[Change, Quantity]:
    return {change: q(texts[change]) for change in CHANGES if change in texts}


def test_a_milled_head_and_a_thinner_gasket_press_the_plunger_down() -> None:
    """Derived: head cut .040, gasket .055 to .040; the pushrod wants to be shorter by as much."""
    found = shift(changes(mill=".040 in", gasket_old=".055 in", gasket_new=".040 in"))
    assert (found.preload, found.length) == (q("55 thou"), q("-55 thou"))
    assert found.sum == "40 + 55 − 40 = 55 thou"
    assert shift(changes(mill=".040 in")).sum == "40 thou"
    assert shift(changes(shim="-.030 in"), RATIO).sum == "− (-30)·(1 + 1/1.6) = 48.75 thou"


@pytest.mark.parametrize(
    ("change", "amount", "preload"),
    [
        ("mill", "10 thou", "10"), ("deck", "10 thou", "10"),
        ("shim", ".030 in", "-48.75"),  # s·(1 + 1/R) = .049 at 1.6; derived
        ("tip", "16 thou", "10"),  # v/R; derived
        ("base_radius", "5 thou", "-5"),
        ("growth", ".012 in", "-7.5"),  # .012 at 1.6 costs .0075; derived
        ("tip", "-16 thou", "-10"), ("shim", "-30 thou", "48.75"),
    ],
)  # fmt: skip
def test_each_change_by_itself(change: Change, amount: str, preload: str) -> None:
    assert shift({change: q(amount)}, RATIO).preload == q(f"{preload} thou")


def test_millimetres_stay_millimetres_and_inches_become_thou() -> None:
    assert shift({"mill": q("0.5 mm")}).preload == q("0.5 mm")
    assert shift({"mill": q("0.020 in"), "deck": q("0.254 mm")}).preload == q("30 thou")


SIZES = st.integers(-60, 60)


def plunger(pivot: float, valve: float, lifter: float, ratio: float) -> float:
    """How far the plunger is pressed by a rocker on these heights, from wherever it began."""
    pushrod_end = pivot + (pivot - valve) / ratio
    return lifter - pushrod_end


@given(
    done=st.fixed_dictionaries(dict.fromkeys(CHANGES, SIZES)),
    ratio=st.sampled_from(["1.5", "1.6", "1.7"]),
)
def test_the_sum_is_that_of_a_rocker_drawn_out(done: dict[Change, int], ratio: str) -> None:
    """The pivot, the valve's tip and the lifter are moved; the pushrod's end follows the lever."""
    lowered = done["mill"] + done["deck"] + done["gasket_old"] - done["gasket_new"]
    after = plunger(
        done["shim"] - lowered,
        # Hot growth opens the valve's end by so much lash: as if the tip had sunk.
        done["tip"] - done["growth"] - lowered,
        -done["base_radius"],
        float(ratio),
    )
    found = shift({change: q(f"{by} thou") for change, by in done.items()}, Decimal(ratio))
    assert found.preload.number("thou") == pytest.approx(after, abs=0.01)
    assert found.length.value == -found.preload.value


@given(st.dictionaries(st.sampled_from(("mill", "deck", "shim", "tip")), SIZES, min_size=1))
def test_the_same_whatever_the_unit(thou: dict[Change, int]) -> None:
    one = shift({key: q(f"{size} thou") for key, size in thou.items()}, RATIO)
    other = shift({key: q(f"{size} thou").to("mm") for key, size in thou.items()}, RATIO)
    assert other.preload.number("thou") == pytest.approx(one.preload.number("thou"), abs=0.01)


@pytest.mark.parametrize(
    ("asked", "ratio", "message"),
    [
        ({}, None, "mill: nothing has changed; give what has, such as mill=0.040 in"),
        ({"shim": q("30 thou")}, None,
         "ratio: needed with shim, which acts through the rocker; such as 1.6"),
        ({"gasket_old": q("55 thou")}, None,
         "gasket_new: needed with gasket_old: it is their difference that counts"),
        ({"gasket_new": q("55 thou")}, None,
         "gasket_old: needed with gasket_new: it is their difference that counts"),
        ({"mill": q("55 thou")}, Decimal(16),
         "ratio: 16 is no rocker ratio; they run from about 1 to 2, such as 1.6"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(
    asked: dict[Change, Quantity], ratio: Decimal | None, message: str
) -> None:
    with pytest.raises(FigureError) as refused:
        shift(asked, ratio)
    assert str(refused.value) == message
