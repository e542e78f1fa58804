import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.convert import every_unit
from snugset.units import UNITS, Quantity

from .amounts import q


@pytest.mark.parametrize(
    ("one", "unit", "factor"),
    [
        ("1 lbf·ft", "N·m", 1.355818), ("1 lbf·in", "N·m", 0.1129848), ("1 kgf·m", "N·m", 9.80665),
        ("1 lbf", "N", 4.448222), ("1 psi", "kPa", 6.894757), ("0.001 in", "mm", 0.0254),
    ],
)  # fmt: skip
def test_factors(one: str, unit: str, factor: float) -> None:
    """NIST SP 811 App. B."""
    assert every_unit(q(one))[unit].number(unit) == pytest.approx(factor, rel=1e-6)


def test_lengths_convert_exactly_and_the_own_unit_comes_first() -> None:
    found = every_unit(q("9.641 in"))
    assert list(found) == ["in", "thou", "mm"]
    assert [str(one) for one in found.values()] == ["9.641 in", "9641 thou", "244.8814 mm"]


@given(
    st.sampled_from([unit for unit in UNITS if unit]),
    st.decimals(min_value="0.001", max_value=100000, places=3),
)
def test_every_unit_says_the_same(unit: str, value: object) -> None:
    given_ = q(f"{value} {unit}")
    for form, same in every_unit(given_).items():
        assert same.unit == form
        assert same.number(unit) == pytest.approx(given_.number(unit), rel=1e-6)


def test_a_pure_number_stays_one() -> None:
    ratio = Quantity(q("1.6 in").value, "")
    assert every_unit(ratio) == {"": ratio}
