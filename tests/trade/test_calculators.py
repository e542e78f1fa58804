import json
from collections.abc import Mapping
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.calculator import Figure, Result, Value
from snugset.trade.calculators import CALCULATORS, FigureError, figure, shown, to_json
from snugset.trade.typed import read_inputs
from snugset.units import UNITS, Quantity

from .amounts import q

NAMES = sorted(CALCULATORS)


def units_of(value: Value) -> set[str]:
    match value:
        case Quantity():
            return {value.unit}
        case bool() | str():
            return set()
        case tuple():
            return {one.unit for one in value if isinstance(one, Quantity)}
        case _:
            return {one.unit for one in value.values() if isinstance(one, Quantity)}


@pytest.mark.parametrize("name", NAMES)
def test_the_worked_example_works(name: str) -> None:
    example = CALCULATORS[name].example
    result = figure(name, example.inputs)
    assert {key: shown(result.outputs[key].value) for key in example.outputs} == example.outputs
    assert result.working
    assert result.source == CALCULATORS[name].source


@pytest.mark.parametrize("name", NAMES)
def test_a_declaration_holds_together(name: str) -> None:
    calculator = CALCULATORS[name]
    assert calculator.name == name
    keys = [asked.key for asked in calculator.inputs]
    assert len(set(keys)) == len(keys)
    assert set(calculator.example.inputs) <= set(keys)
    for asked in calculator.inputs:
        assert asked.unit in UNITS
        assert asked.like in {"", *keys}
        assert (asked.form == "choice") == bool(asked.choices)
        assert asked.words
    declared = {given_.key for given_ in calculator.outputs}
    assert set(figure(name, calculator.example.inputs).outputs) <= declared
    assert calculator.formula
    assert calculator.source


@pytest.mark.parametrize("name", NAMES)
def test_json_has_numbers_with_units_and_names_its_parts(name: str) -> None:
    example = CALCULATORS[name].example
    body = to_json(name, example.inputs, figure(name, example.inputs))
    assert json.loads(json.dumps(body)) == body
    assert list(body) == ["figure", "inputs", "outputs", "working", "source"]
    assert body["inputs"] == example.inputs
    outputs = body["outputs"]
    assert isinstance(outputs, Mapping)
    for one in outputs.values():
        assert list(one) == ["value", "unit", "uncertainty"]
        assert one["unit"] in UNITS


def test_json_of_a_preload() -> None:
    texts = {"takes": "17+18 thou; 18+18 thou", "window": "30 to 40 thou"}
    outputs = to_json("preload", texts, figure("preload", texts))["outputs"]
    assert isinstance(outputs, Mapping)
    assert outputs["preload"] == {"value": 35.5, "unit": "thou", "uncertainty": 3.3}
    assert outputs["verdict"] == {"value": "in", "unit": "", "uncertainty": None}
    assert outputs["another_take"] == {"value": False, "unit": "", "uncertainty": None}


def test_json_of_pushrods() -> None:
    texts = {
        "readings": "1I=58 1E=60 thou", "window": "20 to 60 thou", "uncertainty": "4",
        "length": "9.641", "step": ".01",
    }  # fmt: skip
    outputs = to_json("pushrods", texts, figure("pushrods", texts))["outputs"]
    assert isinstance(outputs, Mapping)
    assert outputs["lengths"] == {"value": [9.621], "unit": "in", "uncertainty": None}
    assert outputs["places"]["value"] == {"1I": 9.621, "1E": 9.621}
    assert outputs["predicted_high"] == {"value": 40, "unit": "thou", "uncertainty": 4}
    assert outputs["fails"] == {"value": [], "unit": "", "uncertainty": None}


def test_the_bridged_eight_as_it_is_typed() -> None:
    """A change of +16 to +40 proves every place; the formula has the numbers put in."""
    result = figure(
        "pushrods",
        {
            "readings": "1I=11 1E=14 2I=9 2E=13 3I=12 3E=15 4I=10 4E=8 5I=13 5E=16 6I=12 6E=11"
            " 7I=14 7E=13 8I=10 8E=12 thou",
            "window": "0.020..0.060 in",
            "uncertainty": "4 thou",
            "step": "25 thou",
        },
    )
    assert shown(result.outputs["lengths"].value) == "25 thou"
    assert result.working[:2] == (
        "one length for all, from: 20 + 4 + 0 − 8 = 16 thou",
        "one length for all, to: 60 − 4 − 0 − 16 = 40 thou",
    )
    assert "lengths are counted from the pushrods in hand: negative is shorter" in result.working


def test_a_round_read_again_place_by_place() -> None:
    result = figure(
        "reread",
        {
            "before": "1I=11 1E=14 2I=16 thou",
            "change": "25 thou",
            "after": "1I=36 1E=40 2I=16 thou",
            "uncertainty": "4 thou",
        },
    )
    assert result.outputs["flag"].value == "old"
    assert result.outputs["flags"].value == {"1I": "agrees", "1E": "agrees", "2I": "old"}
    assert "old pushrod" in shown(result.outputs["look_first"].value)


