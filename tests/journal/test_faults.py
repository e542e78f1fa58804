"""The disk fails: what was saved stays, the same append may be tried again."""

import os
import resource
import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, cast

import pytest

from snugset.journal.errors import JournalError
from snugset.journal.journal import Journal
from snugset.journal.reading import read_head, read_records, verify
from snugset.values import replace

from .helpers import HEAD, build, owner, raw, record, records, watch_syncs

NOBODY = 65534
LONG = "17+18 " * 4000


@pytest.fixture
def folder() -> Iterator[Path]:
    """A folder whose permissions count: root, for whom none do, works as nobody meanwhile."""
    place = Path(tempfile.mkdtemp())
    root = os.geteuid() == 0
    if root:
        os.chown(place, NOBODY, NOBODY)
        os.seteuid(NOBODY)
    try:
        yield place
    finally:
        if root:
            os.seteuid(0)
        shutil.rmtree(place)


@contextmanager
def full_disk(size: int) -> Iterator[None]:
    """No file may grow past so many bytes: a write beyond fails, in part or as a whole."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def test_every_commit_waits_for_the_disk(tmp_path: Path) -> None:
    with Journal.open(build(tmp_path / "barn"), owner=owner()) as journal:
        connection = journal._connected()
        for setting, value in (("journal_mode", "truncate"), ("synchronous", 2), ("fullfsync", 1)):
            assert connection.execute(f"PRAGMA {setting}").fetchone() == (value,)


def test_the_names_of_a_new_build_are_on_the_disk(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    synced = watch_syncs(monkeypatch)
    builds = tmp_path / "data" / "builds"
    Journal.create(builds / "barn", owner=owner()).close()
    for folder in (tmp_path, builds.parent, builds / "barn", builds):
        assert folder.stat().st_ino in synced, folder
    assert synced[-1] == builds.stat().st_ino, "after the build is in its place"


def test_a_full_database_is_said_and_the_same_append_tried_again(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    with Journal.open(folder, owner=owner()) as journal:
        before = journal.digest
        journal._connected().execute("PRAGMA max_page_count = 1")
        with pytest.raises(JournalError) as caught:
            journal.append([record(6), record(7, typed=LONG)], replace(HEAD, step="next"))
        assert caught.value.code == "disk"
        assert str(caught.value) == "barn: the disk is full; free some space and try again"
        assert (journal.digest, journal.records()) == (before, tuple(records(1, 5)))
        assert read_records(folder) == tuple(records(1, 5))
        assert read_head(folder) == replace(HEAD, sequence=5, digest=before)
        journal.append([record(6)], HEAD)
    assert read_records(folder) == tuple(records(1, 6))


@pytest.mark.parametrize("room", [0, 100, 4096, 5000, 20_000])
def test_a_full_disk_at_any_point_leaves_the_journal_whole(tmp_path: Path, room: int) -> None:
    folder = build(tmp_path / "barn")
    size = (folder / "journal.sqlite").stat().st_size
    with Journal.open(folder, owner=owner()) as journal:
        for _ in range(3):
            with full_disk(size + room), pytest.raises(JournalError) as caught:
                journal.append([record(6, typed=LONG)], HEAD)
            assert caught.value.code == "disk"
            assert read_records(folder) == tuple(records(1, 5))
        journal.append([record(6, typed=LONG)], HEAD)
    assert read_records(folder) == (*records(1, 5), record(6, typed=LONG))
    assert verify(folder).whole


def test_a_build_cannot_begin_on_a_full_disk_and_nothing_is_left(tmp_path: Path) -> None:
    with full_disk(5000), pytest.raises(JournalError) as caught:
        Journal.create(tmp_path / "builds" / "barn", owner=owner())
    assert caught.value.code == "disk"
    assert str(caught.value).startswith("barn: the disk ")
    assert list((tmp_path / "builds").iterdir()) == []


def test_a_full_disk_does_not_keep_a_build_closed(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    with full_disk(0), Journal.open(folder, owner=owner()) as journal:
        assert journal.records() == tuple(records(1, 5))
        with pytest.raises(JournalError, match="open elsewhere, by another program"):
            Journal.open(folder, owner=owner())


class LastSyncFails:
    """A connection whose commit is done and then reports that the last sync failed."""

    def __init__(self, real: sqlite3.Connection) -> None:
        self.real = real

    def execute(self, sql: str, values: tuple[Any, ...] = ()) -> sqlite3.Cursor:
        cursor = self.real.execute(sql, values)
        if sql == "COMMIT":
            fault = sqlite3.OperationalError("disk I/O error")
            fault.sqlite_errorcode = sqlite3.SQLITE_IOERR_FSYNC
            fault.sqlite_errorname = "SQLITE_IOERR_FSYNC"
            raise fault
        return cursor

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401 - stands for all the rest
        return getattr(self.real, name)


def test_a_commit_whose_last_sync_fails_is_synced_again(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    with Journal.open(folder, owner=owner()) as journal:
        broken: Any = LastSyncFails(journal._connected())
        journal._connection = broken
        journal.append([record(6)], HEAD)
        journal.append([record(7)], HEAD)
        assert journal.records() == tuple(records(1, 7))
    assert read_records(folder) == tuple(records(1, 7))


def test_a_commit_whose_last_sync_fails_for_good_is_told_by_opening_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = build(tmp_path / "barn")
    with Journal.open(folder, owner=owner()) as journal:
        really = journal._connected
        broken: Any = LastSyncFails
        monkeypatch.setattr(journal, "_connected", lambda: broken(really()))
        with pytest.raises(JournalError) as caught:
            journal.append([record(6)], HEAD)
        assert caught.value.code == "disk"
        assert str(caught.value) == (
            "barn: the disk reports a fault (SQLITE_IOERR_FSYNC); try again, "
            "or back the build up elsewhere"
        )
        monkeypatch.undo()
        with pytest.raises(JournalError) as caught:
            journal.append([record(6, typed="18+18")], HEAD)
        assert caught.value.code == "behind"
        assert journal.records() == tuple(records(1, 5))
        journal.append([record(6)], HEAD)
        assert journal.records() == tuple(records(1, 6)), "the very same records are made sure of"
    assert read_records(folder) == tuple(records(1, 6))


def test_another_program_that_wrote_behind_its_back_is_noticed(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    with Journal.open(folder, owner=owner()) as journal:
        (folder / "lock").unlink()
        with Journal.open(folder, owner=owner("Bob")) as other:
            other.append([record(6, typed="31")], HEAD)
        with pytest.raises(JournalError) as caught:
            journal.append([record(6)], HEAD)
    assert caught.value.code == "behind"
    assert str(caught.value) == (
        "barn: the journal holds records that were not seen here; open the build again"
    )
    assert read_records(folder)[5:] == (record(6, typed="31"),)


class Unwritable:
    """A connection that cannot write the file anew."""

    def __init__(self, real: sqlite3.Connection) -> None:
        self.real = real

    def execute(self, sql: str, values: tuple[Any, ...] = ()) -> sqlite3.Cursor:
        if sql == "VACUUM":
            raise sqlite3.OperationalError("disk I/O error")
        return self.real.execute(sql, values)

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401 - stands for all the rest
        return getattr(self.real, name)


def test_what_another_wrote_is_taken_only_once_it_is_surely_on_the_disk(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = build(tmp_path / "barn")
    with Journal.open(folder, owner=owner()) as journal:
        (folder / "lock").unlink()
        with Journal.open(folder, owner=owner("Bob")) as other:
            other.append([record(6)], HEAD)
        really, broken = journal._connected, cast("Any", Unwritable)
        monkeypatch.setattr(journal, "_connected", lambda: broken(really()))
        with pytest.raises(JournalError):
            journal.catch_up()
        assert journal.records() == tuple(records(1, 5))
        monkeypatch.undo()
        journal.catch_up()
        assert journal.records() == tuple(records(1, 6))


def test_what_was_kept_and_is_no_longer_there_is_no_catching_up(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    others = (
        build(tmp_path / "older" / "barn", count=3),
        build(tmp_path / "new" / "barn", count=0),
    )
    with Journal.open(others[1], owner=owner()) as other:
        other.append([record(n, typed="31") for n in range(1, 7)], HEAD)
    with Journal.open(folder, owner=owner()) as journal:
        before = journal.digest
        for other_folder in others:
            journal._disconnect()
            shutil.copy(other_folder / "journal.sqlite", folder / "journal.sqlite")
            with pytest.raises(JournalError) as caught:
                journal.catch_up()
            assert caught.value.code == "damaged"
            assert "records that were kept are no longer in it" in str(caught.value)
            assert (journal.records(), journal.digest) == (tuple(records(1, 5)), before)


def test_another_program_that_reads_for_long_makes_it_busy_for_a_moment(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("snugset.journal.journal._PATIENCE", 0.05)
    folder = build(tmp_path / "barn")
    with Journal.open(folder, owner=owner()) as journal:
        with raw(folder) as reader:
            reader.execute("BEGIN")
            reader.execute("SELECT * FROM events").fetchone()
            with pytest.raises(JournalError) as caught:
                journal.append([record(6)], HEAD)
        assert caught.value.code == "busy"
        assert journal.records() == tuple(records(1, 5))
        journal.append([record(6)], HEAD)
    assert read_records(folder) == tuple(records(1, 6))


def test_a_folder_that_may_not_be_written_can_be_read_but_not_opened(folder: Path) -> None:
    barn = build(folder / "barn")
    (barn / "journal.sqlite").chmod(0o400)
    (barn / "lock").chmod(0o400)
    barn.chmod(0o500)
    try:
        assert read_records(barn) == tuple(records(1, 5))
        with pytest.raises(JournalError) as caught:
            Journal.open(barn, owner=owner())
    finally:
        barn.chmod(0o700)
    assert caught.value.code == "disk"
    assert str(caught.value) == (
        "barn: the folder may not be written; make it writable and try again"
    )


def test_a_folder_that_becomes_read_only_under_way(folder: Path) -> None:
    barn = build(folder / "barn", count=1)
    (barn / "journal.sqlite-journal").unlink()
    with Journal.open(barn, owner=owner()) as journal:
        barn.chmod(0o500)
        with pytest.raises(JournalError) as caught:
            journal.append([record(2)], HEAD)
        assert caught.value.code == "disk"
        barn.chmod(0o700)
        journal.append([record(2)], HEAD)
    assert read_records(barn) == tuple(records(1, 2))


def test_a_shelf_that_may_not_be_written(folder: Path) -> None:
    folder.chmod(0o500)
    with pytest.raises(JournalError) as caught:
        Journal.create(folder / "builds" / "barn", owner=owner())
    folder.chmod(0o700)
    assert caught.value.code == "disk"
