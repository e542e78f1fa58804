"""What bad input gets: one clear sentence, the likely fix, the state unchanged."""

from datetime import timedelta

import pytest

from driving import small, table
from snugset.guide.address import Address
from snugset.guide.answer import parse_answer
from snugset.guide.decide import decide
from snugset.guide.ruling import Refusal


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("deep", "not-a-number"),
        ("25 lbf·ft", "kind"),
        ("25,4 mm", "comma"),
        ("-17", "negative"),
        ("9**9**9", "not-a-number"),
        ("", "empty"),
        ("20+20+20+20; 40+40", "leaves"),
        ("\x1b[31m40", "character"),
        ("4" * 3000, "too-long"),
    ],
)
def test_a_reading_that_cannot_be_read(typed: str, code: str) -> None:
    bench = table().until("gap@1I#1")
    refusal = bench.refused(typed)
    assert refusal.code == code
    assert refusal.words.endswith((".", "!")) or refusal.suggest or len(refusal.words) > 20
    assert bench.at == "gap@1I#1"


def test_a_decimal_fraction_of_an_inch_in_a_field_of_thou_is_shown_both_ways() -> None:
    bench = table().until("gap@1I#1")
    refusal = bench.refused(".073; .074")
    assert refusal.code == "factor"
    assert any("in" in text for text in refusal.suggest)
    bench.taken(".073 in; .074 in")
    assert str(bench.state.readings[Address("gap", "1I", 1)].value) == "0.0735 in"


def test_a_cover_torque_twelve_times_too_large_is_stopped_and_shown_both_ways() -> None:
    bench = table()
    assert bench.at == "spec.cover-torque"
    refusal = bench.refused("72 lbf·ft; leaflet")
    assert (refusal.code, refusal.overridable) == ("factor", True)
    assert "72 lbf·in" in " ".join((*refusal.suggest, refusal.words))
    assert "cover-torque" not in bench.state.specs


def test_a_cover_torque_under_the_floor_of_a_head_wrench_is_stopped() -> None:
    # Common practice, a check value: 55 lbf·in on a wrench that reads to 150 lbf·ft.
    bench = table(edit=lambda text: text.replace("30..200 lbf·in", "20..150 lbf·ft"))
    refusal = bench.refused("55 lbf·in; leaflet")
    assert refusal.code == "wrench-range"
    assert "30 to 150 lbf·ft" in refusal.words


def test_stages_must_rise() -> None:
    bench = table(specs=False)
    while bench.at != "spec.head-stages":
        bench.say("none")
        if bench.at.startswith("spec.") and not bench.at.endswith("head-stages"):
            bench.say(_value(bench.at))
    assert bench.refused("22, 110, 45 lbf·ft; leaflet; oil").code == "rising"
    bench.taken("22, 45, 110 lbf·ft; leaflet; oil")


def _value(at: str) -> str:
    return {
        "spec.head-flatness": ".005 in; a; b",
        "spec.deck-flatness": ".004 in; a; b",
        "spec.gasket-thickness": ".05 in; a; b",
        "spec.sealant-open-time": "3 h; a; b",
    }.get(at, "1; a; b")


def test_a_figure_that_must_be_had_cannot_be_waved_away() -> None:
    bench = table()
    refusal = bench.refused("none")
    assert refusal.code == "must-be-had"
    assert bench.refused("skip later").code == "no-skip"


def test_a_figure_without_a_source_asks_for_it_next_and_enter_takes_the_last_one() -> None:
    bench = table()
    bench.taken("72 lbf·in")
    assert bench.at == "spec.cover-torque.source"
    proposal = bench.asked.proposal
    assert proposal
    bench.taken("")
    assert bench.state.specs["cover-torque"].source == proposal


def test_a_figure_given_again_counts_and_its_source_is_asked_again() -> None:
    bench = table().until("battery")
    bench.taken("again 40, 70, 95 lbf·ft; a newer leaflet; engine oil", at="spec.head-stages")
    spec = bench.state.specs["head-stages"]
    assert (spec.typed, spec.source) == ("40, 70, 95 lbf·ft", "a newer leaflet")
    bench.taken("again 41, 70, 95 lbf·ft", at="spec.head-stages")
    assert bench.at == "spec.head-stages.source"
    assert bench.refused("again 41, 40 lbf·ft", at="spec.head-stages").code == "rising"