def test_the_working_gives_the_verdict_of_the_unrounded_mean() -> None:
    """A mean of 36.7333 is shown as 36.7 but is not proved below 39.4 − 2.7 = 36.7."""
    result = figure(
        "preload", {"takes": "36.7; 36.7; 36.8", "window": "30 to 39.4", "repeatability": "4"}
    )
    assert result.outputs["verdict"].value == "inside"
    assert result.working[-1].endswith("36.7 thou is inside, not proved")


def test_a_loose_lifter_has_no_doubt_to_show() -> None:
    outputs = figure("preload", {"takes": "0", "target": "35"}).outputs
    assert outputs["verdict"].value == "loose"
    assert outputs["preload"].uncertainty is None
    assert "change" not in outputs


def test_a_gauge_for_a_window() -> None:
    outputs = figure("stack", {"leaves": "20, 25, 35 thou", "window": "20 to 60 thou"}).outputs
    assert shown(outputs["go"].value) == "20 thou"
    assert shown(outputs["no_go"].value) == "35, 25 thou"


def test_short_travel_lifters_are_bottomed_by_six_tenths_of_a_turn() -> None:
    """Stud 7/16-20, R 1.6, travel .045 in: 0.6 turn is .049 in."""
    texts = {"thread": "7/16-20", "mount": "pivot", "ratio": "1.6", "turns": "0.6"}
    result = figure("turns", {**texts, "lifter_travel": ".045 in"})
    assert result.outputs["share"].value == Quantity(Decimal("1.08"), "")
    assert result.working[-1] == "1.08 of the lifter's 0.045 in: bottomed"
    other = figure("turns", {"thread": "7/16-20", "mount": "rod-end", "ratio": "1.6", "turns": "1"})
    assert other.outputs["plunger"].value == q("0.05 in")


def test_a_rim_both_ways() -> None:
    """An eighth of a turn on 8 in is π in."""
    there = figure("rim", {"diameter": "8 in", "angle": "45 deg"}).outputs["distance"]
    assert there.value == q("3.1416 in")
    back = figure("rim", {"diameter": "8 in", "distance": "79.796 mm"}).outputs["angle"]
    assert back.value == q("45 deg")


def test_inch_pounds_typed_for_a_head_wrench() -> None:
    texts = {"torque": "55 lbf·in", "range": "20 to 150 lbf·ft"}
    result = figure("wrench", texts)
    assert result.outputs["in_range"].value is False
    assert "this wrench serves from 30 lbf·ft to 150 lbf·ft: out of range" in result.working


def test_a_torque_in_every_unit() -> None:
    outputs = figure("convert", {"value": "22 ft-lb"}).outputs
    assert outputs["lbf·in"] == Figure(value=q("264 lbf·in"))
    assert set(outputs) == {"lbf·ft", "lbf·in", "N·m", "kgf·m"}


@pytest.mark.parametrize(
    ("value", "window", "low", "verdict"),
    [
        ("40", "30 to 40", "", "inside"), ("22 lbf·ft", "20 to 24", "", "in"),
        ("35", "", "", "no-limit"), ("35", "", "42", "low"),
    ],
)  # fmt: skip
def test_a_decision_on_any_kind_of_value(value: str, window: str, low: str, verdict: str) -> None:
    texts = {"value": value, "uncertainty": "2", "window": window, "low": low}
    assert figure("decide", texts).outputs["verdict"].value == verdict


PRELOAD = {"takes": "35", "window": "20 to 60"}
PUSHRODS = {"readings": "1I=11 1E=14 thou", "window": "20..60", "uncertainty": "4", "step": ".01"}
CLAMP = {"torque": "70", "thread": "7/16-20", "k": "0.2"}


