"""A figure given again: what was done by the old one is judged again, or done again."""

import importlib
import pkgutil

import pytest

from driving import Table, small, table
from guide.test_stages import bench
from guide.test_valves import EIGHT, FOUR, NUT, NUT_FIGURES, NUT_SPECS, PROVE, lash
from snugset.guide import kinds
from snugset.guide.address import Address
from snugset.guide.ruling import Decision
from snugset.guide.state import PlannedPoint

FOLLOWED = {
    "Tighten": {"stages"},
    "Torque": {"setting"},
    "Crank": {"events", "margin", "lifter"},
    "Gap": {"window", "travel"},
    "Clay": {"at_least", "under", "gasket_old", "gasket_new", "crush"},
    "Lash": {"intake", "exhaust", "shift", "tolerance"},
    "Measure": {"at_most", "at_least", "window"},
    "Nut": {"thread", "turns", "target", "window", "travel"},
    "TorqueTo": {"figure"},
    "Angle": {"figure"},
    "Verify": {"figure"},
    "Accept": {"figure"},
}
HARMLESS = {
    "Tighten": {"wrench", "thread", "nut_factor", "scatter"},  # judged at each setting; shown only
    "Torque": {"wrench"},
    "Stages": {"wrench", "yield_", "thread", "nut_factor", "scatter"},  # steers what comes next
    "TorqueTo": {"wrench"},
    "Verify": {"wrench"},
    "Accept": {"wrench"},
    "Angle": {"tolerance"},  # an allowance for what is to come
    "Loosen": {"turns"},
    "Choose": {"figure"},
    "Wait": {"time"},
    "Do": {"open_time", "wants_figure"},
    "Crank": {"bleed"},
    "Gap": {"target", "repeatability", "leaf", "leaves", "lifter", "bleed"},  # U was the set's then
    "Clay": {"doubt_figure"},
    "Measure": {"doubt_figure"},
    "Nut": {"doubt", "lifter", "bleed"},
    "Judge": {"pushrod", "catalogue", "tolerance", "window", "target", "travel", "most"},
}


def _blocks() -> dict[str, type]:
    found: dict[str, type] = {}
    for module in pkgutil.iter_modules(kinds.__path__):
        inside = vars(importlib.import_module(f"snugset.guide.kinds.{module.name}"))
        found |= {
            name: each
            for name, each in inside.items()
            if isinstance(each, type) and getattr(each, "FIGURES", None)
        }
    return found


@pytest.mark.parametrize("name", sorted(_blocks()))
def test_every_figure_of_a_kind_is_followed_or_known_to_be_harmless(name: str) -> None:
    figures = set(_blocks()[name].FIGURES)  # type: ignore[attr-defined]
    assert figures == FOLLOWED.get(name, set()) | HARMLESS.get(name, set())


def test_a_torque_of_a_stage_given_again_opens_it_and_what_follows() -> None:
    found = bench("even#1")
    said = found.taken("again 50 lbf·ft; newer leaflet", at="spec.second").said
    assert "head: two and what follows are to be done again." in said
    assert found.at == "two@4"
    assert found.state.condition.mark("stage", "head") == "3 of 7"


def test_a_torque_under_an_angle_that_is_given_begins_all_again_with_a_reason() -> None:
    found = bench("reached@2")
    refusal = found.refused("again 50 lbf·ft; newer leaflet", at="spec.second")
    assert refusal.code == "angle-given"
    assert "no torque goes under an angle" in refusal.words
    assert str(found.state.spec("second")) == "45 lbf·ft"
    found.taken("again 50 lbf·ft; newer leaflet ! misread", at="spec.second")
    assert found.at == "head.loosen@head.4"


def test_another_angle_begins_all_again_and_the_same_one_does_nothing() -> None:
    found = bench("reached@2")
    found.taken("again 90 deg; leaflet", at="spec.turn")
    assert found.at == "reached@2"
    assert found.refused("again 120 deg; newer", at="spec.turn").code == "angle-given"


def test_a_higher_least_torque_opens_those_that_held_less() -> None:
    found = bench("reached@2")
    found.taken("")
    found.taken("80 lbf·ft")
    found.taken("again 70 lbf·ft; newer", at="spec.least")
    assert found.at == "reached@2"
    lower = bench("reached@2")
    lower.taken("")
    lower.taken("again 55 lbf·ft; newer", at="spec.least")
    assert lower.at == "reached@3"


