import json
from decimal import Decimal
from itertools import product

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.units import UNITS, Quantity, UnitError, echo, factors, read, rounded

# The default registry of an independent library, by its own names for our written forms.
ORACLE = pint.UnitRegistry[float]()
NAMES = {
    "in": "inch", "thou": "thou", "mm": "millimeter",
    "lbf·ft": "force_pound * foot", "lbf·in": "force_pound * inch",
    "N·m": "newton * meter", "kgf·m": "force_kilogram * meter",
    "deg": "degree", "turn": "turn",
    "s": "second", "min": "minute", "h": "hour", "d": "day",
    "lbf": "force_pound", "N": "newton", "kN": "kilonewton",
    "psi": "pound_force_per_square_inch", "ksi": "kilopound_force_per_square_inch",
    "kPa": "kilopascal", "MPa": "megapascal",
    "in²": "inch ** 2", "mm²": "millimeter ** 2",
    "cc": "cubic_centimeter", "in³": "cubic_inch",
    "": "dimensionless",
}  # fmt: skip
PAIRS = [(a, b) for a, b in product(UNITS, UNITS) if UNITS[a] == UNITS[b]]
SETS_APART = [(a, b) for a, b in product(UNITS, UNITS) if UNITS[a] != UNITS[b]]

typed = st.decimals(
    min_value=Decimal(-(10**11)), max_value=Decimal(10**11), places=6, allow_nan=False
)


def q(value: str, unit: str) -> Quantity:
    return Quantity(Decimal(value), unit)


@pytest.mark.parametrize(
    ("old", "factor", "new"),
    [
        # NIST Special Publication 811 (2008), Appendix B.8, as published, seven digits.
        ("lbf·ft", "1.355818", "N·m"),
        ("lbf·in", "0.1129848", "N·m"),
        ("kgf·m", "9.80665", "N·m"),
        ("lbf", "4.448222", "N"),
        ("psi", "6.894757", "kPa"),
        ("ksi", "6.894757", "MPa"),
        ("in³", "16.38706", "cc"),
        ("in²", "645.16", "mm²"),
        ("in", "25.4", "mm"),
        ("d", "86400", "s"),
        ("h", "3600", "s"),
        ("turn", "360", "deg"),
    ],
)
def test_published_factors(old: str, factor: str, new: str) -> None:
    ours = q("1", old).in_(new)
    published = Decimal(factor)
    assert round(ours, -int(published.as_tuple().exponent)) == published


@pytest.mark.parametrize(
    ("old", "factor", "new"),
    [
        # Exact in NIST SP 811, App. B.8 (bold there), or by the definition of the units.
        ("thou", "0.0254", "mm"),
        ("in", "25.4", "mm"),
        ("in", "1000", "thou"),
        ("thou", "0.001", "in"),
        ("in²", "645.16", "mm²"),
        ("in³", "16.387064", "cc"),
        ("kgf·m", "9.80665", "N·m"),
        ("lbf", "4.4482216152605", "N"),
        ("lbf·ft", "12", "lbf·in"),
        ("lbf·ft", "1.3558179483314004", "N·m"),
        ("ksi", "1000", "psi"),
        ("MPa", "1000", "kPa"),
        ("kN", "1000", "N"),
        ("turn", "360", "deg"),
    ],
)
def test_exact_factors(old: str, factor: str, new: str) -> None:
    assert q("1", old).in_(new) == Decimal(factor)


@pytest.mark.parametrize(("old", "new"), PAIRS)
def test_every_pair_against_an_independent_registry(old: str, new: str) -> None:
    expected = ORACLE.Quantity(1234.5678, NAMES[old]).to(NAMES[new]).magnitude
    assert q("1234.5678", old).number(new) == pytest.approx(expected, rel=1e-12)


