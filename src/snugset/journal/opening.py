"""Reading a build that another program may be writing, or may have left in the middle of it."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from snugset.journal import schema
from snugset.journal.errors import told
from snugset.journal.lock import Lock

_PATIENCE = 2.0
"""Seconds; a writer keeps readers out for one commit."""


@contextmanager
def reading(folder: Path) -> Iterator[sqlite3.Connection]:
    """Open a checked, read-only connection, in one read transaction, that changes no file.

    A transaction that a crash cut short is taken back first, under the build's lock:
    OpenElsewhere if another program has that. JournalError for all that is wrong with the file.
    """
    with told(folder.name):
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


def _recover(folder: Path) -> None:
    """Let the database take back the transaction that was cut short."""
    lock = Lock.take(folder, None)
    try:
        schema.opened(folder, "rw", patience=_PATIENCE).close()
    finally:
        lock.release()
