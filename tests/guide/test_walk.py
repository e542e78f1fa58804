"""The whole job over the shipped procedure, in memory."""

from datetime import timedelta

import pytest

from driving import Table, demo_answers, entries, table
from snugset.files.answers import Say, Wait
from snugset.guide.address import Address
from snugset.guide.apply import fold
from snugset.guide.ask import progress
from snugset.guide.walk import occurrences


def test_the_demo_carries_the_build_from_bare_block_to_close() -> None:
    bench = table()
    for entry in entries():
        bench.enter(entry)
    assert bench.at == ""
    counted = progress(bench.plan, bench.state, bench.now)
    assert counted.done == counted.known > 300


def test_every_leaf_of_the_procedure_is_asked_in_the_demo() -> None:
    answered = {Address.parse(e.at).step for e in entries() if isinstance(e, Say)}
    bench = table()
    for entry in entries():
        bench.enter(entry)
    leaves = {
        found.step.id
        for found in occurrences(bench.plan, bench.state, bench.now)
        if found.step.kind != "spec"
    }
    assert leaves <= answered


def test_the_fold_of_the_records_is_the_live_state_after_every_answer() -> None:
    bench = table()
    for number, entry in enumerate(entries()):
        bench.enter(entry)
        if number % 7 == 0:
            assert fold(bench.records) == bench.state
    assert fold(bench.records) == bench.state


def test_the_first_prompt_on_coming_back_says_where_what_is_loose_and_what_to_do_first() -> None:
    bench = table().until("head-tighten@2.10")
    bench.away(timedelta(hours=2))
    facts = " ".join(bench.asked.facts)
    assert bench.at == "return"
    assert "away 2 hours; last here: Wren" in facts
    assert "You stood at head-tighten@2.10 (Tightening)" in facts
    assert "Loose: the head is tightened to stage 1 of 3 only" in facts
    assert "First: head: stage 2 was broken off; it starts again" in facts


def test_a_torque_stage_that_was_broken_off_starts_at_its_first_fastener() -> None:
    bench = table().until("head-tighten@2.10")
    bench.away(timedelta(hours=2))
    bench.taken("")
    first = bench.plan.engine.fasteners["head"].order[0]
    assert bench.at == f"head-tighten@2.{first}"


def test_a_finished_stage_below_the_last_is_done_again_after_a_night() -> None:
    bench = table().until("head-tighten@2.10")
    bench.taken("stage")
    first = bench.plan.engine.fasteners["head"].order[0]
    assert bench.at == f"head-tighten@3.{first}"
    bench.away(timedelta(hours=10))
    bench.taken("")
    assert bench.at == f"head-tighten@2.{first}"
    assert bench.state.condition.mark("stage", "head") == "1 of 3"


def test_a_finished_stage_stands_after_a_short_break() -> None:
    bench = table().until("head-tighten@2.10")
    bench.taken("stage")
    here = bench.at
    bench.away(timedelta(hours=2))
    bench.taken("")
    assert bench.at == here


def test_after_days_the_crank_is_unknown_until_number_one_is_proven() -> None:
    bench = table().until("scratch@3#1")
    known = bench.state.condition.crank
    bench.away(timedelta(days=9))
    assert (known is None, bench.state.condition.crank) == (False, None)
    bench.taken("")
    assert bench.at == "number-one"
    assert "prove number one again" in " ".join(bench.asked.facts)
    bench.taken("one")
    assert bench.at == "points.turn@P2#1"
    bench.taken("")
    assert bench.at == "bridge-on@3#1"


def test_a_bridge_caught_in_the_middle_comes_off_before_the_crank_is_turned() -> None:
    bench = table().until("gap@3E#1")
    bench.away(timedelta(days=2))
    assert any("Bridge 3 was begun: loosen both its screws" in fact for fact in bench.asked.facts)
    bench.taken("")
    assert Address("gap", "3I", 1) not in bench.state.readings
    assert Address("gap", "5I", 1) in bench.state.readings
    assert bench.state.condition.mark("drawn", "3") is None


def test_a_return_that_was_not_read_stays_the_same_break() -> None:
    bench = table().until("head-tighten@2.10")
    bench.away(timedelta(days=9))
    bench.away(timedelta(minutes=1))
    facts = " ".join(bench.asked.facts)
    assert "away 9 days" in facts
    assert "You stood at head-tighten@2.10" in facts
    assert "stage 2 was broken off" in facts
    assert len(bench.state.breaks) == 1
    bench.away(timedelta(days=3))
    bench.taken("")
    assert bench.at == "head-tighten@1.11"
    assert bench.state.condition.mark("stage", "head") is None


