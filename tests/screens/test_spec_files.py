"""The spec sheet filled from a file and saved to one, on the screen."""

import re
from pathlib import Path

import pytest

from snugset.journal.errors import JournalError
from snugset.journal.journal import Journal
from snugset.screens.file import FileScreen

from .stage import Player, Stage, playing


def sheet(folder: Path, body: str) -> Path:
    """Write a spec sheet file."""
    file = folder / "s.yaml"
    file.write_text(f"snugset: specs/1\nfigures:\n{body}\n", "utf-8")
    return file


async def asked(player: Player, key: str, path: Path) -> None:
    """Go to the file screen, and give a path."""
    await player.press("f8", key, "end", "ctrl+u")
    await player.paste(str(path))
    await player.press("enter")


async def test_what_changes_is_said_before_anything_is_taken(there: Stage, tmp_path: Path) -> None:
    file = sheet(tmp_path, "  head-flatness: {value: 4 thou, source: leaflet}")
    async with playing(there.at("manual")) as player:
        before = player.look
        await asked(player, "f2", file)
        words = player.words
        assert "head-flatness: 4 thou = 0.102 mm — leaflet" in words
        assert "now 0.005 in = 0.127 mm — engine maker's leaflet (invented), p. 3" in words
        assert "Enter again takes it. Esc leaves it." in words
        assert isinstance(player.app.screen, FileScreen)
        assert player.app.screen.desk.look is before
        await player.press("enter")
        assert "✓ Taken." in player.words
        await player.press("escape")
        assert "head-flatness 4 thou = 0.102 mm from leaflet" in player.words
        await player.press("escape")
        assert player.look.state.specs["head-flatness"].source == "leaflet"


async def test_another_path_is_said_first_too(there: Stage, tmp_path: Path) -> None:
    file = sheet(tmp_path, "  head-flatness: {value: 4 thou, source: leaflet}")
    async with playing(there.at("manual")) as player:
        await asked(player, "f2", file)
        await player.press("backspace", "l", "enter")
        assert "Enter again takes it" in player.words
        await player.press("escape", "escape")
        assert player.look.state.specs["head-flatness"].typed == "0.005 in"


async def test_each_mistake_stands_there_with_its_line_and_a_caret(
    there: Stage, tmp_path: Path
) -> None:
    file = sheet(
        tmp_path, "  head-flatness: {value: 4 thou}\n  [b]: {value: 1 in, source: x}\n  deck: 1"
    )
    async with playing(there.at("manual")) as player:
        before = player.look
        await asked(player, "f2", file)
        picture = player.picture
        assert "s.yaml:3:18: “source” is missing here" in picture
        assert "  head-flatness: {value: 4 thou}\n" in picture
        assert "                 ^" in picture
        assert "s.yaml:4:3:" in picture
        assert "Nothing is taken." in player.words
        await player.press("escape", "escape")
        assert player.look is before


async def test_a_file_that_is_not_there_is_said_in_words(there: Stage, tmp_path: Path) -> None:
    async with playing(there.at("manual")) as player:
        await asked(player, "f2", tmp_path / "none.yaml")
        assert "No such file or directory" in player.words
        await player.press("ctrl+u", "enter")
        assert "Type the path of a file." in player.words


async def test_a_full_disk_keeps_nothing_and_can_be_tried_again(
    there: Stage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = sheet(tmp_path, "  head-flatness: {value: 4 thou, source: leaflet}")
    async with playing(there.at("manual")) as player:
        await asked(player, "f2", file)

        def full(*_: object) -> None:
            raise JournalError("disk", "the disk is full")

        with monkeypatch.context() as patch:
            patch.setattr(Journal, "append", full)
            await player.press("enter")
        assert "✗ Not kept: the disk is full." in player.words
        await player.press("enter")
        assert "✓ Taken." in player.words


async def test_it_is_saved_to_a_new_file_and_never_over_one(there: Stage, tmp_path: Path) -> None:
    file = tmp_path / "mine.yaml"
    async with playing(there.at("manual")) as player:
        await asked(player, "f3", file)
        saved = file.read_text("utf-8")
        count = len(re.findall(r"^  [a-z][a-z0-9-]*:$", saved, re.MULTILINE))
        assert count > 40
        assert f"✓ Saved: {count} " in player.words
        assert "  head-stages:\n    value: 30, 60, 85 lbf·ft\n" in saved
        await player.press("enter")
        assert "is there already; give another name." in player.words
        await player.press("escape")
        await player.press("f2", "end", "ctrl+u")
        await player.paste(str(file))
        await player.press("enter")
        assert "The file changes nothing." in player.words


async def test_where_it_cannot_be_saved_is_said(there: Stage, tmp_path: Path) -> None:
    async with playing(there.at("manual")) as player:
        await asked(player, "f3", tmp_path / "none" / "s.yaml")
        assert "No such file or directory; give another path." in player.words


async def test_a_typed_path_goes_over_the_one_that_stands_there(
    there: Stage, tmp_path: Path
) -> None:
    file = tmp_path / "mine.yaml"
    async with playing(there.at("manual")) as player:
        await player.press("f8", "f3")
        await player.type(str(file))
        await player.press("enter")
        assert "✓ Saved" in player.words
    assert file.is_file()
