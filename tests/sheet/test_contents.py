"""What the sheet says of a build is what was put on record."""

import pytest

from snugset.sheet import Sheet, sheet_of
from snugset.sheet.readings import ReadingRow

from .conftest import DIGEST
from .driver import Bench, begin


def reading(sheet: Sheet, address: str) -> ReadingRow:
    rows = [*sheet.readings, *(row for each in sheet.rounds for row in each.readings)]
    return next(row for row in rows if row.address == address)


def made(bench: Bench) -> Sheet:
    return sheet_of(bench.plan, bench.records, DIGEST)


def test_says_what_who_and_when(sheet: Sheet) -> None:
    assert sheet.name == "Pump six"
    assert sheet.engine.name == "Barn pump six (invented)"
    assert sheet.engine.firing_order == (1, 5, 3, 6, 2, 4)
    assert sheet.procedure.file == "inline-six-bridged-hydraulic.yaml"
    assert sheet.begun == "2026-03-07T08:00:00Z"
    assert sheet.last == sheet.people[-1].last
    assert [person.name for person in sheet.people] == ["Wren", "Ash"]
    assert sheet.standing.finished
    assert sheet.standing.closed == sheet.standing.known > 400


def test_a_reading_has_its_value_doubt_takes_and_prediction(sheet: Sheet) -> None:
    row = reading(sheet, "gap@4E#2")
    assert (row.where, row.shown) == ("exhaust of 4", "38.5 thou = 0.978 mm")
    assert (str(row.uncertainty), row.typed) == ("3.3 thou", "38; 39")
    assert (row.verdict, row.flag, str(row.predicted)) == ("in", "agrees", "36.5 thou")
    assert (str(row.low), str(row.high)) == ("0.020 in", "0.060 in")
    assert (str(row.pushrod), row.person) == ("10.300 in", "Ash")
    assert row.doubts == ()
    assert reading(sheet, "gap@4E#1").verdict_words == "high"
    assert str(reading(sheet, "gap@4E#1").pushrod) == "10.340 in"


def test_other_readings_have_their_limits(sheet: Sheet) -> None:
    deck = reading(sheet, "deck-flat")
    assert (str(deck.low), str(deck.high)) == ("None", "0.003 in")
    assert deck.verdict_words == "outside, not proved"
    assert deck.reason == "skimmed twice; allowed by the gasket's maker"
    assert str(reading(sheet, "clearance").low) == "0.080 in"
    assert len([row for row in sheet.readings if row.figure == "runout"]) == 23


def test_the_rounds_hold_what_was_judged(sheet: Sheet) -> None:
    first, second = sheet.rounds
    assert (first.number, len(first.readings), second.number) == (1, 12, 2)
    assert [row.place for row in first.readings][:4] == ["1I", "1E", "5I", "5E"]
    order = first.judgement
    assert order is not None
    assert (order.outcome, order.proved, order.person) == ("order", True, "Wren")
    assert [(batch.shown, len(batch.places)) for batch in order.batches] == [
        ("10.300 in = 261.62 mm", 12)
    ]
    chosen = {each.place: each for each in order.chosen}
    assert str(chosen["1I"].before) == "10.340 in"
    assert str(chosen["1I"].change) == "−0.040 in"
    assert str(chosen["1I"].predicted) == "34.5 thou"
    assert second.judgement is not None
    assert (second.judgement.outcome, second.judgement.batches) == ("accept", ())


def test_every_place_has_its_pushrod_and_the_convention(sheet: Sheet) -> None:
    assert sheet.pushrods.convention == "overall, over the oil-hole ends"
    assert len(sheet.pushrods.places) == 12
    assert {(place.shown, place.new) for place in sheet.pushrods.places} == {
        ("10.300 in = 261.62 mm", True)
    }
    fitted = sheet.pushrods.places[0].entry
    assert fitted is not None
    assert (fitted.address, fitted.person) == ("fit@1I#1", "Ash")


def test_specs_have_value_in_both_systems_source_and_what_they_assume(sheet: Sheet) -> None:
    specs = {row.name: row for row in sheet.specs}
    stages = specs["head-stages"]
    assert stages.shown == "30, 60, 85 lbf·ft = 40.7, 81.3, 115 N·m"
    assert (stages.source, stages.assumes) == ("shop leaflet, p. 4", "engine oil")
    assert stages.asked == "Which lubricant on the nuts' threads and faces?"
    assert specs["preload-window"].shown == "0.020 to 0.060 in = 0.508 to 1.524 mm"
    missing = specs["head-thread"]
    assert (missing.state, missing.value) == ("not-had", None)
    assert missing.consequence == "Torque stays torque; no clamp load is shown."
    margin = specs["crank-margin"]
    assert (margin.state, margin.shown, margin.source) == ("not-had", "20 deg", "common practice")
    assert sheet.summary.not_had.count("crank-margin") == 1