@given(value=typed, pair=st.sampled_from(PAIRS))
def test_there_and_back(value: Decimal, pair: tuple[str, str]) -> None:
    old, new = pair
    back = Quantity(value, old).to(new).to(old).value
    assert abs(back - value) <= abs(value) * Decimal("1e-26")


@given(
    value=typed,
    pair=st.sampled_from([("in", "mm"), ("thou", "mm"), ("in", "thou"), ("thou", "in")]),
)
def test_inch_to_metric_is_exact(value: Decimal, pair: tuple[str, str]) -> None:
    old, new = pair
    factor = {("in", "mm"): "25.4", ("thou", "mm"): "0.0254", ("in", "thou"): "1000"}
    assert Quantity(value, old).in_(new) == value * Decimal(factor.get(pair, "0.001"))
    assert Quantity(value, old).to(new).to(old) == Quantity(value, old)


@pytest.mark.parametrize(("old", "new"), SETS_APART)
def test_kinds_never_mix(old: str, new: str) -> None:
    with pytest.raises(UnitError) as caught:
        q("1", old).to(new)
    assert caught.value.code == "kind"


def test_the_words_of_a_refused_conversion() -> None:
    with pytest.raises(UnitError) as caught:
        q("22", "lbf·ft").to("in")
    assert caught.value.message == (
        "22 lbf·ft is a torque, and a length is asked; write in, thou or mm"
    )
    with pytest.raises(UnitError, match="“furlong” is not a written form of a unit known here"):
        q("22", "in").to("furlong")


def test_a_quantity_is_finite_and_has_a_known_unit() -> None:
    for value, unit in (
        ("NaN", "in"),
        ("Infinity", "in"),
        ("1", "inch"),
        ("1e41", "in"),
        ("1e-41", "in"),
    ):
        with pytest.raises(UnitError):
            q(value, unit)


def test_text_keeps_the_digits_and_has_no_exponent() -> None:
    assert str(q("9.640", "in")) == "9.640 in"
    assert str(q("1E+3", "lbf")) == "1000 lbf"
    assert str(q("0.0000001", "in")) == "0.0000001 in"
    assert str(q("1.60", "")) == "1.60"
    assert q("35.0", "thou").to("in").to_json() == {"value": "0.035", "unit": "in"}
    assert q("100", "thou").to("in").to("thou").to_json() == {"value": "100", "unit": "thou"}


@given(value=st.decimals(allow_nan=False, allow_infinity=False), unit=st.sampled_from(list(UNITS)))
def test_stored_and_back(value: Decimal, unit: str) -> None:
    try:
        quantity = Quantity(value, unit)
    except UnitError:
        assert value.adjusted() not in range(-40, 41)
        return
    stored = json.loads(json.dumps(quantity.to_json()))
    assert Quantity.from_json(stored) == quantity
    assert Quantity.from_json(stored).to_json() == stored


@given(
    value=st.floats(allow_nan=False, min_value=-1e12, max_value=1e12),
    unit=st.sampled_from(list(UNITS)),
)
def test_a_computed_figure_is_stored_and_shown(value: float, unit: str) -> None:
    if abs(value) < 1e-30:
        return
    quantity = Quantity(Decimal(value), unit)
    assert Quantity.from_json(quantity.to_json()) == quantity
    assert len(echo(quantity)) < 80