def test_a_break_grown_to_a_night_repeats_the_finished_stage_once() -> None:
    bench = table().until("head-tighten@3.10")
    bench.away(timedelta(hours=2))
    bench.away(timedelta(hours=9))
    bench.away(timedelta(hours=9))
    bench.taken("")
    assert bench.at == "head-tighten@2.11"
    assert bench.state.condition.mark("stage", "head") == "1 of 3"


def test_untouched_is_not_taken_days_after_the_prompt_was_painted() -> None:
    bench = table().until("scratch@3#1")
    bench.away(timedelta(minutes=40))
    bench.now += timedelta(days=9)
    assert bench.refused("untouched").code == "tick"
    bench.taken("")
    assert bench.at == "number-one"


@pytest.mark.parametrize(("word", "then"), [("untouched", "scratch@3#1"), ("moved", "number-one")])
def test_after_minutes_one_word_says_whether_the_crank_was_touched(word: str, then: str) -> None:
    bench = table().until("scratch@3#1")
    bench.away(timedelta(minutes=40))
    assert bench.asked.choices == ("untouched", "moved")
    bench.taken(word)
    assert bench.at == then


def test_another_person_may_not_vouch_for_the_crank() -> None:
    bench = table().until("scratch@3#1")
    bench.person = "Merle"
    bench.away(timedelta(minutes=40))
    assert bench.asked.choices == ()
    bench.taken("")
    assert bench.at == "number-one"


def test_overlap_does_not_prove_number_one() -> None:
    bench = table().until("number-one")
    refusal = bench.refused("companion")
    assert refusal.code == "not-proven"
    assert "Turn one whole turn on in the running direction" in refusal.words


def test_while_pushrods_are_in_the_post_other_steps_are_offered_and_arrived_ends_it() -> None:
    bench = table().until("post#1")
    bench.taken("")
    offered = bench.asked
    assert offered.address.step == "cover-flat"
    assert bench.plan.steps["cover-flat"].meanwhile
    assert any("pushrods" in words for words in offered.waiting)
    bench.taken("arrived", at="post#1")
    assert bench.at == "check-new-lengths#1"


def test_a_wait_is_asked_for_itself_when_nothing_else_can_be_done() -> None:
    bench = table().until("post#1")
    bench.taken("")
    while bench.asked.address.step != "post":
        bench.taken("")
    assert bench.asked.asks == "wait"
    assert bench.refused("").code == "waiting"


def test_the_probe_shows_its_verdicts_and_what_they_would_lead_to() -> None:
    bench = table().until("probe#1")
    facts = bench.asked.facts
    assert "1I: 73.5 thou ± 3.3 thou: high" in facts
    assert "If the others read alike — Order 2 × 10.300 in" in facts[-1]


def _filled(address: str) -> Table:
    """Walk with filled lifters to a step, waiting wherever they must bleed down."""
    bench = table(edit=lambda text: text.replace("value: dry", "value: filled", 1))
    for entry in entries():
        if bench.at == address:
            return bench
        if bench.asked.address.step in ("scratch", "two-turns", "oil-at-rockers"):
            bench.now += timedelta(minutes=15)
        if bench.asked.address.step in ("final-points.turn", "points.turn"):
            bench.now += timedelta(minutes=15)
        bench.enter(entry)
    raise AssertionError(address)


def test_a_line_scratched_before_a_filled_lifter_has_bled_down_is_stopped() -> None:
    bench = _filled("scratch@1#1")
    refusal = bench.refused("")
    assert refusal.code == "guard-bled"
    assert "wait another 14 minutes" in refusal.words
    bench.taken(" ! no time")
    bench.taken("")
    assert any("provisional until it has bled down" in fact for fact in bench.asked.facts)
    bench.now += timedelta(minutes=15)
    bench.taken("40+33; 40+34")
    assert bench.state.readings[Address("gap", "1I", 1)].provisional


def test_a_filled_lifter_reads_for_good_once_it_had_its_time_before_the_line() -> None:
    bench = _filled("gap@1I#1")
    bench.taken("40+33; 40+34")
    assert not bench.state.readings[Address("gap", "1I", 1)].provisional


