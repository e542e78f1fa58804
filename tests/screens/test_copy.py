"""When the disk fails, the build is copied to another one, and what is typed stays."""

import shutil
from pathlib import Path

import pytest

from snugset.journal.carry import restore
from snugset.journal.errors import JournalError
from snugset.journal.journal import Journal
from snugset.journal.reading import read_records
from snugset.journal.shelf import Shelf
from snugset.screens.bench import BenchScreen

from .stage import Stage, playing
from .test_people import JPEG


def full(*_: object) -> None:
    """Fail as a full disk does."""
    raise JournalError("disk", "the disk is full")


async def test_a_build_whose_disk_fails_is_copied_and_what_is_typed_stays(
    there: Stage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with playing(there.at("cover-flat")) as player:
        await player.say("note before")
        kept = player.look.records
        await player.type("note dry")
        with monkeypatch.context() as patch:
            patch.setattr(Journal, "_commit", full)
            await player.press("enter")
            assert "✗ Not kept: the disk is full." in player.words
            assert "^N copies the build" in player.words
        await player.press("ctrl+n")
        await player.paste(str(tmp_path / "stick.snugset"))
        await player.press("enter")
        assert "✓ It is in" in player.picture
        await player.press("enter")
        assert "✗ Not copied" in player.picture, "a file that is there is never overwritten"
        await player.press("escape")
        assert isinstance(player.app.screen, BenchScreen)
        assert player.typed == "note dry"
        await player.press("enter")
        assert player.look.state.notes[-1].text == "dry"
    shelf = Shelf(tmp_path / "elsewhere")
    assert read_records(shelf.path / restore(tmp_path / "stick.snugset", shelf)) == kept


async def test_the_home_of_nobody_is_told_as_a_folder_that_is_not_there(there: Stage) -> None:
    async with playing(there.at("cover-flat")) as player:
        await player.press("ctrl+n")
        await player.paste("~no-such-person/x")
        await player.press("enter")
        assert "✗ Not copied: there is no folder" in player.picture


async def test_a_copy_needs_nothing_of_a_disk_that_is_gone(there: Stage, tmp_path: Path) -> None:
    async with playing(there.at("manual")) as player:
        kept = player.look.records
        shutil.rmtree(there.shelf.path)
        await player.say(f"copy {tmp_path}/stick.snugset")
        await player.press("enter")
        assert "✓ It is in" in player.picture
        await player.press("escape")
        assert player.asked == "manual"
    shelf = Shelf(tmp_path / "elsewhere")
    assert read_records(shelf.path / restore(tmp_path / "stick.snugset", shelf)) == kept


async def test_a_copy_that_cannot_be_written_says_why(there: Stage, tmp_path: Path) -> None:
    async with playing(there.at("manual")) as player:
        await player.press("ctrl+n")
        await player.paste(f"{tmp_path}/nowhere/stick.snugset")
        await player.press("enter")
        assert "✗ Not copied: there is no folder " in player.words


async def test_a_copy_tells_of_a_spoiled_photograph_and_is_made(
    there: Stage, tmp_path: Path
) -> None:
    picture = tmp_path / "deck.jpg"
    picture.write_bytes(JPEG)
    async with playing(there.at("manual")) as player:
        await player.say(f"photo {picture}")
        kept = next((there.shelf.path / player.bench.desk.build / "attachments").iterdir())
        kept.write_bytes(JPEG[:-1])
        await player.press("ctrl+n")
        await player.paste(str(tmp_path / "stick.snugset"))
        await player.press("enter")
        shown = "".join(player.picture.split())  # the long name is broken over lines
        assert f"✗Notwhole:attachments/{kept.name}isnotthephotograph" in shown
        assert "✓ It is in" in player.picture
        await player.press("escape")
        kept.write_bytes(JPEG)
        await player.say(f"copy {tmp_path}/whole.snugset")
        await player.press("enter")
        assert "Not whole" not in player.picture


async def test_an_answer_that_was_kept_after_all_is_said_and_the_typed_text_proposed(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk failed after the bytes were down: what the file holds is gone on from."""
    async with playing(there.at("manual")) as player:
        commit = Journal._commit

        def late(journal: Journal, *given: object) -> None:
            commit(journal, *given)  # type: ignore[arg-type]
            raise JournalError("disk", "the disk reports a fault")

        await player.type("note first")
        with monkeypatch.context() as patch:
            patch.setattr(Journal, "_commit", late)
            await player.press("enter")
        assert player.typed == "note first"
        there.clock.advance(5)
        await player.press("enter")
        assert "The build holds more than was shown" in player.words
        assert [note.text for note in player.look.state.notes] == ["first"]
        assert player.typed == "note first"
        assert len(read_records(there.shelf.path / player.bench.desk.build)) == len(
            player.look.records
        )
