"""figure: a calculator from the shell, all from its declaration."""

import shlex
from pathlib import Path

import pytest

from snugset.trade.calculators import CALCULATORS, figure, shown

from .shell import Shell


def test_alone_it_lists_every_calculator(shell: Shell) -> None:
    lines = shell.ok("figure").out.splitlines()
    for name, calculator in CALCULATORS.items():
        assert any(line.split(maxsplit=1) == [name, calculator.words] for line in lines), name


@pytest.mark.parametrize("name", CALCULATORS)
def test_help_of_a_calculator_lists_keys_units_and_an_example_that_holds(
    shell: Shell, name: str
) -> None:
    calculator = CALCULATORS[name]
    out = shell.ok("figure", name, "--help").out
    words = " ".join(out.split())
    for asked in calculator.inputs:
        assert f"  {asked.key} " in out
        assert not asked.default or f", else {asked.default} " in words
        for choice in asked.choices:
            assert choice in words
    for given in calculator.outputs:
        assert f"  {given.key} " in out
    (example,) = (line for line in out.splitlines() if line.startswith("  snugset figure"))
    worked = shell.ok(*shlex.split(example)[1:])
    result = figure(name, calculator.example.inputs)
    for key, value in result.outputs.items():
        assert key in worked.out
        assert shown(value.value) in worked.out
    for line in result.working:
        assert line in worked.out


def test_a_figure_with_its_doubt_working_and_source(shell: Shell) -> None:
    out = shell.ok("figure", "preload", "takes=17+18 thou; 18+18 thou", "window=30..40 thou").out
    assert "preload          35.5 thou ± 3.3 thou\nverdict          in\n" in out
    assert "\n  mean of 17 thou + 18 thou = 35 thou and" in out
    assert "\nSource: " in out


def test_json_is_the_contract(shell: Shell) -> None:
    ran = shell.ok("figure", "preload", "--json", "takes=17+18 thou; 18+18 thou", "window=30..40")
    found = ran.json
    assert list(found) == ["figure", "inputs", "outputs", "working", "source"]
    assert found["inputs"] == {"takes": "17+18 thou; 18+18 thou", "window": "30..40"}
    assert found["outputs"]["preload"] == {"value": 35.5, "unit": "thou", "uncertainty": 3.3}
    assert found["outputs"]["verdict"] == {"value": "in", "unit": "", "uncertainty": None}


def test_results_come_in_the_system_that_is_asked_for(shell: Shell) -> None:
    words = ("figure", "preload", "takes=17+18 thou; 18+18 thou", "window=30..40 thou", "--json")
    metric = shell.ok(*words, "--units", "metric").json["outputs"]
    assert metric["preload"] == {"value": 0.902, "unit": "mm", "uncertainty": 0.084}
    assert metric["verdict"]["value"] == "in"
    inch = shell.ok(*words, "--units=inch").json["outputs"]
    assert inch["preload"] == {"value": 35.5, "unit": "thou", "uncertainty": 3.3}
    typed = ("figure", "preload", "takes=0.90 mm; 0.91 mm", "window=0.7..1.0 mm", "--json")
    assert shell.ok(*typed, "--units", "inch").json["outputs"]["preload"]["unit"] == "thou"
    rim = shell.ok("figure", "rim", "diameter=190 mm", "angle=60", "--units", "inch", "--json").json
    assert rim["outputs"]["distance"] == {"value": 3.9167, "unit": "in", "uncertainty": None}


def test_lists_and_places_are_converted_whole(shell: Shell) -> None:
    words = (
        *("figure", "pushrods", "readings=1I=58 1E=60 thou", "window=20..60 thou"),
        *("uncertainty=4 thou", "length=9.641 in", "step=0.010 in", "--units", "metric", "--json"),
    )
    outputs = shell.ok(*words).json["outputs"]
    assert outputs["lengths"]["unit"] == "mm"
    assert outputs["predicted"]["unit"] == "mm"
    assert set(outputs["predicted"]["value"]) == {"1I", "1E"}
    assert all(value < 2 for value in outputs["predicted"]["value"].values())
    assert outputs["standard"]["value"] == "proved"


def test_a_conversion_leaves_out_the_other_system(shell: Shell) -> None:
    outputs = shell.ok("figure", "convert", "value=1 in", "--units", "metric", "--json").json
    assert {key: one["value"] for key, one in outputs["outputs"].items()} == {"mm": 25.4}


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("takes=17+18",), "window"),
        (("takes=17 kg",), "takes: "),
        (("thou",), "“thou” is no key=value; a value that holds a space goes in quotes"),
        (("takes=17", "takes=18"), "takes: there twice; leave one out"),
        (("tkaes=17",), "tkaes: not asked for by preload (did you mean “takes”?)"),
        ((), "takes: needed"),
        (("takes=-3",), "takes: "),
        (("takes=9**9**9",), "takes: "),
        (("takes=nan",), "takes: "),
    ],
)
def test_bad_input_names_the_key_and_exits_2(
    shell: Shell, words: tuple[str, ...], says: str
) -> None:
    code, out, err = shell("figure", "preload", *words)
    if says == "window":  # not needed: without one there is no verdict
        assert code == 0
        return
    assert (code, out) == (2, "")
    assert err.startswith(f"snugset: {says}")
    assert err.count("\n") == 1


@pytest.mark.parametrize("words", [("preloa",), ("preloa", "--help"), ("preloa", "takes=17")])
def test_an_unknown_calculator(shell: Shell, words: tuple[str, ...]) -> None:
    code, out, err = shell("figure", *words)
    assert (code, out) == (2, "")
    assert "“preloa” is none (did you mean “preload”?)" in err


def test_an_engine_that_cannot_be_had_is_bad_input(shell: Shell) -> None:
    code, out, err = shell("figure", "valves", "engine=barn-pump-sixx", "angle=0 deg")
    assert (code, out) == (2, "")
    assert err.startswith("snugset: engine: there is no engine file “barn-pump-sixx” (did you mean")
    Path("engine.yaml").write_text("snugset: engine/1\n", "utf-8")
    code, out, err = shell("figure", "valves", "engine=engine.yaml", "angle=0 deg")
    assert (code, out) == (2, "")
    assert err.startswith("snugset: engine: engine.yaml:1:1: ")