def test_a_camshaft_card_given_again_plans_the_setting_points_anew() -> None:
    bench = table().until("scratch@3#1")
    assert bench.refused("again none", at="spec.camshaft").code == "bridge-begun"
    bench = table().until("points.turn@P2#1")
    said = bench.taken("again none", at="spec.camshaft").said
    assert "The setting points are worked out again." in said
    assert bench.at == "points.plan"
    bench.taken("")
    assert len(bench.state.planned["points"].points) == 6


def test_not_having_the_camshaft_card_says_what_follows_and_plans_by_firing_order() -> None:
    def without(text: str) -> str:
        start = text.index("  camshaft:")
        rest = text[start + 3 :]
        end = start + 3 + rest.index("\n  ", rest.index("source:")) + 1
        return text[:start] + "  camshaft:\n    none: yes\n" + text[end:]

    bench = table(edit=without)
    assert bench.state.specs["camshaft"].had is False
    bench.until("points.plan")
    facts = bench.asked.facts
    assert "each cylinder at its own compression dead centre" in facts[0]
    bench.taken("")
    points = bench.state.planned["points"].points
    assert [p.places for p in points] == [("1",), ("5",), ("3",), ("6",), ("2",), ("4",)]
    assert [int(p.aim) for p in points] == [0, 120, 240, 360, 480, 600]


def test_an_answer_to_a_finished_step_names_what_is_asked_now() -> None:
    bench = table().until("battery")
    refusal = bench.refused("", at="manual")
    assert refusal.code == "finished"
    assert "battery is asked now" in refusal.words


def test_an_answer_to_a_later_or_unknown_step_changes_nothing() -> None:
    bench = table().until("battery")
    assert bench.refused("", at="parts").code == "not-yet"
    assert bench.refused("", at="partz").code == "no-such-place"
    assert bench.refused("", at="gap@9Z#1").code == "no-such-place"


def test_an_answer_to_an_older_painting_is_dropped() -> None:
    bench = table().until("battery")
    old = parse_answer("", address=bench.asked.address, sequence=bench.state.sequence, person="W")
    bench.taken("")
    outcome = decide(bench.plan, bench.state, old, bench.now)
    assert isinstance(outcome, Refusal)
    assert outcome.code == "stale"


def test_text_at_a_tick_is_not_lost_but_offered_as_a_note() -> None:
    bench = table().until("battery")
    refusal = bench.refused("earth strap was loose")
    assert refusal.code == "tick"
    assert "note earth strap was loose" in refusal.words
    bench.taken("note earth strap was loose")
    assert bench.state.notes[-1].text == "earth strap was loose"
    assert bench.at == "battery"


def test_a_skip_needs_a_reason_and_stands_on_the_record() -> None:
    bench = table().until("battery")
    assert bench.refused("skip").code == "reason"
    bench.taken("skip no battery fitted")
    fact = bench.state.facts[Address("battery")]
    assert (fact.kind, fact.value) == ("skipped", "no battery fitted")


def test_a_count_that_differs_from_the_one_before_is_stopped() -> None:
    bench = table().until("rags-out")
    refusal = bench.refused("4")
    assert refusal.code == "count"
    assert "4 now, 5 before" in refusal.words
    assert bench.refused("four").code == "count"
    bench.taken("4 ! one burnt, seen by both of us")
    assert bench.state.overrides[-1].reason == "one burnt, seen by both of us"


def test_a_limit_passed_by_less_than_the_doubt_goes_on_with_a_reason() -> None:
    bench = table().until("deck-flat")
    assert bench.refused(".0033").code == "not-proved"
    assert bench.refused(".006").code == "high"
    bench.taken(".0033 ! the gasket maker allows it")
    reading = bench.state.readings[Address("deck-flat")]
    assert (reading.verdict, reading.reason) == ("outside", "the gasket maker allows it")


