"""Reading a build that another program may be writing, or may have left in the middle of it."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from snugset.journal import schema
from snugset.journal.errors import UNREADABLE, JournalError, faulty, told
from snugset.journal.first_look import HEAD, check_head
from snugset.journal.lock import Lock

_PATIENCE = 2.0
"""Seconds; a writer keeps readers out for one commit."""


@contextmanager
def reading(folder: Path) -> Iterator[sqlite3.Connection]:
    """Open a checked, read-only connection, in one read transaction, that changes no file.

    A transaction that a crash cut short is taken back first, under the build's lock:
    OpenElsewhere if another program has that. JournalError for all that is wrong with the file.
    """
    with disk_or_damage(folder), told(folder.name):
        try:
            connection = schema.opened(folder, "ro", patience=_PATIENCE)
        except sqlite3.OperationalError as fault:
            if getattr(fault, "sqlite_errorcode", 0) != sqlite3.SQLITE_READONLY_ROLLBACK:
                raise
            _recover(folder)
            connection = schema.opened(folder, "ro", patience=_PATIENCE)
        try:
            yield connection
        finally:
            connection.close()


@contextmanager
def disk_or_damage(folder: Path) -> Iterator[None]:
    """Let a complaint about damage stand only if the file's bytes show it; else blame the disk.

    The database calls a page damaged that the disk would not give it.
    """
    try:
        yield
    except JournalError as error:
        if error.code in ("damaged", "foreign"):
            blame_disk(folder, error)
        raise


def blame_disk(folder: Path, cause: Exception | None = None) -> None:
    """Raise JournalError "disk" if the journal cannot be read as a file, or is whole as one."""
    from snugset.journal.attachments import open_plain  # noqa: PLC0415 - for damage only

    try:
        if not (folder / schema.FILE).is_file() or (folder / schema.FILE).is_symlink():
            return
        with open_plain(folder / schema.FILE) as source:
            content = source.read(schema.LARGEST + 1)
    except FileNotFoundError:
        return
    except OSError as fault:
        raise faulty(folder.name, fault.strerror or type(fault).__name__) from fault
    if content and _is_whole(content):
        raise faulty(folder.name, "reading it failed and then did not") from cause


def _is_whole(content: bytes) -> bool:
    from snugset.journal.contents import whole_records  # noqa: PLC0415 - it reads through here

    try:
        check_head(content[:HEAD], schema.FILE, "")
    except JournalError:
        return False
    connection = schema.in_memory(content)
    try:
        schema.check(connection, "")
        whole_records(connection, "")
        return connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    except (JournalError, *UNREADABLE):
        return False
    finally:
        connection.close()


def _recover(folder: Path) -> None:
    """Let the database take back the transaction that was cut short."""
    lock = Lock.take(folder, None)
    try:
        schema.opened(folder, "rw", patience=_PATIENCE).close()
    finally:
        lock.release()
