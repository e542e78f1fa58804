"""Fasteners and gaskets that are renewed: what is done again before they are tightened."""

from datetime import timedelta

from driving import Table, small
from guide.test_stages import ENGINE, FIGURES, SPECS
from snugset.guide.engine_now import loose


def _some(lines: str) -> str:
    kept = ("first", "turn", "least", "yield")
    return "".join(f"{line}\n" for line in lines.splitlines() if line.partition(":")[0] in kept)


FIGURES_WET = _some(FIGURES) + "sealant: {kind: time, unit: min, ask: How long is it open?}\n"
SPECS_WET = _some(SPECS)
SEALED = """\
- each: sealing
  over: fasteners
  group: head
  where: wet
  steps:
    - do: seal
      marks: sealed
      group: head
      open-time: sealant
    - do: put-in
      marks: stud
- do: counted
- stages: head
  group: head
  yield: yield
  gasket: counted
  renewed: counted
  steps:
    - torque-to: one
      figure: first
    - angle: quarter
      figure: turn
    - accept: reached
      figure: least
- do: last
"""
WET = ENGINE.replace('"2": {x: 4 in, y: 3 in}', '"2": {x: 4 in, y: 3 in, hole: wet through}')


def sealed(at: str, sealant: str = "60 min") -> Table:
    found = small(
        SEALED,
        figures=FIGURES_WET,
        specs=SPECS_WET + f"sealant: {{value: {sealant}, source: tube}}\n",
        engine=WET,
    )
    while found.at != at:
        assert found.at
        found.taken("")
    return found


def test_sealant_past_its_time_stops_an_angle_too_until_its_bolt_is_tight() -> None:
    found = sealed("quarter@2")
    found.away(timedelta(hours=2))
    found.taken("")
    found.taken("kept")
    assert "at 2, its open time" in found.refused("").words
    found.taken("again", at="seal@2")
    found.taken("")
    found.now += timedelta(hours=2)
    found.taken("")


def test_a_new_bolt_is_sealed_again_and_only_it_stands_behind() -> None:
    found = sealed("reached@2")
    found.taken("renewed")
    assert found.at == "seal@2"
    assert found.state.condition.mark("sealed", "head:2") is None
    assert found.state.condition.mark("stud", "head:2") is None
    found.taken("")
    found.taken("")
    found.taken("")
    assert found.at == "quarter@2"
    assert found.state.condition.mark("stage", "head") == "2 of 3"
    loose_now = " ".join(loose(found.plan, found.state))
    assert "head 2 is new, and is tightened to stage 1 of 3 only" in loose_now
    found.taken("")
    assert found.state.condition.mark("new", "head:2") is None
    found.taken("")
    assert found.at == "reached@3"


def test_a_new_bolt_in_a_dry_hole_is_not_stopped_by_the_sealant_of_another() -> None:
    found = sealed("reached@3")
    found.taken("renewed")
    found.now += timedelta(hours=2)
    found.taken("")
    assert found.at == "quarter@3"


def test_beginning_again_with_new_bolts_asks_for_what_each_needs_first() -> None:
    found = sealed("quarter@3")
    found.taken("restart ! one slipped")
    found.taken("stage")
    assert found.at == "head.renew"
    found.taken("")
    found.taken("stays")
    assert found.at == "seal@2"
    found.taken("")
    found.taken("")
    assert found.at == "counted"


def test_a_new_gasket_has_the_bolts_out_also_where_they_do_not_yield() -> None:
    found = small(
        SEALED,
        figures=FIGURES_WET,
        specs=SPECS_WET.replace('"yes"', '"no"') + "sealant: {value: 60 min, source: tube}\n",
        engine=WET,
    )
    while found.at != "quarter@3":
        found.taken("")
    found.taken("restart ! gasket torn")
    found.taken("stage")
    assert found.at == "head.gasket"
    found.taken("renewed")
    assert found.at == "seal@2"
