"""A damaged build through every command: said in a sentence, left as it is, the others listed."""

import os
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from hashlib import sha256
from pathlib import Path

import pytest

from journal.helpers import forge
from screens.terminal import on_terminal
from snugset.journal.reading import read_records

from .shell import ENGINE, Shell

BUILD = "barn-pump-six-spring-rebuild"
JPEG = b"\xff\xd8\xff\xe0\x00\x10JFIF" + bytes(40)


def _truncated(file: Path) -> None:
    os.truncate(file, file.stat().st_size // 2)


def _flipped(file: Path) -> None:
    content = bytearray(file.read_bytes())
    at = content.index(b'"typed":"40+38') if b'"typed":"40+38' in content else len(content) // 2
    content[at + 10] ^= 1
    file.write_bytes(content)


def _foreign(file: Path) -> None:
    file.write_bytes(b"a letter to a friend\n" * 99)


def _newer(file: Path) -> None:
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("PRAGMA user_version = 99")


def _chain(file: Path) -> None:
    forge(file.parent, "UPDATE events SET person = 'Mallow' WHERE sequence = 40")


def _missing(file: Path) -> None:
    forge(file.parent, "DELETE FROM events WHERE sequence = 40")


def _empty(file: Path) -> None:
    file.write_bytes(b"")


HARMS: dict[str, tuple[Callable[[Path], None], str]] = {
    "truncated": (_truncated, "the journal is left as it is"),
    "flipped": (_flipped, "the journal is left as it is"),
    "foreign": (_foreign, "is not a journal"),
    "newer": (_newer, "was written by a newer Snugset"),
    "chain": (_chain, "record 40 is not what was written"),
    "missing": (_missing, "record 40 is missing"),
    "empty": (_empty, "journal.sqlite is empty"),
}
"""What is done to a journal, and what is then said of it."""


def _digests(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != "lock"
    }


@pytest.mark.parametrize("harm", HARMS)
def test_a_damaged_build_is_told_and_left_as_it_is(full: Shell, harm: str) -> None:
    builds = full.data / "builds"
    shutil.copytree(builds / BUILD, builds / "other")
    change, words = HARMS[harm]
    change(builds / BUILD / "journal.sqlite")
    photograph, newer = Path("deck.jpg"), Path("engine.yaml")
    photograph.write_bytes(JPEG)
    newer.write_text(f"{ENGINE.read_text('utf-8')}\n# newer\n", "utf-8")
    before, here = _digests(builds), sorted(Path().iterdir())
    for command in (
        ("resume", BUILD, "--plain"),
        ("sheet", BUILD, "--as", "md"),
        ("sheet", BUILD, "-o", "sheet.html"),
        ("order", BUILD),
        ("order", BUILD, "--to", "order.txt"),
        ("cards", BUILD),
        ("specs", BUILD, "--save", "specs.yaml"),
        ("backup", BUILD, "barn.snugset"),
        ("attach", BUILD, photograph),
        ("revise", BUILD, newer, "--reason", "newer"),
    ):
        ran = full(*command)
        assert (ran.code, ran.out) == (1, ""), command
        assert ran.err.count("\n") == 1, ran.err
        assert ran.err.startswith(f"snugset: {BUILD}"), ran.err
        assert words in ran.err, command
        assert _digests(builds) == before, command
        assert sorted(Path().iterdir()) == here, command
    proof = full("verify", BUILD)
    assert proof.code == 1
    assert words.removesuffix(" is left as it is") in proof.out or "is not whole" in proof.out
    listed = full.ok("list").out.splitlines()
    assert len(listed) == 2
    assert any(line.startswith("other ") and "cannot be read" not in line for line in listed)
    assert full.ok("sheet", "other", "--as", "md").out
    assert _digests(builds) == before


@pytest.mark.parametrize("harm", HARMS)
def test_what_is_proven_of_a_damaged_build_is_copied_out_or_nothing_is(
    full: Shell, harm: str
) -> None:
    builds = full.data / "builds"
    every = read_records(builds / BUILD)
    HARMS[harm][0](builds / BUILD / "journal.sqlite")
    before = _digests(builds)
    ran = full("verify", BUILD, "--out", "proven.snugset")
    assert ran.code == 1
    assert _digests(builds) == before
    if harm in ("foreign", "newer", "empty"):
        words = HARMS[harm][1] if harm == "newer" else "not even its first record can be read"
        assert words in ran.err
        assert not Path("proven.snugset").exists()
        return
    proven = int(ran.err.removeprefix("snugset: ").split()[0])
    assert f"its first {proven} records can be relied on" in ran.out
    if harm in ("chain", "missing"):
        assert proven == 39
    assert 0 < proven < len(every)
    full.ok("restore", "proven.snugset")
    assert read_records(builds / f"{BUILD}-2") == every[:proven]
    assert {k: v for k, v in _digests(builds).items() if k in before} == before


@pytest.mark.parametrize("harm", ["truncated", "newer", "chain"])
def test_the_screen_tells_of_a_damaged_build_and_opens_another(
    tmp_path: Path, played: Path, harm: str
) -> None:
    data = tmp_path / "data"
    shutil.copytree(played, data)
    shutil.copytree(data / "builds" / BUILD, data / "builds" / "other")
    change, words = HARMS[harm]
    change(data / "builds" / BUILD / "journal.sqlite")
    before = _digests(data / "builds" / BUILD)
    with on_terminal(tmp_path, "resume", BUILD) as terminal:
        assert terminal.ended() == 1
        assert terminal.is_whole()
        assert words in " ".join(terminal.raw.decode().split())
    with on_terminal(tmp_path, "resume", "other") as terminal:
        terminal.until("The build is finished.")
    assert _digests(data / "builds" / BUILD) == before
