"""The records in the order they were written, each proven to follow on the one before."""

import sqlite3
from collections.abc import Iterator

from snugset.guide.events import Record
from snugset.journal.coding import GENESIS, MOST_RECORDS, ChainError, decode, parts_of
from snugset.journal.errors import damaged
from snugset.journal.head import stored_head


def walk(connection: sqlite3.Connection) -> Iterator[tuple[Record, str, int]]:
    """Each record with the chain's digest and the sum of parts after it.

    ChainError at the first that is not whole.
    """
    after, digest, parts = 0, GENESIS, 0
    rows = connection.execute(
        "SELECT sequence, answer, at, person, kind, body, digest FROM events ORDER BY sequence"
    )
    for row in rows:
        if after == MOST_RECORDS:
            raise ChainError(f"there are more records than {MOST_RECORDS}, all that a build holds")
        record = decode(row, after=after, digest=digest, parts=parts)
        after, digest, parts = record.sequence, row[-1], parts + parts_of(row[5])
        yield record, digest, parts


def end_problem(connection: sqlite3.Connection, build: str, records: int, digest: str) -> str:
    """Say what is wrong with the end of the chain, by the head written with it; or nothing."""
    head = stored_head(connection, build)
    if head.sequence > records:
        return f"records after {records} are lost; {head.sequence} were written"
    if (head.sequence, head.digest) != (records, digest):
        return "the head does not tell of the last record"
    return ""


def whole_records(connection: sqlite3.Connection, build: str) -> tuple[list[Record], str, int]:
    """All records, the chain's digest, the sum of parts; JournalError "damaged" unless whole."""
    records: list[Record] = []
    digest, parts = GENESIS, 0
    try:
        for record, digest, parts in walk(connection):  # noqa: B007 - the last ones are the result
            records.append(record)
    except ChainError as fault:
        raise damaged(build, str(fault)) from fault
    if problem := end_problem(connection, build, len(records), digest):
        raise damaged(build, problem)
    return records, digest, parts
