"""A terminal that is too small: every screen says so, and still shows its main thing."""

import pytest
from textual.command import CommandPalette
from textual.containers import VerticalScroll
from textual.widgets import Input, OptionList

from snugset.screens import room
from snugset.screens.bench import BenchScreen
from snugset.screens.painting import Painting

from .moments import MOMENTS, resized, shown
from .shed import shed
from .stage import Player, Stage, playing

SMALL = ((79, 24), (80, 23), (60, 15), (40, 10), (24, 7))
ONE_EACH = {moment.screen: name for name, moment in MOMENTS.items()} | {"no": "no-builds"}


def main_thing(player: Player) -> None:
    """See that what a screen is for can be seen: its prompt, marked line, field or text."""
    screen, rows = player.app.screen, player.picture.splitlines()
    if isinstance(screen, Painting):
        assert screen.shown is not None
        if room.tiny(*screen.size):
            assert not screen.query_one("#view").display, "the prompt has the whole width"
        words = screen.shown.prompt.words if screen.shown.prompt else "The build is finished"
        assert words.split()[0].rstrip(",") in player.words, player.picture
        assert not isinstance(screen, BenchScreen) or screen.field.region.height == 1
        return
    focused = screen.focused
    if focused is None:
        assert "No builds yet." in player.picture
        return
    box = focused.region.intersection(screen.region)
    assert box.height >= 1, player.picture
    seen = "\n".join(row[box.x : box.right] for row in rows[box.y : box.bottom])
    if isinstance(focused, Input):
        value, hint = focused.value, focused.placeholder[:8]
        assert any(part in seen for part in (value[:8], value[-3:]) if part) or (
            not value and hint in seen
        ), player.picture
    elif isinstance(focused, OptionList):
        marked = focused.highlighted_option
        assert marked is not None
        assert str(marked.prompt).split()[0] in seen, player.picture
    else:
        assert isinstance(focused, VerticalScroll)
        assert seen.strip(), player.picture


@pytest.mark.parametrize("name", ONE_EACH.values())
async def test_every_screen_says_so_and_still_shows_its_main_thing(there: Stage, name: str) -> None:
    async with shown(there, MOMENTS[name]) as player:
        for width, height in SMALL:
            await resized(player, (width, height))
            assert all(len(row) <= width for row in player.picture.splitlines())
            main_thing(player)
            if isinstance(player.app.screen, CommandPalette):  # it stands over the rest
                continue
            notice = room.notice(width, height)[: width - 3]
            assert notice in player.picture, player.picture
            if height >= room.FLAT:
                assert player.picture.rstrip().endswith("^Q quit")
        await resized(player, (80, 24))
        assert "smaller than" not in player.picture


@pytest.mark.parametrize("size", [(60, 15), (50, 12), (40, 10), (30, 8)])
async def test_a_long_refusal_that_is_cut_says_so(there: Stage, size: tuple[int, int]) -> None:
    """Also where one line of it is all that has room."""
    async with playing(there.app(there.opening(there.put(shed("gap@2E#1"))))) as player:
        await player.say("20+10; 20+30")
        await resized(player, size)
        rows = player.picture.splitlines()
        at = next(n for n, row in enumerate(rows) if "✗ The takes" in row)
        below = " ".join(row.partition("│")[0] for row in rows[at : at + 3])
        assert "PgDn" in below
        read = player.words
        for _ in range(8):
            await player.press("pagedown")
            read += f" {player.words}"
        for word in ("apart,", "they", "should", "repeat:", "third", "fresh"):
            assert word in read, "no line of it is passed over"


async def test_the_setting_is_read_in_one_line_where_large_digits_have_no_room(
    there: Stage,
) -> None:
    async with playing(there.app(there.opening(there.put(shed("head-tighten@2.3"))))) as player:
        await resized(player, (40, 10))
        assert "set to 60 lbf·ft" in player.picture
        assert "Then the next nut." in player.picture
        assert "more lines: PgDn" in player.picture  # the caution and the details
        for _ in range(9):
            await player.press("pagedown")
        assert "use the maker's diagram" in player.words
