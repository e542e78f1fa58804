"""What a form says of its fields, and a result in one line."""

import pytest

from snugset.trade.calculators import CALCULATORS, GROUPS, figure
from snugset.trade.echoed import echoed
from snugset.trade.noted import noted
from snugset.trade.typed import read_fields


@pytest.mark.parametrize(
    ("name", "key", "typed", "said"),
    [
        ("rim", "diameter", "7.5", "7.5 in = 190.5 mm"),
        ("preload", "takes", "17+18; 0.9", "35 thou = 0.889 mm; 0.9 thou = 0.023 mm"),
        ("preload", "window", "20..60", "20 thou = 0.508 mm, to 60 thou = 1.524 mm"),
        ("stack", "leaves", "10, 12", "10 thou = 0.254 mm, 12 thou = 0.305 mm"),
        (
            "pattern",
            "readings",
            "1I=3 1E=1 2I=2 2E=5 3I=4 thou",
            "5 figures, from 1 thou = 0.025 mm to 5 thou = 0.127 mm",
        ),
        ("pattern", "banks", "left=1,3 right=2,4", "left: 1, 3 from the front; right: 2, 4 from"),
        ("cover", "crush", "0.25", "25 %"),
        ("clamp", "thread", "M10", "M10, 10 mm across, pitch 1.5 mm"),
        ("valves", "firing_order", "1-3-4-2", "4 cylinders"),
        ("lash", "block", "iron", ""),
    ],
)
def test_a_field_is_said_as_it_was_read(name: str, key: str, typed: str, said: str) -> None:
    calculator = CALCULATORS[name]
    (asked,) = (one for one in calculator.inputs if one.key == key)
    fields = read_fields(calculator, {key: typed})
    assert key not in fields.faults
    told = echoed(asked, fields.values[key])
    assert told.startswith(said)
    assert bool(told) == bool(said)


def test_every_mistake_is_told_and_what_is_blank_is_no_mistake() -> None:
    fields = read_fields(CALCULATORS["wrench"], {"torque": "x", "range": "9", "angle": "45"})
    assert set(fields.faults) == {"torque", "range"}
    assert "angle" in fields.values
    assert fields.missing == ()
    slip = read_fields(CALCULATORS["rim"], {"diameter": "190"}).faults["diameter"]
    assert slip.endswith("where 190 mm (that is 7.4803 in) would fit")
    assert read_fields(CALCULATORS["wrench"], {}).missing == ("torque",)


def test_each_calculator_stands_in_one_group() -> None:
    names = [one.name for some in GROUPS.values() for one in some]
    assert sorted(names) == sorted(CALCULATORS)


@pytest.mark.parametrize("name", CALCULATORS)
def test_a_note_holds_inputs_and_results_and_is_cut_only_in_its_working(name: str) -> None:
    calculator = CALCULATORS[name]
    texts = calculator.example.inputs
    result = figure(name, texts)
    whole = noted(calculator, texts, result, longest=2000)
    assert whole.startswith(f"{name}: from ")
    assert len(whole) <= 2000
    assert all(f"{key} {text}" in whole for key, text in texts.items())
    assert all(line in whole for line in result.working)
    start = whole.index(" Working: ")
    short = noted(calculator, texts, result, longest=start + 60)
    assert len(short) <= start + 60
    assert short == whole or short.startswith(whole[:start])
