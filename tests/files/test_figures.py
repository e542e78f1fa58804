"""Figures: what is read as what, and how it is kept and shown."""

import json
from contextlib import suppress
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.files.figures import (
    Camshaft,
    Figure,
    SpecValue,
    Step,
    Window,
    read_value,
    show_value,
    value_from_json,
    value_to_json,
)
from snugset.files.problems import Mark
from snugset.units import Quantity, UnitError
from snugset.values import replace


def figure(kind: str, **fields: object) -> Figure:
    plain = Figure(name="x", kind=kind, ask="What?", mark=Mark("f", 1, 1))
    return replace(plain, **fields)  # type: ignore[arg-type]


def q(value: str, unit: str) -> Quantity:
    return Quantity(Decimal(value), unit)


CARD = Camshaft(ivo=Decimal(12), ivc=Decimal(48), evo=Decimal(52), evc=Decimal(10), lift="seat")
TORQUE = figure("torque", unit="lbf·ft", plausible=(q("10", "lbf·ft"), q("200", "lbf·ft")))
STAGES = figure("torque", form="rising", unit="lbf·ft")
SHELF = figure("length", form="catalogue", unit="in")
GAP = figure("length", form="window", unit="thou")
OIL = figure("choice", choices=("engine oil", "dry", "maker's paste"))
EACH: list[tuple[Figure, str, SpecValue]] = [
    (TORQUE, "110", q("110", "lbf·ft")),
    (TORQUE, "100 N·m", q("100", "N·m")),
    (STAGES, "22, 45, 110 lbf·ft", (q("22", "lbf·ft"), q("45", "lbf·ft"), q("110", "lbf·ft"))),
    (STAGES, "30 N·m", (q("30", "N·m"),)),
    (GAP, "30..40", Window(low=q("30", "thou"), high=q("40", "thou"))),
    (SHELF, "step 0.010 in", Step(quantity=q("0.010", "in"))),
    (SHELF, "9.641, 9.621 in", (q("9.641", "in"), q("9.621", "in"))),
    (figure("number"), "0.15", q("0.15", "")),
    (figure("angle", unit="deg"), "90 deg", q("90", "deg")),
    (figure("time", unit="min"), "20", q("20", "min")),
    (figure("text"), " the maker's leaflet ", "the maker's leaflet"),
    (OIL, "Engine Oil", "engine oil"),
    (figure("thread"), "1/2-20", "1/2-20"),
    (figure("thread"), "M10x1.5", "M10x1.5"),
    (figure("camshaft"), "IVO 12 IVC 48 EVO 52 EVC 10 at seat", CARD),
]


@pytest.mark.parametrize(("asked", "text", "expected"), EACH)
def test_a_value_is_read_kept_and_read_again(asked: Figure, text: str, expected: SpecValue) -> None:
    read = read_value(asked, text)
    assert read == expected
    kept = json.dumps(value_to_json(read), ensure_ascii=False)
    assert value_from_json(json.loads(kept, parse_float=pytest.fail)) == expected
    assert show_value(read)


def test_not_had_is_kept_too() -> None:
    assert value_from_json(value_to_json(None)) is None
    assert show_value(None) == "not had"


def test_digits_stay_as_typed_through_the_keeping() -> None:
    kept = value_to_json(read_value(SHELF, "step 0.010 in"))
    assert kept == {"step": {"value": "0.010", "unit": "in"}}
    assert show_value(value_from_json(kept)).startswith("in steps of 0.010 in")


@pytest.mark.parametrize(
    "kept", [3, [], {"step": "x"}, {"list": 3}, {"camshaft": "IVO"}, {"low": {}}]
)
def test_what_was_never_kept_is_a_value_error(kept: object) -> None:
    with pytest.raises(ValueError, match=r"."):
        value_from_json(kept)


def test_values_are_shown_in_words() -> None:
    assert show_value(q("22", "lbf·ft")) == "22 lbf·ft = 29.8 N·m"
    assert show_value(Window(low=q("30", "thou"), high=q("40", "thou"))) == "30 to 40 thou"
    assert show_value(Window(low=q("0.8", "mm"), high=q("40", "thou"))) == "0.8 mm to 40 thou"
    assert show_value(read_value(STAGES, "22, 45, 110 lbf·ft")) == "22, 45, 110 lbf·ft"
    assert show_value((q("22", "lbf·ft"), q("60", "N·m"))) == "22 lbf·ft, 60 N·m"
    assert show_value(CARD) == "IVO 12 IVC 48 EVO 52 EVC 10 at seat"


