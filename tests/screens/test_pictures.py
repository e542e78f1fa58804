"""Pictures of the screens, kept as text: they change only where somebody means them to.

``SNUGSET_PICTURES=write python -m pytest tests/screens/test_pictures.py`` draws them anew.
"""

import os
import re

import pytest

from draw_docs import BENCH, bench
from snugset.screens.app import SnugsetApp

from .shed import PICTURES, away, shed
from .stage import SIZES, Stage, playing

MOMENTS: dict[str, tuple[str, tuple[str, ...]]] = {
    "tick": ("battery", ("f2",)),
    "tighten": ("head-tighten@2.3", ()),
    "far": ("head-tighten@2.3", ("f12",)),
    "count": ("head-tighten@2.3", tuple("stage 5")),
    "crank": ("points.turn@P2#1", ()),
    "unknown": ("number-one", ()),
    "gap": ("gap@2E#1", tuple("20+10;20+10")),
    "order": ("lengths#1", ()),
    "return": ("head-tighten@2.3", ()),
    "form": ("battery", ("f8", "enter")),
    "calculators": ("gap@2E#1", ("ctrl+f", "down")),
    "figure": ("gap@2E#1", ("ctrl+f", *"prel", "enter", "down")),
    "history": ("gap@2E#1", ("f9", "f3")),
    "builds": ("gap@2E#1", ("escape",)),
}


@pytest.fixture(autouse=True)
def _still(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let nothing move by itself: the cursor does not blink."""
    monkeypatch.setattr("textual.widgets.Input.cursor_blink", False)


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("name", MOMENTS)
async def test_a_screen_looks_as_it_did(there: Stage, name: str, size: tuple[int, int]) -> None:
    address, keys = MOMENTS[name]
    told = shed(address)
    if name == "return":
        away(told, hours=9)
    async with playing(there.app(there.opening(there.put(told, "shed"))), size) as player:
        await player.press(*("space" if key == " " else key for key in keys))
        compare(f"{name}-{size[0]}x{size[1]}", player.picture)


def gap(there: Stage) -> SnugsetApp:
    """Give the application at a reading."""
    return there.app(there.opening(there.put(shed("gap@2E#1"), "shed")))


@pytest.mark.parametrize("name", MOMENTS)
async def test_without_colour_the_same_words_and_signs_stand_there(
    there: Stage, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """Nothing is said by colour alone; NO_COLOR counts when it is empty, too."""
    monkeypatch.setenv("NO_COLOR", "")
    address, keys = MOMENTS[name]
    told = shed(address)
    if name == "return":
        away(told, hours=9)
    app = there.app(there.opening(there.put(told, "shed")))
    assert app.no_color
    async with playing(app) as player:
        await player.press(*("space" if key == " " else key for key in keys))
        compare(f"{name}-80x24", player.picture)


@pytest.mark.parametrize("look", ["bench-light", "bench-contrast"])
async def test_every_look_shows_the_same(there: Stage, look: str) -> None:
    async with playing(gap(there)) as player:
        player.app.theme = look
        await player.press(*"20+10;20+10")
        compare("gap-80x24", player.picture)


async def test_the_picture_in_the_documents_is_drawn_from_the_program_as_it_is() -> None:
    """``python tests/draw_docs.py`` draws it anew."""
    kept = BENCH.read_text("utf-8")
    assert words(kept) == words(await bench())
    assert re.findall(r"https?://[^\"\s]+", kept) == ["http://www.w3.org/2000/svg"]
    for word in ("@font-face", "<image", "<script", "/home/", "/tmp/", "/root/"):  # noqa: S108
        assert word not in kept


def words(picture: str) -> list[str]:
    """Give the words of a drawn picture."""
    return re.findall(r">([^<>]*)</text>", picture)


def compare(name: str, shown: str) -> None:
    """Hold a picture against the one that is kept."""
    file = PICTURES / f"{name}.txt"
    if os.environ.get("SNUGSET_PICTURES") == "write":
        file.write_text(shown, "utf-8")
    assert file.exists(), f"no picture {name} is kept; draw it: SNUGSET_PICTURES=write"
    assert shown == file.read_text("utf-8"), f"{name} is now:\n{shown}"
