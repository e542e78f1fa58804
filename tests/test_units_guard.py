from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from snugset.units import UNITS, Band, Quantity, UnitError, check_band, read


def q(value: str, unit: str) -> Quantity:
    return Quantity(Decimal(value), unit)


def band(low: str, high: str, unit: str) -> Band:
    return q(low, unit), q(high, unit)


HEAD = band("20", "150", "lbf·ft")
COVER = band("30", "110", "lbf·in")
PRELOAD = band("20", "60", "thou")
PUSHROD = band("6", "14", "in")


@pytest.mark.parametrize(
    ("typed", "plausible", "code", "suggest"),
    [
        (q("22", "lbf·ft"), HEAD, "", ()),
        (q("20", "lbf·ft"), HEAD, "", ()),
        (q("150", "lbf·ft"), HEAD, "", ()),
        (q("264", "lbf·ft"), HEAD, "factor", ("264 lbf·in",)),
        (q("200", "lbf·ft"), HEAD, "factor", ("200 N·m",)),
        (q("600", "lbf·ft"), HEAD, "factor", ("600 lbf·in",)),
        (q("22000", "lbf·ft"), HEAD, "factor", ("22 lbf·ft",)),
        (q("5", "lbf·ft"), HEAD, "factor", ("60 lbf·ft",)),
        (q("1", "lbf·ft"), HEAD, "band", ()),
        (q("60", "lbf·ft"), COVER, "factor", ("60 lbf·in",)),
        (q("8", "lbf·in"), COVER, "factor", ("8 lbf·ft", "8 N·m")),
        (q("0.889", "thou"), PRELOAD, "factor", ("0.889 mm",)),
        (q("0.035", "thou"), PRELOAD, "factor", ("0.035 in",)),
        (q("35", "in"), PRELOAD, "factor", ("35 thou",)),
        (q("35", "mm"), PRELOAD, "factor", ("35 thou",)),
        (q("9641", "in"), PUSHROD, "factor", ("9641 thou",)),
        (q("244.88", "in"), PUSHROD, "factor", ("244.88 mm",)),
        (q("85000", "ksi"), band("30", "180", "ksi"), "factor", ("85000 psi",)),
        (q("8", "lbf·ft"), band("9", "11", "lbf·ft"), "factor", ("10.8 lbf·ft",)),
        (q("1600", ""), band("1", "2", ""), "factor", ("1.6",)),
        (q("-5", "thou"), PRELOAD, "band", ()),
        (q("0", "thou"), PRELOAD, "band", ()),
    ],
)
def test_the_guard(typed: Quantity, plausible: Band, code: str, suggest: tuple[str, ...]) -> None:
    if not code:
        check_band(typed, plausible)
        return
    with pytest.raises(UnitError) as caught:
        check_band(typed, plausible)
    assert (caught.value.code, caught.value.suggest) == (code, suggest)


def test_both_readings_are_said() -> None:
    with pytest.raises(UnitError) as caught:
        read("264", unit="lbf·ft", band=HEAD)
    assert caught.value.message == (
        "264 lbf·ft is outside the plausible 20 to 150 lbf·ft, "
        "where 264 lbf·in (that is 22 lbf·ft) would fit"
    )
    with pytest.raises(UnitError) as caught:
        read("1", unit="lbf·ft", band=HEAD)
    assert caught.value.message == (
        "1 lbf·ft is outside the plausible 20 to 150 lbf·ft; read the figure and its unit again"
    )


def test_a_value_in_another_unit_is_held_against_the_band() -> None:
    assert read("30 N·m", unit="lbf·ft", band=HEAD) == q("30", "N·m")
    with pytest.raises(UnitError, match=r"12 N·m is outside the plausible 20 to 150 lbf·ft"):
        read("12 N·m", unit="lbf·ft", band=HEAD)
    with pytest.raises(UnitError, match=r"1 thou to 1 mm"):
        check_band(q("2", "mm"), (q("1", "thou"), q("1", "mm")))


def test_a_computed_figure_is_said_and_suggested_in_few_digits() -> None:
    with pytest.raises(UnitError) as caught:
        read("9 in + 16.2814 mm", unit="thou", band=band("6", "14", "thou"))
    assert caught.value.message == (
        "9641 thou is outside the plausible 6 to 14 thou, "
        "where 9.641 thou (if it was converted the wrong way) would fit"
    )
    assert caught.value.suggest == ("9.641 thou",)


def test_a_band_of_another_kind_is_refused() -> None:
    with pytest.raises(UnitError) as caught:
        check_band(q("22", "lbf·ft"), PRELOAD)
    assert caught.value.code == "kind"


@given(
    value=st.decimals(min_value=0, max_value=10**6, places=3),
    unit=st.sampled_from(list(UNITS)),
    low=st.decimals(min_value=0, max_value=1000, places=2),
    width=st.decimals(min_value=1, max_value=1000, places=2),
)
def test_what_is_suggested_passes_when_it_is_typed(
    value: Decimal, unit: str, low: Decimal, width: Decimal
) -> None:
    """A suggestion is a text to type in the same field, and it fits there."""
    plausible = (Quantity(low, unit), Quantity(low + width, unit))
    assume(not low <= value <= low + width)
    with pytest.raises(UnitError) as caught:
        check_band(Quantity(value, unit), plausible)
    assert caught.value.code == ("factor" if caught.value.suggest else "band")
    for text in caught.value.suggest:
        read(text, unit=unit, band=plausible)
