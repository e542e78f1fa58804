"""What the list of builds shows of one build, and how it is read without the rest."""

import sqlite3
from collections.abc import Sequence
from pathlib import Path

from snugset.journal.errors import JournalError, OpenElsewhere, damaged
from snugset.journal.opening import reading
from snugset.journal.owner import Owner
from snugset.typed import Any, Self
from snugset.values import dataclass, names

_LONGEST = 100_000
"""Bytes of the row; what is longer was not written here, and is not shown in a list."""
_TYPES = (str, str, str, str, str, str, int, str)


@dataclass(frozen=True, slots=True)
class Head:
    """Where a build stands: a cache, written in the transaction of the records it tells of."""

    name: str = ""
    """What the builder calls the build."""
    procedure: str = ""
    engine: str = ""
    step: str = ""
    """The step that is asked for now."""
    waiting_for: str = ""
    """What a hold waits for; empty when nothing does."""
    updated: str = ""
    """When the last record was written, RFC 3339 in UTC."""
    sequence: int = 0
    """The last record's; the journal fills it in."""
    digest: str = ""
    """The chain's, at that record; the journal fills it in."""

    def to_row(self) -> tuple[str | int, ...]:
        """Give the values in the order of the table's columns."""
        return tuple(getattr(self, name) for name in names(self))

    @classmethod
    def from_row(cls, row: Sequence[Any]) -> Self:
        """Read a stored row; ValueError if the values are of other types."""
        if tuple(map(type, row)) != _TYPES:
            raise ValueError("the head is unreadable")
        return cls(*row)


@dataclass(frozen=True, slots=True)
class Busy:
    """The build is being written or mended at this moment; it can be read a little later."""

    owner: Owner | None
    """By whom, where that is known."""


def stored_head(connection: sqlite3.Connection, build: str) -> Head:
    """Read the head row; JournalError if there is none or it is unreadable."""
    row = connection.execute(
        "SELECT name, procedure, engine, step, waiting_for, updated, sequence, digest FROM head"
    ).fetchone()
    try:
        return Head.from_row(row or ())
    except ValueError as fault:
        raise damaged(build, str(fault)) from fault


def read_head(folder: Path) -> Head | Busy:
    """Read where the build stands, also while another program has it open.

    JournalError if it is foreign, newer, damaged or not there.
    """
    try:
        with reading(folder) as connection:
            connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, _LONGEST)
            return stored_head(connection, folder.name)
    except OpenElsewhere as elsewhere:
        return Busy(elsewhere.owner)
    except JournalError as error:
        if error.code == "busy":
            return Busy(None)
        raise
