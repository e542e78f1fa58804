"""Compression ratio and quench."""

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.compression import Cylinder, changed, compression
from snugset.trade.fault import FigureError
from snugset.units import Quantity
from snugset.values import replace

from .amounts import q

SQUARE = Cylinder(
    bore=q("100 mm"), stroke=q("100 mm"), chamber=q("60 cc"), gasket_bore=q("102 mm"),
    gasket=q("1 mm"), deck=q("0.5 mm"), piston=q("5 cc"),
)  # fmt: skip
"""An invented cylinder of round figures."""


def test_volumes_by_hand() -> None:
    """V = π/4·B²·S = 785.4 cc; Vc = 60 + 8.17 + 3.93 + 5 = 77.1 cc."""
    found = compression(SQUARE)
    assert found.swept.number("cc") == pytest.approx(785.398, rel=2e-4)
    left = 60 + math.pi / 4 * 102**2 / 1000 + math.pi / 4 * 100**2 * 0.5 / 1000 + 5
    assert found.clearance.number("cc") == pytest.approx(left, rel=2e-3)
    assert float(found.ratio.value) == pytest.approx((785.398 + left) / left, abs=0.006)
    assert found.quench == q("1.5 mm")


def test_a_ratio_of_eleven() -> None:
    """A tenth of the swept volume left gives 11 to 1: (V + V/10)/(V/10)."""
    chamber = math.pi / 4 * 100**2 * 100 / 1000 / 10
    gasket = math.pi / 4 * 100**2 * 1 / 1000
    flat = replace(
        SQUARE, gasket_bore=q("100 mm"), deck=q("0 mm"), piston=q("0 cc"),
        chamber=Quantity(Decimal(repr(chamber - gasket)), "cc"),
    )  # fmt: skip
    assert compression(flat).ratio == q("11 ")


def test_a_gasket_and_cuts_change_it() -> None:
    """Derived: a cut off the block lowers deck and quench, one off the head takes face × cut."""
    before = compression(SQUARE)
    thicker = compression(changed(SQUARE, gasket=q("1.5 mm")))
    assert thicker.quench == q("2 mm")
    assert thicker.ratio.value < before.ratio.value
    cut = compression(changed(SQUARE, deck_cut=q("0.3 mm")))
    assert cut.quench == q("1.2 mm")
    assert cut.ratio.value > before.ratio.value
    milled = changed(SQUARE, mill=q("0.5 mm"), face=q("6000 mm²"))
    assert milled.chamber == q("57 cc")
    assert compression(milled).quench == before.quench


def test_a_dome_raises_the_ratio_and_a_piston_proud_of_the_deck_closes_the_quench() -> None:
    assert compression(replace(SQUARE, piston=q("-5 cc"))).ratio.value > 11
    assert compression(replace(SQUARE, deck=q("-0.2 mm"))).quench == q("0.8 mm")


@given(bore=st.integers(60, 140), stroke=st.integers(60, 140), chamber=st.integers(30, 120))
def test_the_same_whatever_the_unit(bore: int, stroke: int, chamber: int) -> None:
    metric = replace(
        SQUARE, bore=q(f"{bore} mm"), stroke=q(f"{stroke} mm"), chamber=q(f"{chamber} cc"),
        gasket_bore=q(f"{bore + 2} mm"),
    )  # fmt: skip
    inch = Cylinder(
        bore=metric.bore.to("in"), stroke=metric.stroke.to("in"), chamber=metric.chamber.to("in³"),
        gasket_bore=metric.gasket_bore.to("in"), gasket=metric.gasket.to("thou"),
        deck=metric.deck.to("in"), piston=metric.piston.to("in³"),
    )  # fmt: skip
    one, other = compression(metric), compression(inch)
    assert other.swept == one.swept
    assert other.ratio == one.ratio
    assert other.quench.unit == "thou"
    assert other.quench.number("mm") == pytest.approx(1.5, rel=1e-4)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"bore": q("0 mm")}, "bore: 0 mm is no size; give more than 0"),
        ({"gasket_bore": q("3.9 in")},
         "gasket_bore: 3.9 in would stand into a bore of 100 mm; check both"),
        ({"piston": q("-80 cc")},
         "piston: nothing is left at top dead centre; a dish is positive, a dome negative"),
        ({"deck": q("-1 mm")},
         ("deck: the piston stands −1 mm from the deck and the gasket is 1 mm: it would touch the"
          " head; negative is proud of the deck")),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(change: dict[str, Quantity], message: str) -> None:
    with pytest.raises(FigureError) as refused:
        compression(replace(SQUARE, **change))
    assert str(refused.value) == message


def test_a_cut_needs_the_mouth_of_the_chamber_and_leaves_some_of_it() -> None:
    with pytest.raises(FigureError, match="face: needed with mill: the area of the chamber's"):
        changed(SQUARE, mill=q("1 mm"))
    with pytest.raises(FigureError, match="mill: a cut of 20 mm would take more than the chamber"):
        changed(SQUARE, mill=q("20 mm"), face=q("6000 mm²"))