def test_a_reading_in_a_window_is_held_against_both_its_ends() -> None:
    bench = small(
        "- {read: play, figure: play, unit: thou, window: allowed, doubt: 1 thou}",
        figures="allowed: {kind: length, form: window, unit: thou, ask: How much play?}",
        specs="allowed: {value: 10..20 thou, source: leaflet}",
    )
    assert bench.asked.facts[0].startswith("At least 10 thou")
    assert bench.asked.facts[1].startswith("At most 20 thou")
    for typed, code in (
        ("5", "low"),
        ("9.5", "not-proved"),
        ("20.5", "not-proved"),
        ("30", "high"),
    ):
        assert bench.refused(typed).code == code
    bench.taken("15")
    (reading,) = bench.state.readings.values()
    assert (reading.verdict, str(reading.low), str(reading.high)) == ("in", "10 thou", "20 thou")


def test_a_finished_reading_is_read_again_and_the_newest_counts() -> None:
    bench = table().until("gasket-match")
    bench.taken("again .001", at="head-flat")
    assert str(bench.state.readings[Address("head-flat")].value) == "0.001 in"
    assert bench.at == "gasket-match"


@pytest.mark.parametrize(
    ("step", "words"),
    [
        ("seal-stud@5", "wet holes not recorded as sealed: 5"),
        ("wipe-hole@4", "blind holes not recorded as wiped dry: 4"),
        ("dry-stud-in@1", "studs not recorded as in: 1"),
    ],
)
def test_the_head_does_not_go_on_over_what_was_left_out(step: str, words: str) -> None:
    bench = table().until(step)
    bench.taken("skip left out")
    bench.until_step("studs-checked")
    refusal = bench.refused("")
    assert refusal.code == "guard-studs"
    assert f": {words}. Put them right first." in refusal.words
    bench.taken("! looked at again")


@pytest.mark.parametrize(
    ("at", "typed", "place", "words"),
    [
        ("surfaces-clear", "again 6", "rags-in", "rags-out 5, rags-in 6"),
        ("rags-out", "skip lost count", "", "rags-out was not counted"),
    ],
)
def test_what_was_counted_in_must_have_been_counted_out(
    at: str, typed: str, place: str, words: str
) -> None:
    bench = table().until(at)
    bench.taken(typed, place)
    while bench.at != "surfaces-clear":
        bench.taken("")
    refusal = bench.refused("")
    assert (refusal.code, refusal.words) == ("guard-counts", f"These counts should agree: {words}.")
    bench.taken("! looked through every bore with the lamp")


def test_a_hole_found_wet_is_sealed_whatever_the_map_says() -> None:
    bench = table().until("probe-hole@11")
    assert bench.asked.proposal == "dry through"
    bench.taken("wet through")
    bench.until_step("seal-stud@11")
    assert bench.at == "seal-stud@11"


def test_stopping_outside_the_window_of_a_setting_point_is_refused() -> None:
    bench = table().until("points.turn@P2#1")
    refusal = bench.refused("200")
    assert refusal.code == "outside-window"
    assert "come up again in the running direction" in refusal.words
    bench.taken("250")
    assert bench.state.condition.crank == 250


def test_ordering_on_fewer_places_than_all_is_an_override() -> None:
    bench = table().until("gap@4E#1")
    bench.taken("skip too dark")
    bench.taken("")
    assert bench.at == "lengths#1"
    assert bench.refused("order").code == "places-missing"
    bench.taken("order ! the shop closes at noon")
    assert bench.at == "place-order#1"


def test_a_step_that_cannot_fit_is_refused_with_the_places_that_fail() -> None:
    bench = table().until("lengths#1")
    refusal = bench.refused("order 10.320 in")
    assert refusal.code == "cannot-fit"
    assert "3E" in refusal.words


def test_accepting_a_round_out_of_its_window_needs_a_reason() -> None:
    bench = table().until("lengths#1")
    assert bench.refused("accept").code == "out-of-window"
    assert bench.refused("again 9").code == "no-such-place"


