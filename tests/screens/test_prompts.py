"""Each kind of prompt, answered by keys."""

import pytest

from driving import table
from snugset.screens.answer import Answer
from snugset.screens.asking import cautious

from .stage import Stage, playing


async def test_a_tick_takes_enter(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        assert "done: Enter ▸" in player.picture
        await player.press("enter")
        assert player.asked == "workplace"


async def test_a_tick_takes_the_space_bar(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await player.press("space")
        assert player.asked == "workplace"


async def test_a_count_is_typed(there: Stage) -> None:
    async with playing(there.at("lifters-laid")) as player:
        assert "how many ▸" in player.picture
        await player.type("12")
        assert player.asked == "lifters-laid"
        await player.press("enter")
        assert player.asked == "lifters-in"
        assert "✓ lifters-laid: 12" in player.picture


async def test_a_figure_takes_the_unit_that_is_shown(there: Stage) -> None:
    async with playing(there.at("head-flat")) as player:
        assert "in ▸" in player.picture
        await player.type(".002")
        await player.press("enter")
        assert player.asked == "gasket-match"
        assert "✓ 0.002 in = 0.051 mm ± 0.0005 in: in" in player.picture


async def test_a_choice_takes_one_digit_and_nothing_else(there: Stage) -> None:
    async with playing(there.at("other-parts")) as player:
        shown = player.picture
        assert "1  here" in shown
        assert "2  on order" in shown
        assert "1 to 2 ▸" in shown
        await player.press("1")
        assert player.asked == "cylinder-one"
        assert player.look.state.given[-1].what == "other-parts"


async def test_a_digit_that_is_no_choice_is_only_typed(there: Stage) -> None:
    async with playing(there.at("other-parts")) as player:
        await player.press("3")
        assert player.typed == "3"
        assert player.asked == "other-parts"


async def test_a_choice_is_also_typed_in_words(there: Stage) -> None:
    async with playing(there.at("other-parts")) as player:
        await player.type("on order")
        await player.press("enter")
        assert player.asked == "cylinder-one"


async def test_enter_takes_what_is_proposed(there: Stage) -> None:
    async with playing(there.at("probe-hole@2")) as player:
        assert "Enter: wet through" in player.picture
        await player.press("enter")
        assert player.look.state.condition.mark("hole", "head:2") == "wet through"


async def test_a_text_takes_words_and_proposes_the_last_ones(there: Stage) -> None:
    async with playing(there.at("spec.cover-torque")) as player:
        await player.say("72 lbf·in")
        assert player.asked == "spec.cover-torque.source"
        assert "Enter: gasket maker's sheet" in player.picture or "Enter: " in player.picture
        await player.type("leaflet, p. 6")
        await player.press("enter")
        assert player.look.state.specs["cover-torque"].source == "leaflet, p. 6"


async def test_a_choice_to_be_filled_in_is_begun_by_its_digit(there: Stage) -> None:
    async with playing(there.at("lengths#1")) as player:
        assert "3  again PLACE" in player.picture
        await player.press("3")
        assert player.typed == "again "
        await player.type("4I")
        await player.press("enter")
        assert player.asked.endswith("@4#1")


async def test_a_wait_begins_with_enter_and_ends_with_one_key(there: Stage) -> None:
    async with playing(there.at("post#1")) as player:
        await player.press("enter")
        assert player.asked == "cover-flat"
        assert "Waiting for pushrods" in player.picture
        await player.press("f10")
        assert player.asked == "check-new-lengths#1"


async def test_without_a_wait_that_key_says_so(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await player.press("f10")
        assert "Nothing is waited for." in player.picture
        assert player.asked == "manual"


async def test_a_wait_with_nothing_meanwhile_is_asked_itself(there: Stage) -> None:
    async with playing(there.at("coolant-stand")) as player:
        await player.press("enter")
        assert player.asked == "coolant-stand"
        assert "arrived: F10 ▸" in player.picture
        for _ in range(2):
            there.clock.advance(25 * 60)
            await player.say("note dry so far")
        there.clock.advance(60)
        player.bench._look_again()
        await player.settled()
        assert "Waiting for coolant-stand, 39 minutes to go" in player.words
        await player.press("enter")
        assert player.asked == "coolant-stand"
        there.clock.advance(25 * 60)
        await player.say("note still dry")
        there.clock.advance(15 * 60)
        await player.press("enter")
        assert player.asked == "seep-look"


async def test_half_an_hour_without_an_answer_asks_what_is_to_be_checked_first(
    there: Stage,
) -> None:
    """What was typed meanwhile is not lost: it is proposed where it was asked."""
    async with playing(there.at("gap@4I#1")) as player:
        there.clock.advance(31 * 60)
        await player.say("40+38; 40+40")
        assert player.asked == "return"
        assert "More than half an hour has passed" in player.words
        assert player.typed == ""
        await player.press("1")
        assert player.asked == "gap@4I#1"
        assert player.typed == "40+38; 40+40"
        assert player.look.records[-1].kind == "returned"


async def test_a_torque_stage_can_be_said_done_at_once(there: Stage) -> None:
    async with playing(there.at("head-tighten@1.5")) as player:
        assert "stage 1 of 3 3/14" in player.picture
        await player.type("stage")
        assert "Stage 1 of 3, 30 lbf·ft: every fastener done." in player.words
        assert player.asked == "head-tighten@1.5"
        await player.press("enter")
        assert player.asked == "head-tighten@2.11"


@pytest.mark.usefixtures("held_keys")
async def test_a_held_enter_confirms_one_fastener(there: Stage) -> None:
    async with playing(there.at("head-tighten@1.11")) as player:
        for _ in range(12):
            await player.press("enter")
        assert player.asked == "head-tighten@1.4"
        assert "A key held down counts once." in player.picture


@pytest.mark.usefixtures("held_keys")
async def test_a_held_digit_gives_one_choice(there: Stage) -> None:
    async with playing(there.at("probe-hole@2")) as player:
        for _ in range(6):
            await player.press("1")
        assert player.asked == "probe-hole@3"


@pytest.mark.usefixtures("held_keys")
async def test_after_a_pause_enter_confirms_the_next(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with playing(there.at("head-tighten@1.11")) as player:
        await player.press("enter")
        monkeypatch.setattr(Answer, "HELD", 0.0)
        await player.press("enter")
        assert player.asked == "head-tighten@1.10"


@pytest.mark.usefixtures("held_keys")
async def test_typing_between_is_no_held_key(there: Stage) -> None:
    async with playing(there.at("lifters-laid")) as player:
        for count in ("12", "12"):
            await player.type(count)
            await player.press("enter")
        assert player.asked == "lifters-free"


@pytest.mark.parametrize(
    ("address", "key", "begun"),
    [("manual", "f4", "note "), ("manual", "f5", "skip ")],
)
async def test_a_note_and_a_skip_are_begun_by_a_key(
    there: Stage, address: str, key: str, begun: str
) -> None:
    async with playing(there.at(address)) as player:
        await player.press(key)
        assert player.typed == begun
        await player.type("by hand")
        await player.press("enter")
        newest = player.look.records[-1]
        assert newest.kind in ("note", "skipped")
        assert "by hand" in newest.body.values()


async def test_escape_empties_the_field_before_it_leaves(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await player.press("f4", "escape")
        assert player.typed == ""
        assert player.asked == "manual"


@pytest.mark.parametrize(
    ("word", "shows"),
    [
        ("why", "The guide carries the order"),
        ("help", "Help · bench"),
        ("?", "Help · bench"),
        ("list", "▸ manual"),
        ("crank", "Crank: not known."),
        ("figure", "Calculators · 20"),
        ("figure thread thread=7/16-20", "pitch 0.05 in"),
        ("figure wrench sets=sixty", "✗ "),
    ],
)
async def test_the_words_of_the_plain_front_end_do_the_same(
    there: Stage, word: str, shows: str
) -> None:
    async with playing(there.at("manual")) as player:
        await player.type(word)
        await player.press("enter")
        assert shows in " ".join(player.picture.split())
        assert len(player.app.screen_stack) in (3, 4)


@pytest.mark.parametrize("source", ["figure 4, p. 2", "copy of the maker's sheet"])
async def test_where_any_words_are_an_answer_no_line_shows_something_instead(
    there: Stage, source: str
) -> None:
    told = table(specs=False)
    told.taken("0.005 in")
    assert told.at.endswith(".source")
    async with playing(there.app(there.opening(there.put(told)))) as player:
        await player.type(source)
        await player.press("enter")
        assert player.look.state.specs["head-flatness"].source == source
        assert len(player.app.screen_stack) == 3


async def test_another_place_is_answered_by_its_address(there: Stage) -> None:
    async with playing(there.at("gap@4I#1")) as player:
        await player.type("@gap@1I#1 again 40+30; 40+31")
        assert "Intake of 1: 70.5 thou" in player.words
        await player.press("enter")
        assert player.asked == "gap@4I#1"
        reading = player.look.records[-1].body
        assert (reading["at"], reading["typed"]) == ("gap@1I#1", "40+30; 40+31")


async def test_why_shows_reason_caution_and_tools(there: Stage) -> None:
    async with playing(there.at("battery")) as player:
        await player.press("f2")
        shown = player.words
        assert "From here on hands turn the crank." in shown
        assert "! Rings and watch off." in shown
        assert "Tools: spanner, tie or tape" in shown


async def test_a_finished_build_says_so_and_can_still_be_taken_back(there: Stage) -> None:
    async with playing(there.at("close")) as player:
        await player.press("enter")
        assert player.asked == ""
        assert "The build is finished." in player.picture
        assert "snugset sheet barn-pump-six" in player.words
        await player.press("f3")
        assert player.asked == "close"


@pytest.mark.parametrize(
    ("width", "line"),
    [
        (45, "! Feet apart. A socket that slips takes … F2"),
        (39, "! Feet apart. A socket that slips … F2"),
        (24, "! Feet apart. A … F2"),
        (12, "! Feet … F2"),
        (53, "! Feet apart. A socket that slips takes your knuckles."),
    ],
)
def test_a_caution_is_cut_after_a_word(width: int, line: str) -> None:
    assert cautious("Feet apart. A socket that slips takes your knuckles.", width + 1) == line


def test_a_caution_of_one_long_word_is_cut_within_it() -> None:
    assert cautious("Unbreakable", 11) == "! Unbr … F2"
