"""Every answer, who gave it and when; what follows from taking one back is said first."""

import pytest
from textual.widgets import OptionList

from driving import table
from snugset.guide.undoing import follows, undoing
from snugset.journal.errors import JournalError
from snugset.journal.journal import Journal
from snugset.screens.bench import BenchScreen
from snugset.screens.history import HistoryScreen
from snugset.values import replace

from .stage import Stage, at, playing


async def test_every_answer_stands_there_with_person_and_time_newest_first(there: Stage) -> None:
    async with playing(there.at("gap@4E#1")) as player:
        records = len(player.look.records)
        await player.press("f9")
        assert isinstance(player.app.screen, HistoryScreen)
        rows = player.picture.splitlines()
        assert rows[0] == f" History of Test six · {records} records · times in UTC"
        assert "2026-03-06 22:16 Wren  gap@4I#1: 79 thou ± 3.3 thou: high" in rows[1]
        assert player.app.screen.query_one(OptionList).option_count == records
        await player.press("end")
        assert "begun: Test six" in player.picture


async def test_what_follows_is_said_before_anything_is_taken_back(there: Stage) -> None:
    async with playing(there.at("gap@4E#1")) as player:
        before = player.look
        await player.press("f9", "f3")
        shown = player.words
        assert "Out of the record: gap@4I#1: 79 thou" in shown
        assert "Asked again then: gap@4I#1: Intake of 4" in shown
        assert "It corrects the record, not the engine" in shown
        assert "F3 again takes it back." in shown
        assert isinstance(player.app.screen, HistoryScreen)
        assert player.app.screen.desk.look is before
        await player.press("f3")
        assert "✓ Took back gap@4I#1." in player.words
        assert "↶ 2026-03-06 22:16 Wren  gap@4I#1: 79 thou" in player.picture
        await player.press("escape")
        assert player.asked == "gap@4I#1"


async def test_escape_takes_nothing_back(there: Stage) -> None:
    async with playing(there.at("gap@4E#1")) as player:
        before = player.look
        await player.press("f9", "f3", "escape")
        assert player.look is before


async def test_each_one_is_said_first(there: Stage) -> None:
    async with playing(there.at("gap@4E#1")) as player:
        await player.press("f9", "f3", "f3", "f3")
        assert "Out of the record: loosen@4#1: done" in player.words
        assert isinstance(player.app.screen, HistoryScreen)
        assert player.app.screen.desk.look.records[-1].kind == "undone"
        await player.press("escape")
        assert player.asked == "gap@4I#1"


async def test_on_the_bench_one_key_takes_back(there: Stage) -> None:
    async with playing(there.at("gap@4E#1")) as player:
        await player.press("f3")
        assert player.asked == "gap@4I#1"
        assert "✓ Took back gap@4I#1. That corrects the record, not the engine" in player.words


async def test_a_reading_is_measured_again_from_there(there: Stage) -> None:
    async with playing(there.at("gap@4E#1")) as player:
        await player.press("f9", "enter")
        assert isinstance(player.app.screen, BenchScreen)
        assert player.typed == "@gap@4I#1 again "
        await player.type("40+30; 40+31")
        await player.press("enter")
        assert player.asked == "gap@4E#1"
        assert player.look.records[-1].body["typed"] == "40+30; 40+31"


async def test_only_a_reading_is_measured_again(there: Stage) -> None:
    async with playing(there.at("workplace")) as player:
        await player.press("f9", "enter")
        assert "Only a reading is measured again." in player.picture


