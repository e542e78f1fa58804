"""The database of a journal: its tables, its identity, its settings."""

import os
import sqlite3
from collections.abc import Sequence
from pathlib import Path

from snugset.journal.durable import make_file
from snugset.journal.errors import JournalError, damaged, foreign
from snugset.journal.first_look import APPLICATION_ID, PAGE, check_plain, look
from snugset.typed import Literal

FILE = "journal.sqlite"
ATTACHMENTS = "attachments"

USER_VERSION = 1

_LONGEST = 16 * 1024 * 1024
"""Bytes of one value: pinned files fit; a damaged length claims no memory."""

LARGEST = 32 * 1024 * 1024
"""Bytes of a journal; a build of as many records as there can be takes a third of it."""

_TABLES = (
    """CREATE TABLE events (
    sequence INTEGER PRIMARY KEY,
    answer INTEGER NOT NULL,
    at TEXT NOT NULL,
    person TEXT NOT NULL,
    kind TEXT NOT NULL,
    body TEXT NOT NULL,
    digest TEXT NOT NULL
) STRICT""",
    """CREATE TABLE head (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    name TEXT NOT NULL,
    procedure TEXT NOT NULL,
    engine TEXT NOT NULL,
    step TEXT NOT NULL,
    waiting_for TEXT NOT NULL,
    updated TEXT NOT NULL,
    sequence INTEGER NOT NULL,
    digest TEXT NOT NULL
) STRICT""",
    """CREATE TRIGGER events_follow_on BEFORE INSERT ON events
WHEN NEW.sequence IS NOT (SELECT coalesce(max(sequence), 0) + 1 FROM events)
BEGIN SELECT RAISE(ABORT, 'a record follows on the last one'); END""",
    """CREATE TRIGGER events_never_change BEFORE UPDATE ON events
BEGIN SELECT RAISE(ABORT, 'a record never changes'); END""",
    """CREATE TRIGGER events_never_go BEFORE DELETE ON events
BEGIN SELECT RAISE(ABORT, 'a record never goes'); END""",
)


def find(folder: Path) -> Path:
    """Find the journal's file in a build's folder; JournalError if one of them is not there."""
    if not folder.is_dir():
        raise JournalError("unknown-build", f"there is no build at {folder}; see: snugset list")
    return check_plain(folder, FILE)


def connect(file: Path, mode: Literal["ro", "rw"], *, patience: float) -> sqlite3.Connection:
    """Open an existing database, trusting nothing in it.

    `patience` is how long to wait for another program's lock, in seconds. Transactions are begun
    and ended by hand. JournalError "old-sqlite" if the library knows no STRICT tables.
    """
    if sqlite3.sqlite_version_info < (3, 37):
        raise JournalError(
            "old-sqlite", f"SQLite {sqlite3.sqlite_version} is too old; 3.37 or newer is needed"
        )
    connection = sqlite3.connect(
        f"{file.absolute().as_uri()}?mode={mode}", uri=True, isolation_level=None, timeout=patience
    )
    return _wary(connection)


def in_memory(content: bytes) -> sqlite3.Connection:
    """Open a database's bytes, one at least, as a copy in memory, trusting nothing in it."""
    connection = sqlite3.connect(":memory:", isolation_level=None)
    connection.deserialize(content)
    return _wary(connection)


def _wary(connection: sqlite3.Connection) -> sqlite3.Connection:
    connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, _LONGEST)
    connection.execute("PRAGMA trusted_schema = OFF")
    connection.execute("PRAGMA cell_size_check = ON")
    return connection


def opened(folder: Path, mode: Literal["ro", "rw"], *, patience: float) -> sqlite3.Connection:
    """Open the journal of a build, once `check` has passed.

    A reader is left in one read transaction, a writer ready for durable ones. Raises what SQLite
    raises, and JournalError. What a crash cut short is taken back by a writer, if the journal is
    whole after that.
    """
    file = find(folder)
    if look(file, folder.name) and mode == "rw":
        from snugset.journal.taken_back import check_taken_back  # noqa: PLC0415 - after a crash only

        check_taken_back(file, folder.name)
    connection = connect(file, mode, patience=patience)
    try:
        connection.execute("BEGIN")
        check(connection, folder.name)
        if mode == "rw":
            connection.execute("COMMIT")
            make_durable(connection)
    except BaseException:
        connection.close()
        raise
    return connection


def make_durable(connection: sqlite3.Connection) -> None:
    """Make commits return once their bytes are on the disk, the same bytes everywhere."""
    size = int(connection.execute("PRAGMA page_size").fetchone()[0])
    connection.execute(f"PRAGMA max_page_count = {LARGEST // size}")
    connection.execute("PRAGMA journal_mode = TRUNCATE")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("PRAGMA fullfsync = ON")
    connection.execute("PRAGMA secure_delete = ON")


def lay(file: Path, genesis: str) -> None:
    """Make a new journal without records; `genesis` is the digest before the first."""
    os.close(make_file(file))
    connection = connect(file, "rw", patience=0)
    try:
        connection.execute(f"PRAGMA page_size = {PAGE}")
        connection.execute("PRAGMA auto_vacuum = NONE")
        connection.execute("PRAGMA encoding = 'UTF-8'")
        make_durable(connection)
        connection.execute("BEGIN IMMEDIATE")
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute(f"PRAGMA user_version = {USER_VERSION}")
        for table in _TABLES:
            connection.execute(table)
        connection.execute("INSERT INTO head VALUES (1, '', '', '', '', '', '', 0, ?)", (genesis,))
        connection.execute("COMMIT")
    finally:
        connection.close()


def check(connection: sqlite3.Connection, build: str) -> None:
    """Prove that this is a journal of this version, before anything in it is believed.

    The tables must be ours to the letter: a foreign view or trigger is never run.
    """
    pages = _number(connection, "PRAGMA page_count")
    if pages == 0:
        raise damaged(build, f"{FILE} is empty")
    if pages * _number(connection, "PRAGMA page_size") > LARGEST:
        raise damaged(build, f"{FILE} is larger than a build can be")
    if _number(connection, "PRAGMA application_id") != APPLICATION_ID:
        raise foreign(build, FILE)
    version = _number(connection, "PRAGMA user_version")
    if version > USER_VERSION:
        raise JournalError(
            "newer",
            f"{build} was written by a newer Snugset (journal version {version}; "
            f"this one reads {USER_VERSION}); open it with the newer one",
        )
    tables = connection.execute("SELECT sql FROM sqlite_schema ORDER BY rowid").fetchmany(99)
    if version != USER_VERSION or not are_ours(tables):
        raise damaged(build, "its tables are not those of a journal")


def are_ours(tables: Sequence[Sequence[object]]) -> bool:
    """Whether the statements of a database's tables are a journal's, to the letter."""
    return [tuple(table) for table in tables] == [(table,) for table in _TABLES]


def _number(connection: sqlite3.Connection, pragma: str) -> int:
    return int(connection.execute(pragma).fetchone()[0])
