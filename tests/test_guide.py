"""The user's guide says what is there: its pictures, keys, commands and places."""

import re
from pathlib import Path

import pytest

from draw_docs import FOLDER, MOMENTS, moment
from driving import ROOT
from snugset.commands import NAMES, load
from snugset.screens.commands import COMMANDS
from snugset.shipped import procedures

GUIDE = ROOT / "docs" / "guide.md"
TEXT = GUIDE.read_text("utf-8")
_KEY = re.compile(r"`(F\d+|\^[A-Z]|Esc|Enter|PgDn|PgUp|[A-Z↓↑])`")


def test_each_picture_named_is_there_and_each_that_is_there_is_named() -> None:
    named = re.findall(r"!\[([^\]]+)\]\(([^)]+)\)", TEXT)
    assert all(words.strip() for words, _ in named)
    files = {(GUIDE.parent / path).resolve() for _, path in named}
    assert all(file.is_file() for file in files)
    assert set(FOLDER.glob("*")) <= files
    assert {file.stem for file in FOLDER.glob("*")} == set(MOMENTS)


def test_each_key_named_is_declared_and_each_declared_is_named() -> None:
    named = set(_KEY.findall(TEXT))
    assert named == {command.shown for command in COMMANDS}


def test_the_table_of_keys_is_the_declaration() -> None:
    rows = [line for line in TEXT.splitlines() if line.startswith("| `")]
    assert len(rows) == len(COMMANDS)
    for row, command in zip(rows, COMMANDS, strict=True):
        assert row.startswith(f"| `{command.shown}` | ")
        assert row.endswith(f" | {command.help} |")


def test_each_command_named_is_one_and_takes_the_options_shown() -> None:
    lines = re.findall(r"^    snugset (.+)$|`snugset ([^`]+)`", TEXT, re.MULTILINE)
    assert len(lines) > 10
    for line in (one or other for one, other in lines):
        word, *rest = line.split()
        assert word in NAMES, line
        known = {argument.name for argument in load(word).arguments}
        assert {part for part in rest if part.startswith("--")} <= known, line
        if word == "new":
            assert rest[0] in procedures()


def test_each_place_that_is_pointed_to_is_there() -> None:
    for path, anchor in re.findall(r"\]\(([^)#]*)#([a-z-]+)\)", TEXT):
        text = (GUIDE.parent / path).read_text("utf-8") if path else TEXT
        heads = re.findall(r"^#+ (.+)$", text, re.MULTILINE)
        anchors = {re.sub(r"[^a-z0-9 -]", "", head.lower()).replace(" ", "-") for head in heads}
        assert anchor in anchors, (path, anchor)


@pytest.mark.parametrize("name", MOMENTS)
async def test_a_picture_is_drawn_from_the_program_as_it_is(name: str) -> None:
    """``python tests/draw_docs.py`` draws them all anew."""
    kept = (FOLDER / f"{name}.svg").read_text("utf-8")
    assert kept == await moment(name), f"{name} has changed: python tests/draw_docs.py"
    assert re.findall(r"https?://[^\"\s]+", kept) == ["http://www.w3.org/2000/svg"]
    for word in ("@font-face", "<image", "<script", str(Path.home()), str(ROOT)):
        assert word not in kept
