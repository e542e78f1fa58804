"""One key writes the build sheet and says where it is."""

import pytest

from .stage import Player, Stage, playing


async def written(player: Player, there: Stage, *keys: str) -> None:
    """Press the keys, then the one for the sheet, and see that it is there and that it is said."""
    page = there.shelf.path / "barn-pump-six" / "build-sheet.html"
    await player.press(*keys, "ctrl+s")
    assert page.read_text("utf-8").startswith("<!DOCTYPE html>")
    flat = "".join(player.words.split())
    assert "The build sheet is in".replace(" ", "") in flat
    assert "build-sheet.html" in flat


@pytest.mark.parametrize("keys", [(), ("f9",), ("escape",)], ids=["bench", "history", "builds"])
async def test_one_key_writes_the_sheet(there: Stage, keys: tuple[str, ...]) -> None:
    async with playing(there.at("gap@4I#1"), (100, 30)) as player:
        await written(player, there, *keys)


@pytest.mark.parametrize("keys", [(), ("f9",), ("escape",)], ids=["bench", "history", "builds"])
async def test_what_keeps_it_from_being_written_is_said(
    there: Stage, keys: tuple[str, ...]
) -> None:
    async with playing(there.at("gap@4I#1"), (100, 30)) as player:
        (there.shelf.path / "barn-pump-six" / "build-sheet.html").mkdir()
        await player.press(*keys, "ctrl+s")
        flat = "".join(player.words.split())
        assert "No build sheet".replace(" ", "") in flat


async def test_what_is_typed_stays_while_the_sheet_is_written(there: Stage) -> None:
    async with playing(there.at("gap@4I#1"), (100, 30)) as player:
        await player.type("40+3")
        await written(player, there)
        assert player.typed == "40+3"


async def test_without_a_build_the_key_does_nothing(there: Stage) -> None:
    async with playing(there.app()) as player:
        await player.press("ctrl+s")
        assert "No builds yet." in player.picture