def test_fasteners_have_hole_marks_and_stages_with_times(sheet: Sheet) -> None:
    head, cover = sheet.fasteners
    by_key = {each.key: each for each in head.fasteners}
    nine = by_key["9"]
    assert (nine.where, nine.mapped) == ("lower row, second from the front", "dry through")
    assert nine.hole is not None
    assert nine.hole.value == "wet through"
    assert nine.sealed is not None
    assert nine.oiled is None
    assert nine.fitted is not None
    assert nine.fitted.step == "wet-stud-in"
    assert [str(stage.setting) for stage in nine.stages] == [
        "30 lbf·ft",
        "60 lbf·ft",
        "85 lbf·ft",
        "85 lbf·ft",
    ]
    one = by_key["1"]
    assert one.wiped is not None
    assert one.wiped.at == "2026-03-07T08:28:00Z"
    assert (head.generated, len(head.fasteners), len(cover.fasteners)) == (True, 14, 6)
    assert cover.fasteners[0].hole is None, "the head's holes are none of the cover's"
    assert [str(stage.setting) for stage in cover.fasteners[0].stages] == ["72 lbf·in", "72 lbf·in"]
    assert [each.place for each in sheet.torqued] == ["1", "5", "3", "6", "2", "4"]
    assert {(str(each.setting), each.screws) for each in sheet.torqued} == {("27 lbf·ft", 2)}


def test_setting_points_have_window_margin_and_turns(sheet: Sheet) -> None:
    points, final = sheet.points
    assert (points.step, points.method, final.step) == ("points", "camshaft", "final-points")
    first = points.points[0]
    assert first.places == ("1", "5")
    assert first.window == "6° past to 110° past number one's mark, aim for 58° past"
    assert (str(first.margin), str(first.aim)) == ("72 deg", "58 deg")
    assert first.rim == "On the damper: 58° past the 0° mark, 3.54 in = 90 mm round the rim."
    assert [turn.address for turn in points.turns][:2] == ["points.turn@P1#1", "points.turn@P2#1"]


def test_overrides_skips_and_notes_keep_place_reason_and_person(sheet: Sheet) -> None:
    found = {each.address: each for each in sheet.overrides}
    assert set(found) == {"deck-flat", "rags-out", "gap@6E#2"}
    assert (found["rags-out"].code, found["rags-out"].reason) == ("count", "one was seen to burn")
    assert found["rags-out"].rule.startswith("11 now, 12 before: they must be the same.")
    assert found["gap@6E#2"].person == "Ash"
    assert [(each.address, each.text) for each in sheet.skips] == [
        ("gasket-mark", "no mark on this gasket"),
        ("roll@3E", "plate lent out"),
    ]
    note = sheet.notes[0]
    assert (note.address, note.text, note.phase) == ("probe-hole@14", "it weeps", "Studs")


def test_counts_choices_and_ticks(sheet: Sheet, finished: Bench) -> None:
    counts = {each.address: each for each in sheet.counts}
    rags = counts["rags-out"]
    assert (rags.count, rags.same_as, rags.before, rags.agrees) == ("11", "rags-in", "12", False)
    assert counts["old-away#1"].agrees is True
    assert counts["nuts-on"].agrees is None
    choices = {each.address: each.answer for each in sheet.choices}
    assert choices["leaks"] == "tight"
    assert choices["oil-at-rockers@5"] == "oil"
    ticks = {entry.address: entry for phase in sheet.phases for entry in phase.entries}
    assert ticks["lay-gasket"].at == "2026-03-07T08:55:20Z"
    assert sheet.phases[0].title == "Before starting"
    assert ticks.keys() == {str(address) for address in finished.state.facts}


def test_readings_that_do_not_stand_stay_on_record(sheet: Sheet) -> None:
    replaced, aside = sheet.asides
    assert (replaced.address, replaced.how, replaced.typed) == ("gap@5I#1", "replaced", "71; 72")
    assert str(replaced.value) == "71.5 thou"
    assert (aside.address, aside.how, aside.code) == ("gap@3I#2", "set-aside", "old")
    assert str(aside.value) == "78.5 thou"
    assert "the old pushrod is still in" in aside.why
    assert reading(sheet, "gap@5I#1").typed == "72; 73"


def test_a_break_says_how_long_and_what_it_undid(sheet: Sheet) -> None:
    short, long = sheet.breaks
    assert (short.gap, short.stood) == ("2 hours", "head-tighten@1.5")
    assert short.voided == ("head-tighten@1.11", "head-tighten@1.4", "head-tighten@1.10")
    assert short.advice == ("head: stage 1 was broken off; it starts again",)
    assert (long.gap, str(long.crank), long.crank_kept) == ("9 days", "538 deg", False)
    assert [each.addresses for each in sheet.reopened] == [short.voided]
    again = {each.address: [time.at for time in each.times] for each in sheet.repeated}
    assert len(again["head-tighten@1.11"]) == 2
    assert len(again["number-one"]) == 2