def test_a_bridge_can_be_measured_again_before_the_order() -> None:
    bench = table().until("lengths#1")
    bench.taken("again 4I")
    assert bench.at == "bridge-on@4#1"
    assert Address("gap", "4I", 1) not in bench.state.readings
    assert Address("gap", "3I", 1) in bench.state.readings


def test_a_head_torque_given_again_reopens_the_stages_that_are_other_now() -> None:
    bench = table().until("head-tighten@3.11")
    said = bench.taken(
        "again 30, 65, 85 lbf·ft; newer leaflet; engine oil", at="spec.head-stages"
    ).said
    assert "head: stage 2 and what follows are to be done again." in said
    assert bench.at == "head-tighten@2.11"
    assert bench.state.condition.mark("stage", "head") == "1 of 3"


def test_a_single_torque_in_place_of_stages_does_not_pass_for_the_last() -> None:
    bench = table().until("head-tighten@2.10")
    bench.taken("again 85 lbf·ft; newer leaflet; engine oil", at="spec.head-stages")
    assert bench.at == "head-tighten@1.11"


def test_a_rocker_torque_given_again_reopens_the_bridges_done_by_the_old_one() -> None:
    bench = table().until("final-on@3")
    bench.taken("again 28 lbf·ft; newer leaflet; oil", at="spec.rocker-torque")
    assert bench.state.condition.mark("torqued", "1") is None
    assert Address("rocker-final", "5") not in bench.state.facts


def test_a_preload_window_given_again_judges_the_last_round_by_it() -> None:
    bench = table().until("cover-on")
    bench.taken("again 0.020..0.038 in; newer leaflet; cold", at="spec.preload-window")
    verdicts = {r.verdict for r in bench.state.readings.values() if r.address.round == 2}
    assert "high" in verdicts
    assert bench.at == "lengths#2"


def test_number_one_on_overlap_has_no_way_through() -> None:
    bench = table().until("number-one")
    assert bench.refused("companion ! looks fine").code == "not-proven"
    assert bench.state.condition.crank is None


@pytest.mark.parametrize("typed", ["²", "①", "٣"])
def test_a_digit_that_is_none_is_no_choice(typed: str) -> None:
    assert table().until("other-parts").refused(typed).code == "choice"


def test_a_torque_of_nothing_is_refused_in_words() -> None:
    bench = table()
    assert bench.refused("0; leaflet ! why not").code in ("band", "figure")


def test_a_reason_covers_one_rule_and_the_next_one_stops_again() -> None:
    bench = table().until("gap@4E#1")
    bench.taken("skip too dark")
    bench.taken("")
    assert bench.refused("order 10.340 in ! the shop closes").code == "cannot-fit"
    bench.taken("order 10.340 in ! the shop closes ! it is what they have")
    codes = [(o.code, o.reason) for o in bench.state.overrides[-2:]]
    assert codes == [("places-missing", "the shop closes"), ("cannot-fit", "it is what they have")]


def test_a_reason_that_nothing_asked_for_is_kept_as_a_note() -> None:
    bench = table(specs=False)
    bench.taken(".005 in; leaflet p. 3 ! see the erratum")
    assert bench.state.specs["head-flatness"].source == "leaflet p. 3"
    assert bench.state.notes[-1].text == "see the erratum"


def test_a_source_may_begin_with_any_word_and_none_is_not_known() -> None:
    bench = table(specs=False)
    bench.taken(".005 in")
    bench.taken("note pinned to the wall")
    assert bench.state.specs["head-flatness"].source == "note pinned to the wall"
    bench.taken(".004 in")
    bench.taken("none")
    assert bench.state.specs["deck-flatness"].source == "not known"


def test_missing_places_are_told_although_others_are_out() -> None:
    bench = table().until("gap@4E#1")
    bench.taken("skip too dark")
    bench.taken("")
    assert bench.refused("accept ! no").code == "out-of-window"
    bench.taken("accept ! no light ! tired")
    assert [o.code for o in bench.state.overrides[-2:]] == ["places-missing", "out-of-window"]


