"""80x24 is enough; 100x30 and 160x48 have more; between them at any moment."""

import pytest
from textual.content import Content

from snugset.screens import asking
from snugset.screens.beside import VIEWS, beside
from snugset.screens.page import Page
from snugset.screens.words import text

from .stage import SIZES, Player, Stage, as_looked, at, playing

PLACES = ("head-tighten@2.11", "points.turn@P2#1", "gap@4I#1", "lengths#1")


def whole(player: Player) -> None:
    """Hold a picture against what it must have at every size."""
    width, height = player.app.size
    rows = player.picture.splitlines()
    assert len(rows) == height
    assert all(len(row) <= width for row in rows)
    prompt = player.look.prompt
    assert prompt is not None
    shown = player.words
    assert " ".join(prompt.words.split()) in shown, player.picture
    assert asking.cue(prompt) in shown
    assert rows[-1].endswith("^Q quit")
    assert rows[0].endswith(str(prompt.address))


@pytest.mark.parametrize("address", PLACES)
async def test_resized_at_any_moment_nothing_that_is_needed_is_cut_off(
    there: Stage, address: str
) -> None:
    async with playing(there.at(address)) as player:
        typed = "note x"
        await player.type(typed)
        for size in (SIZES[2], SIZES[0], SIZES[1], (80, 48), (160, 24), SIZES[0]):
            await player.pilot.resize_terminal(*size)
            await player.settled()
            whole(player)
            assert player.typed == typed
            assert "→ Noted." in player.words


async def test_resized_while_it_opens_and_while_an_answer_is_kept(there: Stage) -> None:
    async with playing(there.at("manual"), SIZES[2]) as player:
        for size in (*SIZES, *SIZES):
            player.strike("enter")
            await player.pilot.resize_terminal(*size)
            await player.settled()
            whole(player)
        assert player.asked == "tools"


@pytest.mark.parametrize("size", [(60, 15), (20, 6), (1, 1)])
async def test_a_smaller_terminal_breaks_nothing(there: Stage, size: tuple[int, int]) -> None:
    async with playing(there.at("gap@4I#1"), size) as player:
        await player.type("40+38; 40+40")
        await player.press("f2", "f7", "f7", "f7", "f8", "escape", "f9", "f3", "escape", "f1")
        await player.press("escape", "pagedown", "pageup")
        await player.pilot.resize_terminal(80, 24)
        await player.settled()
        whole(player)
        assert player.typed == "40+38; 40+40"


@pytest.mark.parametrize("room", [(24, 12), (33, 20), (42, 26), (68, 44)])
@pytest.mark.parametrize("address", [*PLACES, "manual", "post#1", "return", "gap@5E#2"])
def test_no_view_is_wider_or_higher_than_its_room(address: str, room: tuple[int, int]) -> None:
    width, height = room
    look = as_looked(at(address))
    for name in VIEWS:
        drawn = beside(look, name, width, height)
        lines = drawn.plain.split("\n")
        assert max(map(text_width, lines)) <= width, f"{name}\n{drawn.plain}"
        assert len(lines) <= height, f"{name}\n{drawn.plain}"


def text_width(line: str) -> int:
    return text(line).cell_length


async def test_a_prompt_longer_than_its_place_says_so_and_turns_its_pages(there: Stage) -> None:
    async with playing(there.at("lengths#1")) as player:
        last = "measure that bridge again"
        assert "more lines: PgDn" in player.picture
        assert last not in player.words
        await player.press("pagedown")
        assert last in player.words
        assert ": PgUp" in player.picture
        await player.press("pageup")
        assert "Look at all readings together" in player.words


async def test_an_answer_begins_the_next_prompt_at_its_top(there: Stage) -> None:
    async with playing(there.at("lengths#1")) as player:
        await player.press("pagedown", "2")
        whole(player)


async def test_the_mouse_wheel_turns_a_long_prompt(there: Stage) -> None:
    async with playing(there.at("lengths#1")) as player:
        page = player.bench.query_one("#detail", Page)
        page.on_mouse_scroll_down()
        page.on_mouse_scroll_down()
        await player.settled()
        assert "12 places, lowest" not in player.words
        for _ in range(5):
            page.on_mouse_scroll_up()
        await player.settled()
        assert "12 places, lowest" in player.words


async def test_words_longer_than_the_screen_are_begun_and_paged(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        page = player.bench.query_one("#prompt", Page)
        page.put([Content(" ".join(f"word{n}" for n in range(400)))])
        await player.settled()
        assert "word0" in player.words
        seen = player.words
        for _ in range(20):
            await player.press("pagedown")
            seen += player.words
        assert all(f"word{n}" in seen for n in range(400))