def test_provisional_readings_are_not_ordered_on() -> None:
    bench = _filled("scratch@1#1")
    bench.taken(" ! no time")
    for entry in entries():
        if isinstance(entry, Say) and entry.at == bench.at:
            bench.now += timedelta(minutes=15)
            bench.enter(entry)
        if bench.at == "lengths#1":
            break
    assert bench.asked.proposal == "again 1I"
    assert bench.refused("order").code == "provisional"
    bench.taken("")
    assert Address("bridge-on", "1", 1) not in bench.state.facts


def test_with_filled_lifters_the_crank_is_not_turned_until_they_have_bled_down() -> None:
    bench = _filled("bridge-off@5#1")
    bench.taken("skip left on")
    bench.now -= timedelta(minutes=14)
    refusal = bench.refused("")
    assert (bench.at, refusal.code) == ("points.turn@P2#1", "bleeding")
    assert "can bend pushrods and valves" in refusal.words
    bench.now += timedelta(minutes=15)
    bench.taken("")


def test_a_finished_build_is_not_put_in_doubt_by_opening_it() -> None:
    bench = table()
    for entry in entries():
        bench.enter(entry)
    before = bench.state
    bench.away(timedelta(days=900))
    assert bench.state is before


def test_out_of_the_window_leads_to_an_order_a_wait_and_a_new_round() -> None:
    bench = table().until("lengths#1")
    assert bench.asked.proposal == "order"
    said = " ".join(bench.taken("").said)
    assert "Order 12 × 10.300 in" in said
    assert "Predicted 30.5 to 44.5 thou: proved inside for every place" in said
    bench.until("gap@1I#2")
    assert any(fact.startswith("Predicted") for fact in bench.asked.facts)


def test_a_pushrod_left_in_from_the_old_set_is_recognised() -> None:
    bench = table().until("gap@5E#2")
    outcome = bench.taken("40+33; 40+34")
    assert outcome.code == "old"
    assert "the old pushrod is still in" in " ".join(outcome.said)
    assert bench.at == "gap@5E#2"
    assert [aside.code for aside in bench.state.set_aside] == ["old"]
    bench.taken("15+21; 15+22")
    assert bench.state.readings[Address("gap", "5E", 2)].flag == "agrees"


def test_a_reading_off_its_prediction_is_kept_once_it_reads_the_same_again() -> None:
    bench = table().until("gap@1E#2")
    assert bench.taken("30+18; 30+18").code == "off"
    assert bench.taken("30+18; 30+19").code == ""
    assert bench.state.readings[Address("gap", "1E", 2)].flag == "off"


def test_no_gap_and_a_bottomed_plunger_are_no_measurements() -> None:
    bench = table().until("gap@1I#1")
    assert bench.taken("0; 0").code == "loose"
    bottomed = bench.taken("72+73; 72+73")
    assert bottomed.code == "bottomed"
    assert "Loosen this bridge before the crank is turned" in " ".join(bottomed.said)
    assert bench.at == "gap@1I#1"
    bench.taken("72+73; 72+73 ! the adjustable pushrod is not here yet")
    reading = bench.state.readings[Address("gap", "1I", 1)]
    assert (reading.verdict, reading.uncertainty) == ("bottomed", None)
    assert reading.reason == "the adjustable pushrod is not here yet"


def test_takes_too_far_apart_ask_for_a_third() -> None:
    bench = table().until("gap@1I#1")
    assert bench.refused("40+33; 40+41").code == "takes-apart"
    bench.taken("40+33; 40+41; 40+36")


def test_the_cover_does_not_close_over_a_pushrod_never_checked() -> None:
    bench = table().until("gap@3E#2")
    bench.taken("skip the light failed")
    rest = [e for e in entries() if isinstance(e, Say)]
    start = [e.at for e in rest].index("gap@3E#2") + 1
    for entry in rest[start:]:
        if bench.at == "cover-on":
            break
        text = "accept ! 3E another day" if entry.at == "lengths#2" else entry.text
        bench.taken(text, entry.at)
    assert bench.at == "cover-on"
    refusal = bench.refused("")
    assert refusal.code == "guard-preload"
    assert "not measured with the pushrod that is in: 3E" in refusal.words
    bench.taken(" ! measured by the machine shop")
    assert bench.state.overrides[-1].code == "guard-preload"


def test_time_away_in_the_demo_is_nine_days_in_the_post() -> None:
    waits = [e.time.number("d") for e in demo_answers().answers if isinstance(e, Wait)]
    assert 9 in waits