@pytest.mark.parametrize(
    "stored",
    [
        {},
        {"value": 35, "unit": "thou"},
        {"value": "35"},
        {"value": "1e9", "unit": "thou"},
        {"value": "nan", "unit": "thou"},
        {"value": "9" * 100, "unit": "thou"},
        {"value": "35", "unit": "thous"},
        {"value": "35", "unit": None},
    ],
)
def test_anything_else_stored_is_refused(stored: dict[str, object]) -> None:
    with pytest.raises(UnitError):
        Quantity.from_json(stored)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("35 thou", "35 thou = 0.889 mm"),
        ("9.641 in", "9.641 in = 244.881 mm"),
        ("0.97 mm", "0.97 mm = 38.2 thou"),
        ("244.881 mm", "244.881 mm = 9.641 in"),
        ("3/16 in", "0.1875 in = 4.763 mm"),
        ("0.4 thou", "0.4 thou = 0.01 mm"),
        ("0.02 thou", "0.02 thou = 0.00051 mm"),
        ("0 thou", "0 thou = 0 mm"),
        ("-5 thou", "−5 thou = −0.127 mm"),
        ("22 lbf·ft", "22 lbf·ft = 29.8 N·m"),
        ("110 lbf·ft", "110 lbf·ft = 149 N·m"),
        ("1500 lbf·ft", "1500 lbf·ft = 2034 N·m"),
        ("55 lbf·in", "55 lbf·in = 6.21 N·m"),
        ("30 N·m", "30 N·m = 22.1 lbf·ft"),
        ("6 N·m", "6 N·m = 53.1 lbf·in"),
        ("3 kgf·m", "3 kgf·m = 21.7 lbf·ft"),
        ("12000 lbf", "12000 lbf = 53.4 kN"),
        ("100 lbf", "100 lbf = 445 N"),
        ("50 N", "50 N = 11.2 lbf"),
        ("40 psi", "40 psi = 276 kPa"),
        ("120 ksi", "120 ksi = 827 MPa"),
        ("830 MPa", "830 MPa = 120 ksi"),
        ("300 kPa", "300 kPa = 43.5 psi"),
        ("45 cc", "45 cc = 2.75 in³"),
        ("0.0878 in²", "0.0878 in² = 56.6 mm²"),
        ("60°", "60 deg"),
        ("1/4 turn", "0.25 turn"),
        ("20 min", "20 min"),
    ],
)
def test_echo(text: str, line: str) -> None:
    kinds = {"°": "deg", "turn": "turn", "min": "min"}
    unit = next(
        (form for end, form in kinds.items() if text.endswith(end)), text.rpartition(" ")[2]
    )
    assert echo(read(text, unit=unit, negative=True)) == line


def test_echo_of_a_number_is_itself_and_a_computed_one_is_rounded() -> None:
    assert echo(q("1.6", "")) == "1.6"
    assert echo(read("1/3 turn", unit="deg")) == "0.333 turn"
    assert echo(q("0.97", "mm").to("thou")) == "38.2 thou = 0.97 mm"
    assert echo(q("9.64125", "in")) == "9.64125 in = 244.888 mm"


@given(
    value=st.decimals(min_value=Decimal("0.001"), max_value=Decimal(10**6), allow_nan=False),
    unit=st.sampled_from(list(UNITS)),
)
def test_rounding_loses_no_more_than_half_of_the_last_digit_shown(
    value: Decimal, unit: str
) -> None:
    shown = rounded(Quantity(value, unit)).value
    half = {"in": "0.00005", "thou": "0.05", "mm": "0.0005", "lbf·ft": "0.5", "lbf·in": "0.5"}
    assert abs(shown - value) <= min(Decimal(half.get(unit, "0.5")), value / 20)
    if UNITS[unit] in {"torque", "force", "pressure"}:
        assert abs(shown - value) <= value / 200
    assert rounded(Quantity(shown, unit)).value == shown


@pytest.mark.parametrize("unit", factors.SIZES)
def test_a_factor_is_what_an_independent_library_makes_of_the_definitions(unit: str) -> None:
    exact = pint.UnitRegistry[Decimal](non_int_type=Decimal)
    base = exact.parse_expression(NAMES[unit]).to_base_units()
    if UNITS[unit] == "angle":
        base = exact.parse_expression(NAMES[unit]).to("degree")
    assert abs(Decimal(base.magnitude) / factors.SIZES[unit] - 1) < Decimal("1e-25")


def test_every_unit_but_the_bare_number_has_a_factor() -> None:
    assert set(factors.SIZES) == set(UNITS) - {""}