def test_an_answer_taken_back_is_counted_and_told(sheet: Sheet) -> None:
    undone = sheet.taken_back[0]
    assert (len(sheet.taken_back), undone.address) == (1, "gap@1E#1")
    assert undone.was == ("reading 60; 61",)
    assert undone.answered_by == undone.person == "Wren"
    assert reading(sheet, "gap@1E#1").typed == "78; 79"


def test_the_journal_is_named_by_digest_and_length(sheet: Sheet, finished: Bench) -> None:
    assert (sheet.journal.digest, sheet.journal.records) == (DIGEST, len(finished.records))
    assert "only against this digest" in sheet.journal.caveat


def test_the_summary_gathers_what_matters(sheet: Sheet) -> None:
    assert [row.address for row in sheet.summary.final][:3] == ["gap@1I#2", "gap@1E#2", "gap@5I#2"]
    assert [row.address for row in sheet.summary.doubtful] == ["gap@6E#2", "deck-flat"]
    assert sheet.summary.doubtful[0].doubts == ("off its prediction, 38.5 thou",)
    assert [(each.address, each.reason) for each in sheet.summary.missing] == [
        ("roll@3E", "plate lent out")
    ]


def test_a_build_that_waits_says_since_when_and_what_is_open() -> None:
    bench = begin()
    bench.until("post#1")
    bench.take("")
    bench.leave(hours=3)
    sheet = made(bench)
    wait = sheet.waits[0]
    assert (wait.what, wait.until, wait.lasted, wait.seconds) == ("pushrods", "", "3 hours", 10800)
    assert (sheet.standing.finished, sheet.standing.address) == (False, "return")
    assert sheet.standing.phase == "Coming back"
    bench.until("cover-flat")
    assert made(bench).standing.phase == "Cover"
    bench.take("arrived", at="post#1")
    assert made(bench).waits[0].until == bench.records[-1].at
    gaps = made(bench).summary.missing
    assert {(each.figure, each.round) for each in gaps} == {
        ("runout", 1),
        ("new-length", 1),
        ("preload", 2),
        ("piston-intake", 0),
        ("piston-exhaust", 0),
        ("coil-bind", 0),
        ("clearance", 0),
    }
    assert not any(each.skipped for each in gaps)


def test_a_reading_with_another_pushrod_than_is_in_now_is_doubtful() -> None:
    bench = begin()
    bench.until("fit@1E#1")
    final = {row.place: row for row in made(bench).summary.final}
    assert final["1I"].stale
    assert "read with a pushrod of 10.340 in, and another is in now" in final["1I"].doubts
    assert not final["1E"].stale


def test_an_accepted_round_is_proved_only_if_each_reading_is() -> None:
    bench = begin()
    bench.gap = lambda at: "22; 22" if at.place == "3I" else "38; 39"
    bench.until("lengths#1")
    bench.take("accept")
    judged = made(bench).rounds[0].judgement
    assert judged is not None
    assert (judged.outcome, judged.proved) == ("accept", False)
    assert reading(made(bench), "gap@3I#1").doubts == ("inside, not proved",)


def test_a_place_measured_again_is_opened_and_its_reading_kept_aside() -> None:
    bench = begin()
    bench.until("lengths#1")
    bench.take("again 5")
    sheet = made(bench)
    assert sheet.reopened[0].reason == "measured again: 5"
    assert {(each.address, each.how) for each in sheet.asides} == {
        ("gap@5I#1", "voided"),
        ("gap@5E#1", "voided"),
    }
    assert [gap.place for gap in sheet.rounds[0].missing] == ["5I", "5E"]
    assert sheet.rounds[0].judgement is None


def test_a_build_just_begun_has_a_sheet() -> None:
    bench = begin()
    sheet = sheet_of(bench.plan, bench.records[:1], DIGEST)
    assert (sheet.last, sheet.standing.address) == (sheet.begun, "spec.head-flatness")
    assert {row.state for row in sheet.specs} == {"not-asked"}
    assert sheet.summary.final == ()


def test_records_without_the_first_are_refused(finished: Bench) -> None:
    for records in ([], finished.records[1:]):
        with pytest.raises(ValueError, match="from the first one on"):
            sheet_of(finished.plan, records, DIGEST)


def test_an_undone_override_is_no_override() -> None:
    bench = begin()
    bench.until("deck-flat")
    bench.take(".0033 ! let it be")
    assert [each.address for each in made(bench).overrides] == ["deck-flat"]
    bench.take("back")
    sheet = made(bench)
    assert sheet.overrides == ()
    assert sheet.taken_back[0].was == ("override let it be", "reading .0033")


def test_a_crank_said_to_be_untouched_is_told() -> None:
    bench = begin()
    bench.until("bridge-on@1#1")
    bench.leave(minutes=40)
    bench.take("untouched")
    assert made(bench).breaks[0].crank_kept