def test_a_timed_wait_is_not_jumped_without_a_reason() -> None:
    bench = table().until("coolant-stand")
    assert bench.refused("arrived").code == "early"


def test_arrived_is_taken_at_any_prompt() -> None:
    bench = table().until("post#1")
    bench.taken("")
    assert bench.at == "cover-flat"
    bench.taken("arrived")
    assert bench.at == "check-new-lengths#1"


def test_a_skipped_step_can_still_be_done() -> None:
    bench = table().until("wipe-hole@4")
    bench.taken("skip no rag")
    bench.taken("", at="wipe-hole@4")
    assert bench.state.facts[Address("wipe-hole", "4")].kind == "done"
    assert bench.state.condition.mark("wiped", "head:4") is not None


def test_a_fastener_skipped_leaves_its_stage_whole_over_night() -> None:
    bench = table().until("head-tighten@3.11")
    bench.taken("skip socket to come")
    bench.taken("stage")
    assert bench.state.condition.mark("stage", "head") == "3 of 3"
    here = bench.at
    bench.away(timedelta(days=1))
    bench.taken("")
    assert bench.at == here


def test_sealant_past_its_open_time_stops_the_torque_and_is_renewed_thread_by_thread() -> None:
    bench = table().until("head-tighten@3.11")
    bench.now += timedelta(hours=4)
    refusal = bench.refused("")
    assert refusal.code == "sealant"
    for key in ("2", "3", "5", "6", "14"):
        bench.taken("again", at=f"seal-stud@{key}")
    bench.taken("")


def test_a_reading_of_a_round_that_was_ordered_on_stays_as_it_was() -> None:
    bench = table().until("gap@1I#2")
    assert bench.refused("again 40+15; 40+15", at="gap@1I#1").code == "judged"


def test_a_reading_again_after_acceptance_opens_the_judgement() -> None:
    bench = table().until("cover-on")
    bench.taken("again 15+20; 15+20", at="gap@1I#2")
    assert bench.at == "lengths#2"


def test_one_take_where_two_are_asked_for_and_takes_that_are_no_reading() -> None:
    bench = table().until("gap@1I#1")
    assert bench.refused("40+33").code == "few-takes"
    assert bench.refused("40; 60; 78").code == "takes-wild"


def test_a_reading_without_its_line_is_stopped() -> None:
    bench = table().until("scratch@1#1")
    bench.taken("skip no scriber")
    bench.taken("")
    assert bench.refused("40+33; 40+34").code == "not-marked"


def test_the_pushrods_in_hand_that_fit_are_not_ordered_again() -> None:
    bench = table().until("gap@1I#2")
    bench.taken("15+2; 15+2 ! the same again")
    bench.until("lengths#2")
    words = " ".join(bench.asked.facts)
    assert "Order 1 ×" in words
    assert "The pushrod in hand stays at 11 of 12 places" in words


def test_a_window_beyond_the_lifters_travel_is_told_on_the_spec_sheet() -> None:
    bench = table().until("battery")
    assert bench.refused("again 0.045 in; x; y", at="spec.lifter-travel").code == "travel"


def test_lengths_in_another_unit_are_shown_both_ways() -> None:
    bench = table().until("lengths#1")
    assert bench.refused("order 261.6").code == "factor"
    assert bench.refused("order 10300").code == "factor"
    assert (
        bench.refused("again step 10; list; overall", at="spec.pushrod-catalogue").code == "factor"
    )


def test_counts_are_held_against_the_engine() -> None:
    bench = table().until("lifters-laid")
    assert bench.refused("5").code == "count"
    bench.taken("12")


def test_the_cover_waits_for_every_pushrod_to_have_been_rolled() -> None:
    bench = table().until("roll@3I")
    bench.taken("skip later")
    bench.position += 1
    bench.until("cover-on")
    refusal = bench.refused("")
    assert refusal.code == "needs"
    assert "roll@3I" in refusal.words
    bench.taken(".001", at="roll@3I")
    bench.taken("")
