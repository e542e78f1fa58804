"""The program on a terminal, on a disk that is full or fails: said, kept, tried again, copied."""

import errno
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest

from journal import faulty_disk
from snugset.journal.carry import restore
from snugset.journal.reading import read_records, verify
from snugset.journal.shelf import Shelf

from .terminal import MAIN, PATIENCE, Terminal, on_terminal

NEW = ("new", "inline-six-bridged-hydraulic", "--engine", "barn-pump-six", "--name", "north")
FIRST = "How far out of flat may the head"
CTRL_N, CTRL_Q, ESCAPE = "\x0e", "\x11", "\x1b"
ARMED = """
import ctypes, os, threading, time
def watch():
    library, armed = ctypes.CDLL(None), ""
    while True:
        time.sleep(0.02)
        try:
            words = open(os.environ["ARM"]).read()
        except OSError:
            words = ""
        if words.endswith("."):
            if words != armed:
                library.faulty_arm(os.environ["FAILS"].encode(), *map(int, words[:-1].split()))
                armed = words
                open(os.environ["ARM"] + ".done", "w").write(words)
threading.Thread(target=watch, daemon=True).start()
"""
"""Arms the disk as a file says that the test writes."""


class Small:
    """A file system of its own, a few MiB large."""

    def __init__(self, place: Path) -> None:
        self.place = place
        self._filler = place / "filler"

    def fill(self) -> None:
        """Leave no room for anything."""
        with self._filler.open("wb", buffering=0) as out:
            for size in (65536, 4096, 1):
                with suppress(OSError):
                    while True:
                        out.write(b"x" * size)
        assert os.statvfs(self.place).f_bavail == 0

    def make_room(self) -> None:
        """Take the filler away."""
        self._filler.unlink()


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Small]:
    """Mount a file system in memory; skipped only where that is refused."""
    place = tmp_path / "disk"
    place.mkdir()
    words = ["mount", "-t", "tmpfs", "-o", "size=4m,mode=0700", "tmpfs", str(place)]
    try:
        done = subprocess.run(words, capture_output=True, text=True, check=False)
    except FileNotFoundError:
        pytest.skip("there is no mount here; faults are tried on the failing layer alone")
    if done.returncode:
        pytest.skip(f"no file system may be mounted here: {done.stderr.strip()}")
    try:
        yield Small(place)
    finally:
        subprocess.run(["umount", "--lazy", str(place)], check=True)


def _note(terminal: Terminal, words: str) -> None:
    terminal.type(f"note {words}")
    terminal.until(f"note {words}")
    terminal.type("\r")


def _noted(terminal: Terminal, folder: Path, *words: str) -> None:
    """Wait until notes are on disk and the field is empty, or what the disk has kept is told."""
    end = time.monotonic() + PATIENCE
    while _texts(folder) != list(words) or (
        f"note {words[-1]}" in terminal.shown and "The build holds more" not in terminal.shown
    ):
        assert time.monotonic() < end, terminal.shown
        terminal.read()


def _said(terminal: Terminal, words: str) -> None:
    """Wait until words stand on the left half, on however many lines."""
    end = time.monotonic() + PATIENCE
    while words not in " ".join(
        " ".join(t.partition("│")[0] for t in terminal.screen.display).split()
    ):
        assert time.monotonic() < end, f"no {words!r} on:\n{terminal.shown}"
        terminal.read()


def _texts(folder: Path) -> list[str]:
    return [r.body["text"] for r in read_records(folder) if r.kind == "note"]


def _copied(terminal: Terminal, target: Path) -> None:
    terminal.type(CTRL_N)
    terminal.until("The file to write")
    terminal.type(f"{target}\r")
    terminal.until("It is in")
    terminal.type(ESCAPE)
    terminal.until(FIRST)
    _key_up(terminal)


def _key_up(terminal: Terminal) -> None:
    """Wait for a second: an Enter close upon the last one counts as held down."""
    until = time.monotonic() + 1
    while time.monotonic() < until:
        terminal.read()


def test_on_a_full_disk_the_typed_text_stays_and_the_build_is_copied_or_gone_on_from(
    disk: Small, tmp_path: Path
) -> None:
    data = disk.place / "data"
    with on_terminal(tmp_path, *NEW, SNUGSET_DATA=str(data)) as terminal:
        terminal.until(FIRST)
        _note(terminal, "before")
        folder = data / "builds" / "north"
        _noted(terminal, folder, "before")
        kept = read_records(folder)
        disk.fill()
        _note(terminal, "on a full disk")
        _said(terminal, "Not kept: north: the disk is full; free some space and try again")
        assert "note on a full disk" in terminal.shown
        assert read_records(folder) == kept
        _copied(terminal, tmp_path / "stick.snugset")
        assert "note on a full disk" in terminal.shown
        terminal.type("\r")
        _key_up(terminal)
        _said(terminal, "Not kept: north: the disk is full")
        disk.make_room()
        terminal.type("\r")
        _noted(terminal, folder, "before", "on a full disk")
        terminal.type(CTRL_Q)
        assert terminal.ended() == 0
        assert terminal.is_whole()
    assert _texts(folder) == ["before", "on a full disk"]
    assert verify(folder).whole
    shelf = Shelf(tmp_path / "elsewhere")
    assert read_records(shelf.path / restore(tmp_path / "stick.snugset", shelf)) == kept


