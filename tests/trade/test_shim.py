"""Pedestal shims in place of shorter pushrods."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.fault import FigureError
from snugset.trade.shift import shift
from snugset.trade.shim import shims
from snugset.units import Quantity

from .amounts import EIGHT, MILLED_SIX, by_place, q

RATIO = Decimal("1.6")
WINDOW = (q("20 thou"), q("60 thou"))
U = q("4 thou")


def test_one_thickness_for_a_milled_six() -> None:
    """79 to 99 must fall by 43 to 55; derived: s·(1 + 1/R), so s is 26.5 to 33.8 at R 1.6."""
    found = shims(MILLED_SIX, WINDOW, uncertainty=U, ratio=RATIO)
    assert found is not None
    assert found.one is not None
    assert (found.one.low, found.one.high) == (q("26.5 thou"), q("33.8 thou"))


def test_shims_only_lower() -> None:
    """Offered only where a place is high: a shim never raises a preload."""
    assert shims(EIGHT, WINDOW, uncertainty=U, ratio=RATIO) is None
    assert shims({"1I": q("56 thou")}, WINDOW, uncertainty=U, ratio=RATIO) is None
    assert shims({"1I": q("56.1 thou")}, WINDOW, uncertainty=U, ratio=RATIO) is not None


def test_high_places_among_others_get_a_thickness_of_their_own() -> None:
    found = shims(by_place("30 90", "35 92"), WINDOW, uncertainty=U, ratio=RATIO)
    assert found is not None
    assert found.one is None
    assert list(found.each) == ["2I", "2E"]
    assert found.each["2I"].low == q("21 thou")  # (90 + 4 − 60)/1.625 = 20.92
    assert found.each["2I"].high == q("40.6 thou")  # (90 − 4 − 20)/1.625 = 40.62


def test_a_narrow_window_is_proved_by_no_shim() -> None:
    window = (q("30 thou"), q("37 thou"))
    found = shims({"1I": q("90 thou")}, window, uncertainty=U, ratio=RATIO)
    assert found is not None
    assert (found.one, found.each) == (None, {})


@given(st.lists(st.integers(5, 200), min_size=1, max_size=6), st.integers(0, 12))
def test_the_ends_prove_and_a_little_past_them_does_not(readings: list[int], doubt: int) -> None:
    places = {f"{at}I": q(f"{reading} thou") for at, reading in enumerate(readings, 1)}
    found = shims(places, WINDOW, uncertainty=q(f"{doubt} thou"), ratio=RATIO)
    if found is None:
        assert max(readings) <= 60 - doubt
        return
    for place, span in found.each.items():
        for shim, holds in ((span.low, True), (span.high, True)):
            left = _after(places[place], shim)
            assert (20 + doubt <= left <= 60 - doubt) is holds
        assert _after(places[place], q(f"{span.low.value - Decimal('0.2')} thou")) > 60 - doubt
        assert _after(places[place], q(f"{span.high.value + Decimal('0.2')} thou")) < 20 + doubt


def _after(reading: Quantity, shim: Quantity) -> float:
    return reading.number("thou") + shift({"shim": shim}, RATIO).preload.number("thou")


def test_a_ratio_that_is_none_is_refused() -> None:
    with pytest.raises(FigureError, match="ratio: 9 is no rocker ratio"):
        shims(EIGHT, WINDOW, uncertainty=U, ratio=Decimal(9))
