"""What cannot stand: it is said why, nothing is kept, and what was typed stays to be put right."""

import pytest

from snugset.guide.answer import LONGEST

from .stage import Stage, playing

WRONG = {
    "manual": [
        ("done", "Only Enter is asked for here"),
        ("skip", "Say why it is skipped"),
        ("note", "Type the note after the word note."),
    ],
    "lifters-laid": [
        ("twelve", "“twelve” is no count"),
        ("", "“” is no count"),
    ],
    "lifters-in": [
        ("11", "11 now, 12 before: they must be the same."),
    ],
    "head-flat": [
        ("", "Type the reading in in"),
        ("thin", "thin"),
        ("25,4", "has a comma; write “25.4”"),
        ("-.002", "below zero"),
        ("2 lbf·ft", "is a torque"),
        ("2 cubits", "“cubits” is not a unit known here"),
        ("9**9**9", "9**9**9"),
        ("1e9", "1e9"),
        ("nan", "nan"),
        ("２", "２"),
        ("2", "2 in"),
    ],
    "deck-flat": [
        (".0033", "outside, not proved"),
        (".02", "high"),
    ],
    "spec.cover-torque": [
        ("72 lbf·ft", "72 lbf·in"),
        ("", "Type the figure (lbf·in)"),
    ],
    "other-parts": [
        ("maybe", "“maybe” is none of the answers here: 1 here, 2 on order"),
        ("", "none of the answers"),
    ],
    "number-one": [
        ("2", "it is proven by “one”"),
    ],
    "gap@4I#1": [
        ("", "Type what the leaves read in thou"),
        ("40+", "40+"),
        ("40+38", "2 takes are asked for"),
        ("40+38; 40+60", "The takes are 22 thou apart"),
        ("20+10+5+3+1; 20+10+5+3+1", "More than three leaves"),
        ("2 in; 2 in", "2 in"),
        ("@gap@@ 35", "“gap@@” is no address"),
        ("@nowhere 35", "There is no nowhere in this build"),
        ("@gap@4E#1 35", "gap@4E#1 comes later"),
    ],
    "head-tighten@1.11": [
        ("30", "Enter when this fastener is done, or stage"),
    ],
    "lengths#1": [
        ("order banana", "banana"),
        ("again 9", "is no place here"),
    ],
    "points.turn@P1#1": [
        ("200", "outside P1"),
    ],
}
"""By the place that is asked: what is typed, and what is said of it."""


@pytest.mark.parametrize("address", WRONG)
async def test_wrong_input_is_said_and_stays_typed(there: Stage, address: str) -> None:
    async with playing(there.at(address)) as player:
        before = player.look.state
        for typed, said in WRONG[address]:
            await player.say(typed)
            assert player.look.state is before, typed
            assert player.asked == address
            assert said in player.words, player.picture
            assert "✗" in player.words
            assert player.typed == typed
            if typed:
                await player.press("escape")


async def test_what_could_be_typed_instead_is_offered(there: Stage) -> None:
    async with playing(there.at("spec.cover-torque")) as player:
        await player.say("72 lbf·ft; leaflet")
        assert "Type: 72 lbf·in" in player.words
        await player.press("escape")
        await player.say("72 lbf·in; leaflet")
        assert player.look.state.specs["cover-torque"].source == "leaflet"


async def test_a_rule_is_gone_against_with_a_reason(there: Stage) -> None:
    async with playing(there.at("deck-flat")) as player:
        await player.say(".0033")
        assert "F6: go on all the same, because …" in player.words
        await player.press("f6")
        assert player.typed == ".0033 ! "
        await player.type("skimmed twice")
        await player.press("enter")
        assert player.asked != "deck-flat"
        (override,) = player.look.state.overrides
        assert override.reason == "skimmed twice"


async def test_a_reading_that_was_set_aside_is_kept_with_a_reason(there: Stage) -> None:
    """The reading is on the record, the prompt stays open, and F6 takes the reading up again."""
    async with playing(there.at("gap@5E#2")) as player:
        await player.say("40+33; 40+34")
        assert player.asked == "gap@5E#2"
        assert player.typed == ""
        assert "reads as it did before" in player.words
        assert len(player.look.state.set_aside) == 1
        await player.press("f6")
        assert player.typed == "40+33; 40+34 ! "
        await player.type("measured twice")
        await player.press("enter")
        assert player.asked != "gap@5E#2"


async def test_a_refused_choice_stays_to_be_reasoned_about(there: Stage) -> None:
    async with playing(there.at("check-new-lengths#1")) as player:
        await player.press("2")
        assert player.asked == "check-new-lengths#1"
        await player.press("f6")
        assert player.typed == "wrong ! "
        await player.type("two of them exchanged")
        await player.press("enter")
        assert player.asked != "check-new-lengths#1"


async def test_what_is_pasted_cannot_drive_the_terminal(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await player.paste("note \x1b[31mred\x07\u202ebell\nsecond line")
        assert player.typed == "note �[31mred��bell second line"
        await player.press("enter")
        assert player.look.state.notes[-1].text == "�[31mred��bell second line"
        assert "\x1b" not in player.picture


async def test_a_text_that_is_too_long_is_refused_in_words(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await player.paste("note " + "x" * 100_000)
        assert len(player.typed) < LONGEST + 1000
        await player.press("enter")
        assert f"{LONGEST} are the most" in player.words
        assert not player.look.state.notes


async def test_after_a_refusal_what_is_typed_is_foreseen_again(there: Stage) -> None:
    async with playing(there.at("head-flat")) as player:
        await player.say("25,4")
        await player.press("escape")
        await player.type(".002")
        assert "comma" not in player.words
        assert "→ 0.002 in = 0.051 mm ± 0.0005 in: in" in player.words
