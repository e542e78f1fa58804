"""Killed at any moment, nothing that was acknowledged is lost."""

import subprocess
import sys
import time
from pathlib import Path

from snugset.journal.journal import Journal
from snugset.journal.reading import read_head, verify
from snugset.journal.shelf import Shelf

from . import writer
from .helpers import build, owner

WRITER = str(Path(writer.__file__))


def run_and_kill(folder: Path, verb: str, seconds: float, *, started: bool) -> int:
    """Let the writer run; the last number that it acknowledged before SIGKILL, 0 if none."""
    with subprocess.Popen(
        [sys.executable, WRITER, str(folder), verb], stdout=subprocess.PIPE
    ) as child:
        assert child.stdout is not None
        said = child.stdout.readline() if started else b""
        if started and verb == "write":
            said += child.stdout.readline()
        time.sleep(seconds)
        child.kill()
        said += child.stdout.read()
    whole = said[: said.rfind(b"\n") + 1].split()
    return int(whole[-1]) if whole else 0


def test_every_acknowledged_record_is_there_after_each_of_25_kills(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn", count=0)
    kept = 0
    for kill in range(25):
        kept = max(kept, run_and_kill(folder, "write", kill * 7 % 40 / 1000, started=kill % 5 != 0))
        if kill % 2:
            verdict = verify(folder)
            assert verdict.whole, verdict.problems
        with Journal.open(folder, owner=owner()) as journal:
            found = journal.records()
        assert len(found) >= kept
        assert all(
            record == writer.record(sequence, record.answer)
            for sequence, record in enumerate(found, start=1)
        )
        if found:
            last = found[-1].answer
            size = sum(record.answer == last for record in found)
            assert size == last % 3 + 1, "half an answer"
    assert kept >= 20


def test_a_build_that_is_seen_is_complete_however_its_maker_was_killed(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path)
    for kill in range(6):
        folder = shelf.path / f"barn{kill}"
        said = run_and_kill(folder, "create", kill * 3 / 1000, started=kill > 0)
        seen = [entry for entry in shelf.builds() if entry.id.startswith(folder.name)]
        assert len(seen) >= said
        for entry in seen:
            assert entry.wrong == ""
            assert verify(shelf.path / entry.id).whole
            assert read_head(shelf.path / entry.id) == entry.head
            assert entry.head is not None
            assert entry.head.sequence == 1
