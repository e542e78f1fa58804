"""A transaction that a crash cut short is taken back by whoever comes next."""

import shutil
from pathlib import Path

import pytest

from snugset.journal.errors import JournalError, OpenElsewhere
from snugset.journal.head import Busy
from snugset.journal.journal import Journal
from snugset.journal.lock import Lock
from snugset.journal.reading import read_head, read_records, verify
from snugset.journal.shelf import Shelf

from .helpers import HEAD, build, owner, raw, record, records


@pytest.fixture
def crashed(tmp_path: Path) -> Path:
    """A build as it lies on the disk when the power goes in the middle of a commit."""
    folder = build(tmp_path / "live" / "barn")
    copy = tmp_path / "builds" / "barn"
    with raw(folder) as connection:
        connection.execute("PRAGMA journal_mode = TRUNCATE")
        connection.execute("PRAGMA cache_size = 1")
        connection.execute("BEGIN IMMEDIATE")
        for sequence in range(6, 60):
            values = (sequence, 6, "", "", "", "{}" * 500, "")
            connection.execute("INSERT INTO events VALUES (?, ?, ?, ?, ?, ?, ?)", values)
        connection.execute("UPDATE head SET name = 'half', sequence = 59")
        shutil.copytree(folder, copy)
        connection.execute("ROLLBACK")
    assert (copy / "journal.sqlite-journal").stat().st_size > 0
    half = (copy / "journal.sqlite").read_bytes()
    assert half != (folder / "journal.sqlite").read_bytes()
    return copy


def test_a_writer_takes_it_back(crashed: Path) -> None:
    with Journal.open(crashed, owner=owner()) as journal:
        assert journal.records() == tuple(records(1, 5))
        journal.append([record(6)], HEAD)
    assert read_records(crashed) == tuple(records(1, 6))


def test_a_reader_takes_it_back_under_the_lock(crashed: Path) -> None:
    head = read_head(crashed)
    assert not isinstance(head, Busy)
    assert (head.name, head.sequence) == ("Barn pump six", 5)
    assert read_records(crashed) == tuple(records(1, 5))
    with Journal.open(crashed, owner=owner()):
        pass


def test_verify_takes_it_back(crashed: Path) -> None:
    assert verify(crashed).whole


def test_a_reader_leaves_it_to_whoever_has_the_lock(crashed: Path) -> None:
    lock = Lock.take(crashed, owner("Bob"))
    before = (crashed / "journal.sqlite").read_bytes()
    assert read_head(crashed) == Busy(owner("Bob"))
    with pytest.raises(OpenElsewhere):
        read_records(crashed)
    with pytest.raises(OpenElsewhere):
        verify(crashed)
    [entry] = Shelf(crashed.parent.parent).builds()
    assert entry.head is None
    assert entry.wrong == f"barn is in use ({owner('Bob')}); try again in a moment"
    assert (crashed / "journal.sqlite").read_bytes() == before
    lock.release()
    assert read_records(crashed) == tuple(records(1, 5))


def test_a_reader_that_is_kept_out_for_long_is_told_that_it_is_busy(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("snugset.journal.opening._PATIENCE", 0.05)
    folder = build(tmp_path / "barn")
    with raw(folder) as connection:
        connection.execute("BEGIN EXCLUSIVE")
        assert read_head(folder) == Busy(None)
        with pytest.raises(JournalError) as caught:
            read_records(folder)
    assert caught.value.code == "busy"
    assert str(caught.value) == (
        "barn: another program is using the journal; try again in a moment"
    )
