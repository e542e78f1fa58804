"""What bad input gets: one clear sentence, the likely fix, the state unchanged."""

import pytest

from driving import table
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


def test_a_finished_reading_is_read_again_and_the_newest_counts() -> None:
    bench = table().until("gasket-match")
    bench.taken("again .001", at="head-flat")
    assert str(bench.state.readings[Address("head-flat")].value) == "0.001 in"
    assert bench.at == "gasket-match"


def test_the_head_does_not_go_on_over_a_wet_hole_left_dry() -> None:
    bench = table().until("seal-stud@5")
    bench.taken("skip ran out of sealant")
    bench.taken("")
    while bench.at != "studs-checked":
        bench.taken("")
    refusal = bench.refused("")
    assert refusal.code == "guard-studs"
    assert "wet holes not recorded as sealed: 5" in refusal.words


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
