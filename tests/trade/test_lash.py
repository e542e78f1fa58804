"""Solid lash, hot and cold."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.fault import FigureError
from snugset.trade.lash import Metal, cold_for, hot_for, measured, usual

from .amounts import q


@pytest.mark.parametrize(
    ("block", "head", "cold"),
    [("iron", "iron", "20"), ("iron", "aluminium", "12"), ("aluminium", "aluminium", "6")],
)
def test_cold_from_hot_by_material(block: Metal, head: Metal, cold: str) -> None:
    """+.002, −.006, −.012 in: trade press, common practice."""
    found = cold_for(q("18 thou"), usual(block, head))
    assert found.setting == q(f"{cold} thou")
    assert found.uncertainty == q("3 thou")


def test_a_measured_pair_is_better() -> None:
    """Set one pair hot, let it cool, measure the difference: U = √2 of one reading."""
    growth = measured(q("18 thou"), q("13.5 thou"))
    assert growth.size == q("-4.5 thou")
    assert growth.uncertainty == q("1.4 thou")
    assert cold_for(q("22 thou"), growth).setting == q("17.5 thou")


def test_in_millimetres() -> None:
    found = cold_for(q("0.45 mm"), usual("iron", "aluminium"))
    assert found.setting == q("0.2976 mm")
    assert found.uncertainty.unit == "mm"
    assert found.uncertainty.number("thou") == pytest.approx(3, abs=0.05)


@given(st.integers(13, 40), st.sampled_from([("iron", "iron"), ("iron", "aluminium")]))
def test_there_and_back(hot: int, metals: tuple[Metal, Metal]) -> None:
    difference = usual(*metals)
    cold = cold_for(q(f"{hot} thou"), difference)
    assert hot_for(cold.setting, difference).setting == q(f"{hot} thou")


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(FigureError) as refused:
        usual("aluminium", "iron")
    assert str(refused.value) == (
        "head: there is no usual difference for iron on aluminium; measure a pair hot and cold and"
        " give pair_hot and pair_cold"
    )
    with pytest.raises(FigureError, match="hot: 12 thou would leave no lash: the valve would be"):
        cold_for(q("12 thou"), usual("aluminium", "aluminium"))
    with pytest.raises(FigureError, match="cold: 2 thou would leave no lash"):
        hot_for(q("2 thou"), usual("iron", "iron"))
