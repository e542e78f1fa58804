"""A terminal that is too small: every screen says so, and still shows its main thing."""

import pytest
from textual.command import CommandPalette
from textual.containers import VerticalScroll
from textual.widgets import Input, OptionList

from snugset.screens import room
from snugset.screens.bench import BenchScreen
from snugset.screens.painting import Painting

from .moments import MOMENTS, resized, shown
from .stage import Player, Stage

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
