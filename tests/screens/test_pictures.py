"""Pictures of every screen, kept as text and style: they change only where somebody means them to.

A picture holds the words, and under them each piece that is set apart: by bold, italic, underline,
reverse, or a ground other than the screen's. Colours are not in it, so with them and without them
it must be the same: nothing is said by colour alone.

``SNUGSET_PICTURES=write python -m pytest tests/screens/test_pictures.py`` draws them anew.
"""

import os
import re
from importlib import import_module
from pkgutil import iter_modules

import pytest
from rich.color import Color
from rich.style import Style
from textual.command import CommandPalette

import snugset.screens
from draw_docs import BENCH, bench
from snugset.screens import looks
from snugset.screens.base import Base

from .contrasts import contrast
from .moments import MOMENTS, resized, shown
from .shed import PICTURES
from .stage import SIZES, Player, Stage

_RULE = "· " * 20
_APART = 3.0
"""A ground that stands out from the screen's by so much sets a text apart."""


@pytest.fixture(autouse=True)
def _still(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let nothing move by itself, and nothing tell where this runs."""
    monkeypatch.setattr("textual.widgets.Input.cursor_blink", False)
    monkeypatch.chdir("/")


def test_every_screen_has_its_picture() -> None:
    for module in iter_modules(snugset.screens.__path__, "snugset.screens."):
        import_module(module.name)
    found: set[str] = set()
    classes: list[type] = [Base, CommandPalette]
    while classes:
        one = classes.pop()
        classes += one.__subclasses__()
        if not one.__subclasses__():  # the others are never shown themselves
            found.add(one.__name__)
    assert {each.screen for each in MOMENTS.values()} == found


def test_no_picture_is_kept_of_what_is_no_longer_drawn() -> None:
    drawn = {f"{name}-{width}x{height}" for name in MOMENTS for width, height in SIZES}
    assert {file.stem for file in PICTURES.glob("*.txt")} <= drawn


@pytest.mark.parametrize("name", MOMENTS)
async def test_a_screen_looks_as_it_did(there: Stage, name: str) -> None:
    async with shown(there, MOMENTS[name]) as player:
        for size in SIZES:
            await resized(player, size)
            compare(f"{name}-{size[0]}x{size[1]}", drawn(player))


@pytest.mark.parametrize("name", MOMENTS)
async def test_without_colour_the_same_words_and_styles_stand_there(
    there: Stage, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """Nothing is said by colour alone; NO_COLOR counts when it is empty, too."""
    monkeypatch.setenv("NO_COLOR", "")
    async with shown(there, MOMENTS[name]) as player:
        assert player.app.no_color
        for size in SIZES:
            await resized(player, size)
            compare(f"{name}-{size[0]}x{size[1]}", drawn(player))


@pytest.mark.parametrize("look", [looks.LIGHT.name, looks.CONTRAST.name])
async def test_every_look_shows_the_same(there: Stage, look: str) -> None:
    async with shown(there, MOMENTS["gap"], look) as player:
        compare("gap-80x24", drawn(player))


def apart(style: Style | None, ground: Color) -> str:
    """Name what sets a piece apart from plain text, without its colours."""
    if style is None:
        return ""
    words = [w for w in ("bold", "italic", "underline", "reverse", "dim") if getattr(style, w)]
    if style.bgcolor is not None and contrast(style.bgcolor, ground) > _APART:
        words.append("filled")
    return " ".join(words)


def drawn(player: Player) -> str:
    """Give the words of a screen, and under them a line for each piece that is set apart."""
    ground = player.app.screen.styles.background.rich_color
    pieces = []
    for row, strip in enumerate(player.app.screen._compositor.render_strips(), start=1):
        column = 1
        for segment in strip.simplify():
            how = apart(segment.style, ground)
            said = segment.text.strip()
            if how and (said or how.endswith(("filled", "reverse"))):
                pieces.append(f"{row:>2}:{column:<3} {how}: {said or '(blank)'}")
            column += segment.cell_length
    return "\n".join([*player.picture.splitlines(), _RULE.strip(), *pieces]) + "\n"


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
