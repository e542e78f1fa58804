import json
from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.calculator import Result, Value
from snugset.trade.calculators import CALCULATORS, FigureError, figure, shown, to_json
from snugset.trade.exact import shown_as
from snugset.trade.typed import read_inputs
from snugset.units import UNITS, Quantity

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


METRIC = {"in": "mm", "thou": "mm", "lbf·ft": "N·m", "lbf·in": "N·m", "cc": "in³"}


@pytest.mark.parametrize("name", NAMES)
def test_the_worked_example_in_other_units_gives_the_same(name: str) -> None:
    calculator = CALCULATORS[name]
    texts = dict(calculator.example.inputs)
    for asked in calculator.inputs:
        if asked.form == "one" and asked.key in texts:
            typed = read_inputs(calculator, texts)[asked.key]
            assert isinstance(typed, Quantity)
            texts[asked.key] = str(shown_as(typed, METRIC.get(typed.unit, typed.unit)))
    before, after = figure(name, calculator.example.inputs), figure(name, texts)
    assert set(after.outputs) == set(before.outputs)
    for key, one in before.outputs.items():
        other = after.outputs[key].value
        if isinstance(one.value, Quantity):
            assert isinstance(other, Quantity)
            assert other.number(one.value.unit) == pytest.approx(
                float(one.value.value), rel=3e-3, abs=1e-9
            ), key  # each is rounded in its own unit
        elif isinstance(one.value, str | bool):
            assert other == one.value, key


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


KEYS = {
    "preload": "takes window target travel repeatability leaf_tolerance lifter",
    "pushrods": "readings window uncertainty length step lengths tolerance most ratio",
    "place": "readings length window",
    "reread": "before change after uncertainty",
    "pattern": "readings banks",
    "turns": "thread pitch mount ratio turns travel",
    "collapsed": "gap ratio travel scratch",
    "shift": "mill deck gasket_old gasket_new shim tip base_radius ratio growth",
    "stack": "leaves want window most",
    "clamp": "torque thread k scatter grade proof other_thread shank count",
    "wrench": "torque wrench adapter angle range running",
    "thread": "thread",
    "convert": "value",
    "decide": "value uncertainty window",
    "valves": "engine angle firing_order intervals camshaft",
    "piston": "stroke connecting_rod angle travel stops",
    "rim": "diameter angle distance",
    "compression": "bore stroke chamber gasket_bore gasket deck piston",
    "lash": "hot cold block head pair_hot pair_cold",
    "cover": "clay gasket_old gasket_new crush under want",
}
"""Each calculator, and the keys that scripts rely on."""
OUTPUTS = {
    "preload": "preload share verdict another_take",
    "pushrods": "lengths places predicted_low predicted_high allowed_low allowed_high proved",
    "place": "places",
    "reread": "predicted difference flag",
    "pattern": "slope bank intake_exhaust bridges outliers look_first",
    "turns": "plunger lash turns degrees share",
    "collapsed": "travel_left preload",
    "shift": "preload_change length_change",
    "stack": "leaves go no_go",
    "clamp": "load load_low load_high share_of_proof total",
    "wrench": "setting in_range",
    "thread": "pitch stress_area proof_load",
    "convert": "in thou mm",
    "decide": "verdict sure",
    "valves": "state degrees cylinders",
    "piston": "travel angle dead_centre",
    "rim": "angle distance",
    "compression": "swept ratio quench",
    "lash": "cold hot",
    "cover": "clearance gasket",
}


def test_the_calculators_their_keys_and_outputs_are_those_that_scripts_rely_on() -> None:
    assert set(KEYS) == set(OUTPUTS) == set(CALCULATORS)
    for name, calculator in CALCULATORS.items():
        assert set(KEYS[name].split()) <= {asked.key for asked in calculator.inputs}, name
        assert set(OUTPUTS[name].split()) <= {out.key for out in calculator.outputs}, name
