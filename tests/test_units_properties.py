import time
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.units import (
    UNITS,
    Quantity,
    UnitError,
    read,
    read_list,
    read_takes,
    read_terms,
    read_window,
)


@given(st.decimals(min_value=-(10**6), max_value=10**6, places=4))
def test_what_is_shown_below_zero_has_a_minus_sign_and_is_read_again(value: Decimal) -> None:
    shown = str(Quantity(value, "thou"))
    assert "-" not in shown
    assert ("\u2212" in shown) == value.is_signed()
    assert read(shown, unit="in", negative=True) == Quantity(value, "thou")
    assert Quantity(value, "thou").to_json()["value"] == f"{value:f}"


READERS: list[Callable[..., object]] = [read, read_terms, read_takes, read_list, read_window]
LENGTHS = {"in": Fraction(254, 10), "thou": Fraction(254, 10000), "mm": Fraction(1)}

numbers = st.decimals(min_value=0, max_value=10**6, places=4).map(lambda value: f"{value:f}")
pieces = st.sampled_from(
    [
        *"0123456789.,+-*/^eE ;:\"'°½⅛−–…×()%_\x00\x1b\u00a0\u202e１",
        *[unit for unit in UNITS if unit],
        " to ", "..", "...", " 000", "ft-lb", "in.", "lbs", "nan", "inf", "0x", "1e9", "9**9",
        "1 1/2", "3/16", "25,4", "[/]", "mil", "sq", "of an",
    ]
)  # fmt: skip
texts = st.one_of(st.text(max_size=130), st.lists(pieces, max_size=40).map("".join))


def attempt(reader: Callable[..., object], text: str, unit: str, *, negative: bool) -> object:
    try:
        return reader(text, unit=unit, negative=negative)
    except UnitError as error:
        return error


@given(text=texts, unit=st.sampled_from(list(UNITS)), negative=st.booleans())
def test_any_text_gives_a_value_or_a_clear_error(text: str, unit: str, *, negative: bool) -> None:
    for reader in READERS:
        found = attempt(reader, text, unit, negative=negative)
        if isinstance(found, UnitError):
            assert found.message
            assert found.message.isprintable()
            assert found.column is None or 1 <= found.column <= len(text) + 1
            assert all(fix.isprintable() for fix in found.suggest)
        else:
            for quantity in _flat(found):
                assert UNITS[quantity.unit] == UNITS[unit]
                assert negative or quantity.value >= 0


def _flat(found: object) -> list[Quantity]:
    if isinstance(found, Quantity):
        return [found]
    assert isinstance(found, tuple)
    return [quantity for part in found for quantity in _flat(part)]


@given(number=numbers, unit=st.sampled_from(list(UNITS)))
def test_a_suggested_decimal_point_is_what_was_typed(number: str, unit: str) -> None:
    found = attempt(read, f"{number.replace('.', ',')} {unit}", unit, negative=False)
    assert isinstance(found, UnitError)
    assert found.code == "comma"
    assert [str(read(fix, unit=unit)) for fix in found.suggest] == [f"{number} {unit}".rstrip()]


@given(number=st.integers(min_value=1000, max_value=10**9), space=st.sampled_from(" \u00a0\u202f"))
def test_a_suggested_whole_number_is_what_was_typed(number: int, space: str) -> None:
    found = attempt(read, f"{number:,} N".replace(",", space), "N", negative=False)
    assert isinstance(found, UnitError)
    assert [str(read(fix, unit="N")) for fix in found.suggest] == [f"{number} N"]


@given(number=numbers, unit=st.sampled_from(list(UNITS)))
def test_what_is_written_is_read_back(number: str, unit: str) -> None:
    quantity = read(f"{number} {unit}", unit=unit)
    assert quantity.to_json() == {"value": number, "unit": unit}
    assert read(str(quantity), unit=unit).to_json() == quantity.to_json()


@given(
    terms=st.lists(st.tuples(numbers, st.sampled_from(sorted(LENGTHS))), min_size=1, max_size=6),
    field=st.sampled_from(sorted(LENGTHS)),
)
def test_a_sum_is_the_sum_of_its_terms(terms: list[tuple[str, str]], field: str) -> None:
    """Held against fractions, which are exact: the unit typed, or the field's when several were."""
    text = " + ".join(f"{number} {unit}" for number, unit in terms)
    total = read(text, unit=field)
    units = {unit for _, unit in terms}
    assert total.unit == (units.pop() if len(units) == 1 else field)
    exact = sum(Fraction(number) * LENGTHS[unit] for number, unit in terms)
    assert abs(Fraction(total.value) * LENGTHS[total.unit] - exact) <= exact / 10**20
    assert [str(term) for term in read_terms(text, unit=field)] == [
        f"{number} {unit}" for number, unit in terms
    ]


@given(
    figures=st.lists(numbers, min_size=1, max_size=12),
    typed=st.sampled_from(["", *sorted(LENGTHS)]),
    field=st.sampled_from(sorted(LENGTHS)),
)
def test_the_last_unit_holds_for_bare_figures_and_the_field_s_without_one(
    figures: list[str], typed: str, field: str
) -> None:
    unit = typed or field
    expected = tuple(Quantity(Decimal(figure), unit) for figure in figures)
    assert read_list(f"{', '.join(figures)} {typed}", unit=field) == expected
    if sum(map(len, figures)) < 80:
        assert read_terms(f"{'+'.join(figures)} {typed}", unit=field) == expected
        assert read_takes(f"{';'.join(figures)} {typed}", unit=field) == tuple(
            (quantity,) for quantity in expected
        )


@given(low=numbers, high=numbers, between=st.sampled_from(["..", " to ", "-", " – ", "…", " .. "]))
def test_a_window_rises_or_is_refused(low: str, high: str, between: str) -> None:
    text = f"{low}{between}{high} thou"
    if Decimal(low) < Decimal(high):
        assert read_window(text, unit="in") == (
            Quantity(Decimal(low), "thou"),
            Quantity(Decimal(high), "thou"),
        )
    else:
        with pytest.raises(UnitError):
            read_window(text, unit="in")


@given(
    whole=st.integers(min_value=0, max_value=99),
    top=st.integers(min_value=1, max_value=63),
    power=st.integers(min_value=1, max_value=6),
    between=st.sampled_from([" ", "-", "  "]),
)
def test_fractions_of_the_inch_are_exact(whole: int, top: int, power: int, between: str) -> None:
    bottom = 2**power
    top %= bottom
    if not top:
        return
    text = f"{whole}{between}{top}/{bottom} in" if whole else f'{top}/{bottom}"'
    assert Fraction(read(text, unit="thou").value) == whole + Fraction(top, bottom)


@pytest.mark.parametrize(
    "text",
    [
        "9" * 120,
        "1 " * 60,
        "1," * 60,
        "1+" * 60,
        "." * 120,
        "-" * 120,
        "1-" * 60,
        "a " * 60,
        "1 " + "a-" * 59,
        "1 " + "a." * 59,
        "1 " + "a" * 118,
        "1" + " " * 118 + "a",
        "1/" * 60,
        "1 " * 58 + "1/2",
        "9**" * 40,
        "1 to " * 24,
        "1.." * 40,
        "½" * 120,
    ],
)
def test_no_text_takes_long(text: str) -> None:
    began = time.perf_counter()
    for reader in READERS:
        for longer in (text, text * 5, text * 10_000):
            with pytest.raises(UnitError):
                reader(longer, unit="in", negative=True)
    assert time.perf_counter() - began < 1
