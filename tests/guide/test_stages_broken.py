"""Stages that were broken off: each with its consequence on coming back."""

from datetime import timedelta

import pytest

from driving import Table, small
from guide.test_stages import ENGINE, SPECS, bench
from guide.test_valves import EIGHT, NUT, NUT_FIGURES, NUT_SPECS

SHORT, NIGHT = timedelta(hours=2), timedelta(hours=10)


def back(found: Table, span: timedelta) -> str:
    """Come back after a break, read the first prompt, and give what it said to do first."""
    found.away(span)
    assert found.at == "return"
    facts = " ".join(fact for fact in found.asked.facts if fact.startswith("First"))
    found.taken("")
    return facts


def test_a_torque_stage_starts_again_from_its_first_fastener() -> None:
    found = bench("two@4")
    found.taken("")
    found.taken("")
    assert "two was broken off; it starts again" in back(found, SHORT)
    assert found.at == "two@4"
    assert found.state.condition.mark("stage", "head") == "3 of 7"


def test_a_torque_reached_is_given_again_after_a_night_and_stands_after_a_short_break() -> None:
    found = bench("even#1")
    assert back(found, SHORT) == ""
    assert found.at == "even#1"
    assert "left overnight below the last stage; two again" in back(found, NIGHT)
    assert found.at == "two@4"


def test_passes_that_were_broken_off_begin_again() -> None:
    found = bench("even#1")
    found.taken("2")
    back(found, SHORT)
    assert found.at == "even#1"


def test_an_angle_goes_on_from_the_marks_that_were_kept() -> None:
    found = bench("quarter@4")
    found.taken("")
    assert "look for the marks before you touch a wrench" in back(found, SHORT)
    assert found.at == "head.marks"
    assert "Recorded in quarter as given: 4" in found.asked.facts[0]
    assert found.refused("perhaps").code == "choice"
    found.taken("kept")
    assert found.at == "quarter@1"


@pytest.mark.parametrize(("typed", "then"), [("given 4 1", "quarter@2"), ("given 1", "quarter@4")])
def test_marks_that_say_otherwise_correct_the_record(typed: str, then: str) -> None:
    found = bench("quarter@4")
    found.taken("")
    back(found, SHORT)
    assert found.refused("given 7").code == "choice"
    found.taken(typed)
    assert found.at == then


def test_marks_that_show_every_angle_close_the_stage() -> None:
    found = bench("quarter@4")
    found.taken("")
    back(found, SHORT)
    found.taken("given 1 2 4")
    assert found.at == "reached@2"
    assert found.state.condition.mark("stage", "head") == "6 of 7"


def test_lost_marks_loosen_all_renew_and_begin_again() -> None:
    found = bench("quarter@4")
    found.taken("")
    back(found, SHORT)
    found.taken("lost")
    assert found.at == "head.loosen@head.4"
    found.taken("stage")
    found.taken("")
    found.taken("stays")
    assert found.at == "one@2"


def test_an_angle_that_all_have_stands_and_the_gasket_is_asked_about_after_a_night() -> None:
    found = bench("reached@2")
    assert "ask the gasket's maker whether it still stands" in back(found, NIGHT)
    assert found.at == "reached@2"


def test_a_loosening_goes_on_until_all_are_free_and_stretched_ones_are_renewed() -> None:
    found = bench("free@4")
    found.taken("")
    assert "loosen all free in order, then it goes on" in back(found, SHORT)
    assert found.at == "free@4"
    assert any("loosen: free" in fact for fact in found.asked.facts)
    found.taken("stage")
    assert found.at == "free.renew"
    found.taken("")
    assert found.at == "two@4"


def test_fasteners_that_are_not_torque_to_yield_go_on_after_a_broken_loosening() -> None:
    found = bench("free@4", SPECS.replace('value: "yes"', 'value: "no"'))
    found.taken("")
    back(found, SHORT)
    found.taken("stage")
    assert found.at == "two@4"


def test_coming_back_twice_before_reading_it_is_one_break() -> None:
    found = bench("quarter@4")
    found.taken("")
    found.away(SHORT)
    found.away(SHORT)
    found.taken("")
    found.taken("kept")
    assert found.at == "quarter@1"


def test_sealant_past_its_time_is_cleaned_and_renewed_before_the_final_torque() -> None:
    steps = """\
- each: sealing
  over: fasteners
  group: head
  steps:
    - do: seal
      marks: sealed
      group: head
      open-time: sealant
- stages: head
  group: head
  steps:
    - torque-to: one
      figure: first
"""
    figures = """\
first: {kind: torque, unit: lbf·ft, ask: First?}
sealant: {kind: time, unit: min, ask: How long is it open?}
"""
    specs = """\
first: {value: 30 lbf·ft, source: leaflet}
sealant: {value: 60 min, source: tube}
"""
    found = small(steps, figures=figures, specs=specs, engine=ENGINE)
    while found.at != "one@2":
        found.taken("")
    assert "clean those threads and seal them again" in back(found, SHORT)
    assert found.refused("").code == "sealant"
    found.taken("again", at="seal@1")
    assert found.refused("").code == "sealant"


def test_what_filled_lifters_still_wait_for_is_said() -> None:
    found = small(NUT, figures=NUT_FIGURES, specs=NUT_SPECS.replace("20 min", "4 h"), engine=EIGHT)
    while not found.at.startswith("adjust"):
        found.taken("")
    where = found.asked.address.place
    found.taken("")
    assert f"Filled lifters at {where} bleed down for another 2 hours" in back(found, SHORT)
    assert "Filled lifters" not in back(found, SHORT)


def test_before_the_first_angle_a_break_asks_for_marks_too() -> None:
    found = bench("quarter@4")
    assert "no mark shows its angle given already" in back(found, SHORT)
    assert found.at == "head.marks"
    assert "Recorded in quarter as given: none." in found.asked.facts[0]
    found.taken("given 4")
    assert found.at == "quarter@1"


def test_no_mark_before_the_first_angle_lets_it_begin() -> None:
    found = bench("quarter@4")
    back(found, SHORT)
    found.taken("kept")
    assert found.at == "quarter@4"


def test_a_night_in_the_middle_of_a_stage_repeats_the_finished_one_too() -> None:
    found = bench("fronts@a")
    found.taken("")
    facts = back(found, NIGHT)
    assert "fronts was broken off; it starts again" in facts
    assert "left overnight below the last stage; one again" in facts
    assert found.at == "one@2"
    assert found.state.condition.mark("stage", "head") is None


def test_a_night_after_an_angle_was_begun_asks_the_gaskets_maker() -> None:
    found = bench("quarter@4")
    found.taken("")
    assert "ask the gasket's maker whether it still stands" in back(found, NIGHT)


def test_a_finished_tightening_begins_again_with_a_reason_and_says_what_stands_since() -> None:
    found = bench("last")
    assert found.refused("restart", at="head").code == "restart"
    said = found.taken("restart ! it weeps", at="head").said
    assert not any("What was done since" in line for line in said)
    assert found.at == "head.loosen@head.4"
    assert found.state.condition.mark("stage", "head") is None
    done = bench("last")
    done.taken("")
    said = done.taken("restart ! it weeps", at="reached@2").said
    since = next(line for line in said if "What was done since" in line)
    done.taken(
        f"{since.rpartition('@')[2].partition(' ')[2]}", at=since.rpartition("@")[2].split()[0]
    )


def test_nothing_of_a_tightening_that_is_not_begun_begins_again() -> None:
    found = bench()
    assert found.refused("restart ! why not", at="head").code == "not-yet"
