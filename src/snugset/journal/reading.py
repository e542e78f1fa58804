"""A build read by somebody who does not write it: its head, its records, whether it is whole."""

import sqlite3
from pathlib import Path

from snugset.guide.bodies import RecordError, check_records
from snugset.guide.events import Record
from snugset.journal import attachments
from snugset.journal.coding import GENESIS, ChainError
from snugset.journal.contents import end_problem, walk, whole_records
from snugset.journal.errors import UNREADABLE, JournalError
from snugset.journal.head import Busy, read_head
from snugset.journal.opening import blame_disk, reading
from snugset.values import dataclass, replace

__all__ = ["Busy", "Verdict", "read_head", "read_records", "verify"]

_MOST_PROBLEMS = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """Whether a journal is what was written."""

    whole: bool
    records: int
    """At least so many records, from the first on, are proven and can be relied on."""
    digest: str
    """The chain's digest after them. The same digest on a sheet proves that none was lost since."""
    problems: tuple[str, ...]
    """What is wrong, in the order it was found; empty when whole."""


def read_records(folder: Path) -> tuple[Record, ...]:
    """Read all records, once proven whole, also while another program has the build open.

    JournalError if it is busy, foreign, newer, damaged or not there; OpenElsewhere if another
    program is just mending it after a crash.
    """
    with reading(folder) as connection:
        return tuple(whole_records(connection, folder.name)[0])


def verify(folder: Path) -> Verdict:
    """Prove a journal and its photographs whole, or say how far; what is damaged is left.

    JournalError only if it cannot be read at this moment: not there, busy, disk.
    """
    try:
        with reading(folder) as connection:
            verdict, whole = _judge(connection, folder)
        if not whole:
            blame_disk(folder)
    except JournalError as error:
        if error.code not in ("foreign", "newer", "damaged", "beside"):
            raise
        if error.code == "newer":
            return Verdict(whole=False, records=0, digest=GENESIS, problems=(error.message,))
        records, digest = _salvaged(folder)
        return Verdict(whole=False, records=len(records), digest=digest, problems=(error.message,))
    if whole:
        return verdict
    records, digest = _salvaged(folder)
    return replace(verdict, records=len(records), digest=digest)


def _salvaged(folder: Path) -> tuple[tuple[Record, ...], str]:
    from snugset.journal.salvage import salvage  # noqa: PLC0415 - for damage only

    try:
        return salvage(folder)
    except JournalError as error:
        if error.code != "damaged":  # there is no journal at all
            raise
        return (), GENESIS


def _judge(connection: sqlite3.Connection, folder: Path) -> tuple[Verdict, bool]:
    """Judge a build; the flag tells whether its journal is whole, whatever its photographs are."""
    records, digest = 0, GENESIS
    pictured: list[Record] = []
    problems: list[str] = []
    try:
        for record, digest, _ in walk(connection):  # noqa: B007 - the last digest is the result
            records = record.sequence
            if record.kind == "photograph":
                pictured.append(record)
        problems.append(end_problem(connection, folder.name, records, digest))
    except (ChainError, JournalError) as fault:
        problems.append(str(fault))
    except UNREADABLE as fault:
        problems.append(f"after record {records}: {fault}")
    problems += _structure(connection)
    whole = not any(problems)
    try:
        check_records(pictured)
        problems += attachments.problems(folder, pictured)
    except RecordError as fault:
        problems.append(str(fault))
    found = tuple(problem for problem in problems if problem)[:_MOST_PROBLEMS]
    return Verdict(whole=not found, records=records, digest=digest, problems=found), whole


def _structure(connection: sqlite3.Connection) -> list[str]:
    """List what the database itself finds wrong with its pages and values."""
    found: list[str] = []
    try:
        for (text,) in connection.execute(f"PRAGMA integrity_check({_MOST_PROBLEMS})"):
            found += str(text).splitlines()
    except UNREADABLE as fault:
        found.append(str(fault))
    return [f"the database: {line}" for line in found if line != "ok" and line[:3] != "***"]