@pytest.mark.parametrize(
    ("name", "texts", "key", "says"),
    [
        ("prelaod", {}, "figure", "“prelaod” is none (did you mean “preload”?)"),
        ("preload", {}, "takes", "needed: the leaves that fitted"),
        ("preload", {**PRELOAD, "wndow": "3"}, "wndow", "(did you mean “window”?)"),
        ("preload", {**PRELOAD, "lifter": "filed"}, "lifter", "(did you mean “filled”?)"),
        ("preload", {"takes": "17,5"}, "takes", "takes=17.5"),
        ("preload", {"takes": ".035"}, "takes", "takes=0.035 in"),
        ("preload", {"takes": "35 lbf·ft"}, "takes", "a length is asked"),
        ("preload", {"takes": "nan"}, "takes", "“nan”"),
        ("preload", {"takes": "9**9**9"}, "takes", "cannot be read"),
        ("preload", {"takes": "-3"}, "takes", "below zero"),
        ("preload", {"takes": "1" * 3000}, "takes", "longer than"),
        ("preload", {**PRELOAD, "travel": "45"}, "window", "beyond the lifter's whole travel"),
        ("preload", {"takes": "35", "window": "60 to 20"}, "window", "does not rise"),
        ("pushrods", {**PUSHRODS, "step": ""}, "step", "the catalogue's step or its lengths"),
        ("pushrods", {**PUSHRODS, "step": "10"}, "step", "step=10 thou"),
        ("pushrods", {**PUSHRODS, "step": "", "lengths": "9.6, 9.62"}, "length", "needed with"),
        ("pushrods", {**PUSHRODS, "readings": "1I=11 1I=14"}, "readings", "1I is there twice"),
        ("pushrods", {**PUSHRODS, "readings": "x 1I=11"}, "readings", "does not begin with"),
        ("pushrods", {**PUSHRODS, "readings": "1I=0.5 mm 1E=9"}, "readings", "the unit of each"),
        ("pushrods", {**PUSHRODS, "uncertainty": "1I=4"}, "uncertainty", "there is none for 1E"),
        ("pushrods", {**PUSHRODS, "most": "two"}, "most", "write a whole number"),
        ("reread", {"before": "1I=1", "after": "1E=1", "change": "1", "uncertainty": "1"}, "after",
         "there is none for 1I"),
        ("reread", {"before": "1I=1", "after": "1I=1", "change": "1E=1", "uncertainty": "1"},
         "change", "there is none for 1I"),
        ("stack", {"leaves": "10, 12"}, "want", "one of the two"),
        ("pattern", {"readings": "1I=3", "banks": "left"}, "banks", "left=1,3,5,7 right=2,4,6,8"),
        ("clamp", {**CLAMP, "thread": "3/8"}, "thread", "lacks its threads to the inch"),
        ("clamp", {**CLAMP, "other_thread": "x"}, "other_thread", "“x” is no thread"),
        ("clamp", {**CLAMP, "scatter": "25"}, "scatter", "write 25 % or 0.25"),
        ("clamp", {**CLAMP, "grade": "9"}, "grade", "is none of 2, 5, 8, 8.8, 10.9, 12.9"),
        ("clamp", {**CLAMP, "grade": "8", "proof": "120"}, "proof", "one of the two"),
        ("turns", {"mount": "pivot", "ratio": "1.6", "turns": "1"}, "thread", "one of the two"),
        ("rim", {"diameter": "8"}, "angle", "one of the two"),
        ("convert", {"value": "22"}, "value", "has no unit known here"),
        ("convert", {"value": "22 furlongs"}, "value", "has no unit known here"),
        ("decide", {"value": "22 lbf·ft", "uncertainty": "2 thou"}, "uncertainty", "a torque is"),
    ],
)  # fmt: skip
def test_a_refusal_names_the_key_and_the_fix(
    name: str, texts: dict[str, str], key: str, says: str
) -> None:
    with pytest.raises(FigureError) as refused:
        figure(name, texts)
    assert refused.value.key == key
    assert str(refused.value).startswith(f"{key}: ")
    assert says in refused.value.problem


def test_a_value_of_another_form_is_refused() -> None:
    with pytest.raises(FigureError, match="k: not given as Decimal"):
        CALCULATORS["clamp"].compute(
            {**read_inputs(CALCULATORS["clamp"], CLAMP), "k": Quantity(Decimal("0.2"), "")}
        )
    with pytest.raises(FigureError, match="takes: needed"):
        CALCULATORS["preload"].compute({"takes": None})


TEXTS = st.text(alphabet="0123456789.+-/;,= thoumlbf·ftIE%x()²“\n\x00é９", max_size=30)


@given(st.sampled_from(NAMES), st.data())
def test_whatever_is_typed_gives_a_result_or_a_sentence(name: str, data: st.DataObject) -> None:
    """No result without a unit, no error without the key."""
    calculator = CALCULATORS[name]
    keys = [asked.key for asked in calculator.inputs]
    spoilt = data.draw(st.dictionaries(st.sampled_from(keys), TEXTS, max_size=3))
    found = result_or_key(name, {**calculator.example.inputs, **spoilt})
    if isinstance(found, str):
        assert found in keys
        return
    for one in found.outputs.values():
        assert units_of(one.value) <= set(UNITS)


def result_or_key(name: str, texts: Mapping[str, str]) -> Result | str:
    """Give the result, or the key that was refused."""
    try:
        return figure(name, texts)
    except FigureError as refused:
        return refused.key


def test_the_calculators_are_those_of_the_measuring_and_the_torquing() -> None:
    assert {
        "preload", "pushrods", "reread", "pattern", "turns", "stack", "clamp", "wrench", "thread",
        "convert", "decide", "rim",
    } <= set(CALCULATORS)  # fmt: skip