def test_a_lash_outside_by_the_new_figure_is_open_again_and_another_stands() -> None:
    found = lash()
    while found.at != "warm":
        found.taken("")
    said = found.taken("again .020 in; newer card", at="spec.ex-lash").said
    assert any(line.startswith("Outside by the new figure, and open again:") for line in said)
    assert Address("cold", "1E") not in found.state.readings
    assert Address("cold", "1I") in found.state.readings
    assert found.at.startswith(("points.turn", "cold@"))


def test_nuts_are_done_again_where_their_turns_make_another_preload() -> None:
    found = small(NUT, figures=NUT_FIGURES, specs=NUT_SPECS, engine=EIGHT)
    while not found.at.startswith("adjust"):
        found.taken("")
    where = str(found.asked.address)
    found.taken("")
    name = next(n for n in found.state.specs if "thread" in n)
    assert isinstance(found.say("again 3/8-24; newer", at=f"spec.{name}"), Decision)
    assert not any(str(a) == where for a in found.state.readings)


def test_a_limit_given_again_judges_the_reading_again() -> None:
    steps = "- read: warp\n  figure: warp\n  unit: in\n  at-most: most\n- do: last\n"
    found = small(
        steps,
        figures="most: {kind: length, unit: in, ask: At most?}\n",
        specs="most: {value: .004 in, source: book}\n",
        engine=FOUR,
    )
    found.taken(".003")
    found.taken("again .006 in; newer", at="spec.most")
    assert str(found.state.readings[Address("warp")].high) == "0.006 in"
    assert found.at == "last"
    found.taken("again .002 in; newer", at="spec.most")
    assert found.at == "warp"


def test_the_lifters_travel_given_again_finds_a_reading_that_was_none() -> None:
    at = table().until("gap@3E#1")
    before = at.state.readings[Address("gap", "5I", 1)]
    assert before.verdict not in ("bottomed", "loose")
    window = before.high
    assert window is not None
    at.taken(
        f"again {before.value.in_('in')} in; the lifter maker ! short", at="spec.lifter-travel"
    )
    assert at.state.readings[Address("gap", "5I", 1)].verdict == "bottomed"


def test_steps_that_a_figure_takes_out_of_the_build_are_named() -> None:
    steps = "- do: only-then\n  if: figure way is long\n- do: last\n"
    found = small(
        steps,
        figures="way: {kind: choice, choices: [long, short], ask: Which?}\n",
        specs="way: {value: long, source: me}\n",
        engine=FOUR,
    )
    found.taken("")
    said = found.taken("again short; me", at="spec.way").said
    assert any("do not belong to the build any more: only-then" in line for line in said)


def test_the_least_margin_counts_in_whatever_unit_it_is_typed() -> None:
    windows = []
    for margin in ("18 deg", "0.05 turn"):
        found = small(
            PROVE + "- crank: points\n  over: cylinders\n  events: card\n  margin: margin\n"
            "  steps: [{do: set}]\n",
            figures="card: {kind: camshaft, ask: Card?}\n"
            "margin: {kind: angle, unit: deg, ask: Least margin?, plausible: 0..60 deg}\n",
            specs="card: {value: IVO 12 IVC 48 EVO 52 EVC 10 at seat, source: card}\n"
            f"margin: {{value: {margin}, source: me}}\n",
            engine=FOUR,
        )
        while not found.state.planned:
            found.taken("")
        planned = found.state.planned["points"].points
        windows.append([(p.low, p.high) for p in planned])
    assert windows[0] == windows[1]
    none = _without_margin()
    assert [(p.low, p.high) for p in none] != windows[0]


def _without_margin() -> tuple[PlannedPoint, ...]:
    found: Table = small(
        PROVE + "- crank: points\n  over: cylinders\n  events: card\n  steps: [{do: set}]\n",
        figures="card: {kind: camshaft, ask: Card?}\n",
        specs="card: {value: IVO 12 IVC 48 EVO 52 EVC 10 at seat, source: card}\n",
        engine=FOUR,
    )
    while not found.state.planned:
        found.taken("")
    return found.state.planned["points"].points


def test_filled_lifters_prefer_pistons_well_down() -> None:
    aims = []
    for state in ("dry", "filled"):
        found = small(
            PROVE + "- crank: points\n  over: cylinders\n  events: card\n  lifter: state\n"
            "  steps: [{do: set}]\n",
            figures="card: {kind: camshaft, ask: Card?}\n"
            "state: {kind: choice, choices: [dry, filled], ask: Which?}\n",
            specs="card: {value: IVO 12 IVC 48 EVO 52 EVC 10 at seat, source: card}\n"
            f"state: {{value: {state}, source: me}}\n",
            engine=EIGHT,
        )
        while not found.state.planned:
            found.taken("")
        aims.append([p.aim for p in found.state.planned["points"].points])
    assert aims[0] != aims[1]