async def test_an_undo_that_the_disk_does_not_take_can_be_tried_again(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with playing(there.at("workplace")) as player:
        await player.press("f9", "f3")

        def full(*_: object) -> None:
            raise JournalError("disk", "the disk is full")

        with monkeypatch.context() as patch:
            patch.setattr(Journal, "append", full)
            await player.press("f3")
        assert "✗ Not kept: the disk is full. F3 tries again." in player.words
        await player.press("f3")
        assert "✓ Took back manual." in player.words


@pytest.mark.parametrize(
    ("address", "says"),
    [
        ("head-tighten@2.11", "… and 7 more of the same answer"),
        ("head-tighten@2.11", "stage at head: not recorded"),
        ("cover-flat", "No longer waited for: pushrods"),
        ("check-new-lengths#1", "Waited for again: pushrods"),
        ("dry-stud-in@1", "oiled at head:1: not recorded"),
    ],
)
def test_what_hangs_on_an_answer_is_named(address: str, says: str) -> None:
    told = at(address)
    lines = follows(told.plan, told.records, told.state, told.now)
    assert any(says in line for line in lines), lines


def test_a_turn_taken_back_leaves_the_crank_in_doubt() -> None:
    told = at("bridge-on@1#1")
    lines = follows(told.plan, told.records, told.state, told.now)
    assert any(line.startswith("The crank then counts as ") for line in lines), lines


def test_with_nothing_answered_there_is_nothing_to_take_back() -> None:
    told = table(specs=False)
    assert follows(told.plan, told.records, told.state, told.now) == (
        "Nothing has been answered yet: there is nothing to take back.",
    )


def test_what_stays_so_in_metal_is_named() -> None:
    told = at("head-tighten@2.3")
    coming = undoing(told.plan, told.records, told.state, told.now)
    assert coming.metal
    assert any(line.startswith("Still so in metal: 2.5 has 60 lbf·ft") for line in coming.lines)
    told = at("bridge-on@1#1")
    coming = undoing(told.plan, told.records, told.state, told.now)
    assert "Still so in metal: the crank stands where it was turned to" in coming.lines
    assert "The crank then counts as unknown: number one is proven again." in coming.lines
    told = at("gap@4E#1")
    assert not undoing(told.plan, told.records, told.state, told.now).metal


def test_what_is_said_is_what_comes() -> None:
    """The state that is foreseen is the one that taking back gives."""
    for address in ("head-tighten@2.3", "bridge-on@1#1", "gap@4E#1", "check-new-lengths#1"):
        told = replace(at(address), records=list(at(address).records))
        coming = undoing(told.plan, told.records, told.state, told.now)
        told.taken("back")
        assert f"Asked again then: {told.at}: {told.asked.words}" in coming.lines
        crank = told.state.condition.crank
        counts = [line for line in coming.lines if line.startswith("The crank then counts as")]
        assert not counts or (crank is None) == ("unknown" in counts[0])


def test_what_opens_with_it_is_named() -> None:
    told = at("gap@5E#1")
    told = replace(told, records=list(told.records))
    told.taken("again 0.020..0.090 in; p. 2; cold engine", "spec.preload-window")
    coming = undoing(told.plan, told.records, told.state, told.now)
    assert "preload-window: again 0.020..0.060 in" in coming.lines
    told = replace(at("head-tighten@1.11"), records=list(at("head-tighten@1.11").records))
    told.taken("stage")
    coming = undoing(told.plan, told.records, told.state, told.now)
    opened = "Open again too: head-tighten@1.4; head-tighten@1.10; head-tighten@1.5; "
    assert f"{opened}head-tighten@1.3 and 9 more" in coming.lines


async def test_on_the_bench_what_stays_in_metal_is_said_before_it_is_taken_back(
    there: Stage,
) -> None:
    async with playing(there.at("head-tighten@2.3")) as player:
        before = player.look
        await player.press("f3")
        assert "Still so in metal: 2.5 has 60 lbf·ft" in player.words
        assert "F3 again takes it back" in player.words
        assert player.look is before
        await player.press("f3")
        assert player.asked == "head-tighten@2.5"


async def test_typed_back_says_the_same(there: Stage) -> None:
    async with playing(there.at("head-tighten@2.3")) as player:
        await player.say("back")
        assert "Still so in metal: 2.5 has 60 lbf·ft" in player.words
        assert player.asked == "head-tighten@2.3"
        await player.say("back")
        assert player.asked == "head-tighten@2.5"


async def test_an_answer_between_leaves_it(there: Stage) -> None:
    async with playing(there.at("head-tighten@2.3")) as player:
        await player.press("f3", "enter")
        assert player.asked == "head-tighten@2.12"
        await player.press("f3")
        assert player.asked == "head-tighten@2.12"
        assert "Still so in metal: 2.3 has 60 lbf·ft" in player.words
