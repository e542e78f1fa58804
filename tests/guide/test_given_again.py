"""A figure given again after work was done by it: what falls, what stands, what is stopped."""

from collections.abc import Iterator
from inspect import getmembers, isclass
from pkgutil import iter_modules

import pytest

from driving import Table, small
from guide.test_stages import SPECS, bench
from guide.test_valves import EIGHT, NUT, NUT_FIGURES, NUT_SPECS
from snugset.guide import kinds
from snugset.guide.kinds.given_again import FOLLOWED

FOUR = """\
snugset: engine/1
name: Lash twin (invented)
layout: inline
cylinders: 2
firing-order: [1, 2]
running: clockwise
rockers: shaft
lifters: solid
ratio: 1.5
"""
FROM_NOW_ON = {
    # What a wrench, a thread or a doubt is counts for what is asked after it.
    "wrench", "thread", "nut_factor", "scatter", "doubt", "doubt_figure", "leaf", "leaves",
    "repeatability",
    # Asked anew at each place, or settled in metal by now.
    "tolerance", "turns", "yield_", "open_time", "agrees", "time", "bleed", "lifter",
    # What was ordered by them is on its way.
    "pushrod", "catalogue", "target", "most", "window", "travel",
    # The container unfolds by it.
    "figure",
}  # fmt: skip


def blocks() -> Iterator[type]:
    """Give every block that names figures."""
    for found in iter_modules(kinds.__path__):
        module = __import__(f"{kinds.__name__}.{found.name}", fromlist=["_"])
        for _, each in getmembers(module, isclass):
            if each.__module__ == module.__name__ and getattr(each, "FIGURES", None):
                yield each


def test_each_figure_of_each_block_is_followed_or_counts_from_now_on_only() -> None:
    found = list(blocks())
    assert len(found) > 12
    for block in found:
        left = set(getattr(block, "FIGURES", {})) - set(FOLLOWED.get(block, {}))
        assert left <= FROM_NOW_ON, block


def given(found: Table, name: str, value: str) -> str:
    """Give a figure again; what is said."""
    return " ".join(found.taken(f"again {value}; leaflet", f"spec.{name}").said)


def test_another_torque_opens_its_stage_and_what_follows() -> None:
    found = bench("even#1")
    assert found.state.condition.mark("stage", "head") == "4 of 7"
    assert "two and what follows" in given(found, "second", "50 lbf·ft")
    assert found.at == "two@4"
    assert found.state.condition.mark("stage", "head") == "3 of 7"


def test_the_same_torque_given_again_opens_nothing() -> None:
    found = bench("even#1")
    given(found, "second", "45 lbf·ft")
    assert found.at == "even#1"


def test_a_torque_under_an_angle_is_stopped_and_stands_with_a_reason() -> None:
    found = bench("reached@2")
    stopped = found.refused("again 50 lbf·ft; leaflet", "spec.second")
    assert stopped.code == "angle-stands"
    assert "quarter" in stopped.words
    found.taken("again 50 lbf·ft; leaflet ! written down wrongly", "spec.second")
    assert found.at == "reached@2"
    assert found.state.overrides[-1].code == "angle-stands"


def test_another_angle_is_stopped_once_fasteners_have_it() -> None:
    found = bench("quarter@4")
    given(found, "turn", "95 deg")
    found.taken("")
    assert found.refused("again 90 deg; leaflet", "spec.turn").code == "angle-stands"


def test_another_least_torque_is_tested_again() -> None:
    found = bench("last")
    given(found, "least", "65 lbf·ft")
    assert found.at == "reached@2"
    assert found.state.condition.mark("stage", "head") == "6 of 7"


def test_a_finished_container_begins_again_when_it_is_asked_to() -> None:
    found = bench("last")
    assert found.refused("restart", "two@1").code == "restart"
    found.taken("restart ! a wet nut was found", "two@1")
    assert found.at == "head.loosen@head.4"
    assert found.state.condition.mark("stage", "head") is None


LASH = """\
- turn: proof
  prove: yes
- crank: points
  over: valves
  steps:
    - lash: set
      figure: lash
      unit: thou
      at: cold
      intake: wanted
      exhaust: wanted
      shift: growth
- do: closed
  guards: [lash]
"""
LASH_FIGURES = """\
wanted: {kind: length, unit: thou, ask: Hot?}
growth: {kind: length, unit: thou, ask: Cold less hot?, plausible: -30..30 thou}
"""
LASH_SPECS = """\
wanted: {value: 14 thou, source: leaflet}
growth: {value: 2 thou, source: leaflet}
"""


@pytest.mark.parametrize(("name", "value"), [("wanted", "20 thou"), ("growth", "-6 thou")])
def test_another_lash_opens_the_valves_that_do_not_have_it(name: str, value: str) -> None:
    found = small(LASH, figures=LASH_FIGURES, specs=LASH_SPECS, engine=FOUR)
    found.until_step("closed")
    assert "read again" in given(found, name, value)
    assert found.at != "closed"
    assert not found.state.readings


def test_a_lash_that_is_still_right_is_judged_anew_and_stands() -> None:
    found = small(LASH, figures=LASH_FIGURES, specs=LASH_SPECS, engine=FOUR)
    found.until_step("closed")
    assert "standing: 4" in given(found, "wanted", "14.5 thou")
    assert found.at == "closed"
    assert {str(r.low) for r in found.state.readings.values()} == {"15.5 thou"}


def test_another_thread_opens_the_nuts_that_were_turned_by_it() -> None:
    found = small(NUT, figures=NUT_FIGURES, specs=NUT_SPECS, engine=EIGHT)
    while not found.state.readings:
        found.taken("")
    given(found, "thread", "3/8-24")
    assert not found.state.readings


READ = """\
- read: flat
  figure: flat
  unit: in
  at-most: most
- do: last
"""


def test_another_limit_judges_a_reading_and_opens_it_where_it_fails() -> None:
    figures = "most: {kind: length, unit: in, ask: At most?}\n"
    found = small(READ, figures=figures, specs="most: {value: 0.004 in, source: leaflet}")
    found.taken("0.003")
    given(found, "most", "0.0035 in")
    assert found.at == "last"
    given(found, "most", "0.002 in")
    assert found.at == "flat"


def test_torques_rise_on_each_fastener_by_itself() -> None:
    specs = SPECS.replace("outer: {value: 20", "outer: {value: 10")
    found = bench("", specs)
    given(found, "outer", "12 lbf·ft")
