"""What an answer would come to, live, as its digits are typed."""

import pytest

from snugset.screens import outcome
from snugset.screens.desk import Desk

from .stage import Stage, playing


async def test_verdict_and_working_follow_each_digit(there: Stage) -> None:
    async with playing(there.at("gap@4I#1"), (100, 30)) as player:
        await player.type("40+38; 40+4")
        assert "84 thou" not in player.words
        await player.type("0")
        shown = player.words
        assert "→ Intake of 4: 79 thou = 2.007 mm ± 3.3 thou: high; 53 % of the travel" in shown
        assert "proved in from 20 + 3.3 = 23.3 to 60 − 3.3 = 56.7 thou: 79 thou is high" in shown
        assert "to the target: 0.038 in − 79 thou = −41 thou" in shown
        await player.press("backspace")
        assert "→ Intake of 4: 79 thou" not in player.words


async def test_the_source_of_the_formula_is_named(there: Stage) -> None:
    async with playing(there.at("gap@4I#1"), (160, 48)) as player:
        await player.type("40+38; 40+40")
        assert "Source: JCGM 100 (from memory); ILAC-G8:09/2019" in player.words


async def test_a_working_is_in_the_unit_of_the_field(there: Stage) -> None:
    """A bare figure counts as inches here, although the calculator's own unit is thou."""
    async with playing(there.at("head-flat"), (100, 30)) as player:
        await player.type(".002")
        assert "0.002 in with U = 0.0005 in" in player.words


async def test_a_limit_on_one_side_is_in_the_working_too(there: Stage) -> None:
    async with playing(there.at("deck-flat"), (100, 30)) as player:
        await player.type(".0033")
        assert "inside with a chance of 0.115" in player.words


async def test_nothing_typed_leaves_what_the_last_answer_came_to(there: Stage) -> None:
    async with playing(there.at("gap@4I#1")) as player:
        await player.say("40+38; 40+40")
        said = "✓ Intake of 4: 79 thou = 2.007 mm ± 3.3 thou: high"
        assert said in player.words
        await player.type("4")
        assert said not in player.words
        await player.press("backspace")
        assert said in player.words


async def test_typing_keeps_nothing(there: Stage, monkeypatch: pytest.MonkeyPatch) -> None:
    async with playing(there.at("gap@4I#1")) as player:

        async def never(*_: object) -> None:
            raise AssertionError("kept")

        monkeypatch.setattr(Desk, "say", never)
        before = player.look
        await player.type("40+38; 40+40 ! so it is")
        assert player.look is before


@pytest.mark.parametrize(
    ("typed", "shows"),
    [
        ("skip no straightedge", "→ Skipped head-flat: no straightedge"),
        ("note rusty", "→ Noted."),
        ("back", "→ Took back head-face"),
        ("25,4", "✗"),
    ],
)
async def test_words_are_foreseen_as_well(there: Stage, typed: str, shows: str) -> None:
    async with playing(there.at("head-flat")) as player:
        await player.type(typed)
        assert shows in player.words


async def test_the_words_of_the_prompt_stay_whatever_the_working(there: Stage) -> None:
    async with playing(there.at("gap@4I#1")) as player:
        await player.type("40+38")
        prompt = player.look.prompt
        assert prompt is not None
        assert prompt.words in player.words
        assert "more lines: PgDn" in player.words


async def test_the_rest_of_a_working_is_a_page_on(there: Stage) -> None:
    async with playing(there.at("gap@4I#1")) as player:
        await player.type("40+38")
        last = "common practice"
        assert last not in player.words
        for _ in range(3):
            await player.press("pagedown")
        assert last in player.words
        for _ in range(4):
            await player.press("pageup")
        assert last not in player.words
        assert player.typed == "40+38"


async def test_there_is_no_working_without_a_reading(there: Stage) -> None:
    async with playing(there.at("gap@4I#1")) as player:
        prompt = player.look.prompt
        assert prompt is not None
        for typed in ("", "note 40+38; 40+40", "40+", "x", "skip because"):
            assert outcome.working(prompt, typed) == []
        assert outcome.working(prompt, "again 40+38; 40+40")
        assert outcome.working(prompt, "40+38; 40+40 ! because")
