"""A build that is open elsewhere is followed: the same picture, no answer, taken over when free."""

from pathlib import Path

import pytest

from snugset.bench import Bench
from snugset.journal.errors import JournalError
from snugset.journal.owner import Owner
from snugset.journal.reading import read_records
from snugset.screens.builds import BuildsScreen
from snugset.screens.follow import FollowScreen

from .stage import Player, Stage, at, playing
from .terminal import on_terminal
from .test_terminal import CTRL_Q, FIRST, NEW

ASH = Owner(person="Ash", host="barn", pid=7, since="2026-03-06T17:40:00Z")


def other(there: Stage, folder: Path) -> Bench:
    """Open the build as another program does."""
    return Bench.open(folder, owner=ASH, clock=there.clock, fresh=True)


async def looked(player: Player) -> str:
    """Let the screen look again, as it does every two seconds."""
    assert isinstance(player.app.screen, FollowScreen)
    player.app.screen.action_again()
    await player.settled()
    return player.words


async def test_it_goes_on_with_the_other_and_takes_no_answer(there: Stage) -> None:
    folder = there.put(at("manual"))
    with other(there, folder) as bench:
        async with playing(there.app()) as player:
            await player.press("enter")
            assert "F follows it, read only." in player.words
            await player.press("f")
            assert "Read only. Open elsewhere: Ash on barn (process 7)" in player.words
            first = player.picture.splitlines()[0]
            assert first.endswith("manual")
            for key in ("space", "7", "f3", "f10", "x", "enter"):
                await player.press(key)
            assert isinstance(player.app.screen, FollowScreen)
            assert player.picture.splitlines()[0] == first
            assert first.startswith(" Test six")
            bench.say("")
            await looked(player)
            assert player.picture.splitlines()[0].endswith("workplace")
            bench.say("note [bold]dry[/]")
            bench.say("back")
            bench.say("back")
            await looked(player)
            assert player.picture.splitlines()[0].endswith("manual")
            await player.press("f7")
            assert player.app.screen.view_name() != "list"
            await player.press("f1", "escape", "escape")
            assert isinstance(player.app.screen, BuildsScreen)
        assert read_records(folder) == tuple(bench.records)


async def test_enter_takes_it_over_once_it_is_free(there: Stage) -> None:
    folder = there.put(at("manual"))
    bench = other(there, folder)
    async with playing(there.app()) as player:
        await player.press("f", "enter")
        assert "Read only." in player.words
        bench.close()
        assert "It is free now: Enter takes it over." in await looked(player)
        await player.press("enter")
        assert player.asked == "return"
        assert player.bench.desk.build == folder.name
    with other(there, folder):
        pass


async def test_two_that_follow_cannot_both_take_it(there: Stage) -> None:
    folder = there.put(at("manual"))
    async with playing(there.app()) as player:
        await player.press("f")
        assert "Enter takes it over" in player.words
        with other(there, folder):
            await player.press("enter")
            assert isinstance(player.app.screen, FollowScreen)
            assert "Read only. Open elsewhere: Ash on barn" in player.words


async def test_a_build_that_cannot_be_read_any_more_is_said(there: Stage) -> None:
    folder = there.put(at("manual"))
    async with playing(there.app()) as player:
        await player.press("f")
        kept = (folder / "journal.sqlite").read_bytes()
        (folder / "journal.sqlite").write_bytes(b"no journal")
        assert "It cannot be read now: barn-pump-six: journal.sqlite is not" in await looked(player)
        (folder / "journal.sqlite").write_bytes(kept)
        assert "Enter takes it over" in await looked(player)


async def test_a_write_under_way_leaves_the_picture(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    there.put(at("manual"))
    async with playing(there.app()) as player:
        await player.press("f")
        before = player.words

        def busy(_folder: Path) -> object:
            raise JournalError("busy", "in use")

        with monkeypatch.context() as patch:
            patch.setattr("snugset.screens.follower.read_head", busy)
            assert await looked(player) == before


def test_on_a_terminal_one_follows_the_other(tmp_path: Path) -> None:
    with on_terminal(tmp_path, *NEW) as one:
        one.until(FIRST)
        with on_terminal(tmp_path, "resume", "north", "--follow") as two:
            two.until("Read only. Open elsewhere: Wren")
            one.type(CTRL_Q)
            assert one.ended() == 0
            two.until("Enter takes it over")
            two.type("\r")
            two.until("in ▸")
            two.type(CTRL_Q)
            assert two.ended() == 0
            assert two.is_whole()