def _run(data: Path, *words: object) -> tuple[int, str]:
    done = subprocess.run(
        [sys.executable, "-c", MAIN, "--data", str(data), *map(str, words)],
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
        env={**os.environ, "SNUGSET_PERSON": "Wren"},
    )
    assert "Traceback" not in done.stderr
    return done.returncode, done.stderr


def test_commands_on_a_full_disk_leave_nothing_half(disk: Small, tmp_path: Path) -> None:
    data = disk.place / "data"
    photograph = tmp_path / "deck.jpg"
    photograph.write_bytes(b"\xff\xd8\xff" + b"x" * 100_000)
    plain = (*NEW[:-1], "south", "--plain")
    subprocess.run(
        [sys.executable, "-c", MAIN, "--data", str(data), *NEW, "--plain"],
        input="",
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
        env={**os.environ, "SNUGSET_PERSON": "Wren"},
    )
    folder = data / "builds" / "north"
    kept = read_records(folder)
    assert _run(data, "backup", "north", tmp_path / "north.snugset")[0] == 0
    disk.fill()
    before = sorted(disk.place.rglob("*"))
    for words in (
        plain,
        ("attach", "north", photograph),
        ("backup", "north", disk.place / "north.snugset"),
        ("restore", tmp_path / "north.snugset"),
        ("order", "north", "--to", disk.place / "order.txt"),
        ("sheet", "north", "-o", disk.place / "north.html"),
    ):
        code, said = _run(data, *words)
        assert code == 1, (words, said)
        assert said.count("\n") == 1, (words, said)
        assert "full" in said or "No space left" in said, (words, said)
        assert read_records(folder) == kept
        assert sorted(disk.place.rglob("*")) == before, words
    disk.make_room()
    assert _run(data, "attach", "north", photograph)[0] == 0
    assert verify(folder).whole


@pytest.mark.parametrize(
    ("fault", "words"),
    [
        (f"{faulty_disk.WRITE} 1 {errno.ENOSPC} 1 1", "the disk is full"),
        (f"{faulty_disk.WRITE | faulty_disk.CUT} 1 {errno.EIO} 0 1", "reports a fault"),
        (f"{faulty_disk.SYNC} 1 {errno.EIO} 0 1", "reports a fault"),
        (f"{faulty_disk.WRITE | faulty_disk.OPEN} 1 {errno.EROFS} 0 1", "may not be written"),
    ],
    ids=["full, short write", "write error", "sync error", "read-only"],
)
def test_a_disk_that_fails_is_said_and_what_was_typed_is_kept_once_it_works(
    tmp_path: Path, fault: str, words: str
) -> None:
    library = faulty_disk.library(tmp_path)
    if library is None:
        pytest.skip("there is no C compiler here, or no Linux, to make calls fail")
    arm, data = tmp_path / "arm", tmp_path / "data"
    folder = data / "builds" / "north"
    with on_terminal(
        tmp_path,
        *NEW,
        code=f"{ARMED}\n{MAIN}",
        LD_PRELOAD=str(library),
        ARM=str(arm),
        FAILS=str(data),
    ) as terminal:

        def armed(with_what: str) -> None:
            arm.write_text(f"{with_what}.")
            while not (done := tmp_path / "arm.done").exists() or done.read_text() != (
                f"{with_what}."
            ):
                terminal.read(0.02)

        terminal.until(FIRST)
        _note(terminal, "before")
        _noted(terminal, folder, "before")
        kept = read_records(folder)
        armed(fault)
        _note(terminal, "again")
        _said(terminal, "Not kept: north: ")
        _said(terminal, words)
        assert "note again" in terminal.shown
        _copied(terminal, tmp_path / "stick.snugset")
        armed("0 0 0 0 0")
        terminal.type("\r")
        _noted(terminal, folder, "before", "again")
        terminal.type(CTRL_Q)
        assert terminal.ended() == 0
        assert terminal.is_whole()
    assert _texts(folder) == ["before", "again"]
    assert verify(folder).whole
    shelf = Shelf(tmp_path / "elsewhere")
    assert read_records(shelf.path / restore(tmp_path / "stick.snugset", shelf)) == kept
