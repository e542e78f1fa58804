"""Builds, records and damage for the tests of the journal."""

import os
import sqlite3
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

from snugset.guide.events import Record
from snugset.journal.head import Head
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner

HEAD = Head(
    name="Barn pump six",
    procedure="Inline six",
    engine="Pump engine",
    step="gap@1I#1",
    waiting_for="",
    updated="2026-11-02T18:04:00Z",
)


def owner(person: str = "Ann") -> Owner:
    return Owner.here(person=person, since="2026-11-02T18:00:00Z")


def record(sequence: int, *, typed: str = "17+18") -> Record:
    return Record(
        sequence=sequence,
        answer=sequence,
        at="2026-11-02T18:04:00Z",
        person="Ann",
        kind="read",
        body={"at": "gap@1I#1", "typed": typed, "value": {"unit": "thou", "value": "35"}},
    )


def records(first: int, last: int) -> list[Record]:
    return [record(sequence) for sequence in range(first, last + 1)]


def build(folder: Path, count: int = 5) -> Path:
    """A closed build with so many records, each kept by an append of its own."""
    with Journal.create(folder, owner=owner()) as journal:
        for sequence in range(1, count + 1):
            journal.append([record(sequence)], HEAD)
    return folder


@contextmanager
def raw(folder: Path) -> Iterator[sqlite3.Connection]:
    """The database behind the journal's back."""
    file = folder / "journal.sqlite"
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        yield connection


def forge(folder: Path, *statements: str) -> None:
    """Change what must never change, and put the triggers back as they were."""
    with raw(folder) as connection:
        triggers = connection.execute(
            "SELECT name, sql FROM sqlite_schema WHERE type = 'trigger' ORDER BY rowid"
        ).fetchall()
        for name, _ in triggers:
            connection.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            connection.execute(statement)
        for _, sql in triggers:
            connection.execute(sql)


def watch_syncs(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The inodes of the files and folders that are synced from now on, in order."""
    synced: list[int] = []
    really = os.fsync

    def fsync(handle: int) -> None:
        synced.append(os.fstat(handle).st_ino)
        really(handle)

    monkeypatch.setattr(sys, "platform", "linux")  # where every sync is a plain fsync
    monkeypatch.setattr(os, "fsync", fsync)
    return synced