@pytest.mark.parametrize(
    ("asked", "text", "code", "said"),
    [
        (TORQUE, "1320", "factor", "outside the plausible"),
        (TORQUE, "22 thou", "kind", ""),
        (TORQUE, "25,4", "comma", ""),
        (TORQUE, "-5", "negative", ""),
        (
            STAGES,
            "22, 110, 45",
            "rising",
            "45 lbf·ft comes after 110 lbf·ft; each figure must be above the one before it",
        ),
        (STAGES, "22, 22", "rising", "22 lbf·ft comes after 22 lbf·ft"),
        (SHELF, "9.6, 9.60 in", "rising", "9.60 in stands twice in the list; keep one of them"),
        (SHELF, "step 0", "empty", "a step of nothing leads nowhere; write it as “step 0.010 in”"),
        (SHELF, "step", "empty", ""),
        (GAP, "40..30", "window", ""),
        (figure("text"), "  ", "empty", "nothing was typed"),
        (figure("text"), "a\u202eb", "not-a-number", "an invisible character (U+202E)"),
        (OIL, "engine oyl", "choice", "(did you mean “engine oil”?)"),
        (figure("thread"), "half inch", "thread", "“half inch” is no thread; write it as 7/16-20"),
    ],
)
def test_what_cannot_be_read_says_why(asked: Figure, text: str, code: str, said: str) -> None:
    with pytest.raises(UnitError) as caught:
        read_value(asked, text)
    assert caught.value.code == code
    assert said in caught.value.message


def test_a_window_and_a_list_are_guarded_at_every_figure() -> None:
    band = (q("5", "thou"), q("120", "thou"))
    with pytest.raises(UnitError, match="outside the plausible"):
        read_value(figure("length", form="window", unit="thou", plausible=band), "30..400")
    with pytest.raises(UnitError, match="outside the plausible"):
        read_value(figure("length", form="catalogue", unit="thou", plausible=band), "1, 30")


def test_under_zero_is_read_only_where_it_is_plausible() -> None:
    deck = figure("length", unit="thou", plausible=(q("-30", "thou"), q("30", "thou")))
    assert read_value(deck, "-12") == q("-12", "thou")


@pytest.mark.parametrize(
    ("text", "lift"),
    [
        ("IVO 12 IVC 48 EVO 52 EVC 10 at seat", "seat"),
        ("ivo 12, ivc 48, evo 52, evc 10 at the seat", "seat"),
        ("EVC 10° EVO 52° IVO 12° IVC 48° at advertised", "advertised"),
        ("IVO=12 IVC=48 EVO=52 EVC=10 at .050 in", "0.050 in"),
        ("IVO: 12 deg; IVC: 48 deg; EVO: 52 deg; EVC: 10 deg at 0.050", "0.050 in"),
    ],
)
def test_a_camshaft_card_is_read_as_cards_are_printed(text: str, lift: str) -> None:
    card = read_value(figure("camshaft"), text)
    assert isinstance(card, Camshaft)
    assert str(card) == f"IVO 12 IVC 48 EVO 52 EVC 10 at {lift}"


def test_an_event_on_the_other_side_of_dead_centre_is_negative() -> None:
    card = read_value(figure("camshaft"), "IVO -4.5 IVC 31 EVO 33 EVC -6 at .050 in")
    assert isinstance(card, Camshaft)
    assert (card.ivo, card.evc) == (Decimal("-4.5"), Decimal(-6))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("IVO 12 IVC 48 EVO 52 at seat", "EVC is missing; write the card as IVO 12"),
        ("IVO 12 IVC 48 EVO 52 EVC 10", "the checking lift is missing"),
        ("IVO 12 IVC 48 EVO 52 EVC 10 at .1 in", "the checking lift is missing"),
        ("IVO 12 IVO 48 EVO 52 EVC 10 at seat", "“IVO” does not fit here"),
        ("IVO 12 IVC 48 EVO 52 EVC ten at seat", "“EVC” does not fit here"),
        ("IVO 12 IVC 480 EVO 52 EVC 10 at seat", "IVC 480 lies outside -60 to 150 degrees"),
        ("IVO 12 " * 40, "too long"),
    ],
)
def test_a_card_that_lacks_something_says_what(text: str, said: str) -> None:
    with pytest.raises(UnitError) as caught:
        read_value(figure("camshaft"), text)
    assert said in caught.value.message


@given(st.sampled_from([f for f, _, _ in EACH]), st.text(max_size=60))
def test_any_text_gives_a_value_or_a_unit_error(asked: Figure, text: str) -> None:
    with suppress(UnitError):
        got = read_value(asked, text)
        assert value_from_json(value_to_json(got)) == got
