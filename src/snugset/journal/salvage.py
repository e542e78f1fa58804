"""What of a damaged journal is still proven: its first records, read from a copy in memory."""

import tempfile
from pathlib import Path

from snugset.guide.events import Record
from snugset.journal import schema
from snugset.journal.coding import GENESIS, ChainError
from snugset.journal.contents import walk
from snugset.journal.errors import UNREADABLE, JournalError, told
from snugset.journal.first_look import HEAD, PAGE, check_head

_PAGES = slice(28, 32)
"""Where a database's first page holds how many there are."""


def salvage(folder: Path) -> tuple[tuple[Record, ...], str]:
    """Give the records from the first on that are proven, and the chain's digest after them.

    JournalError if the file cannot be read at all. The database's first page is the same in every
    journal but for counters, so a new one stands in for it: damage there costs no record.
    """
    with told(folder.name), schema.find(folder).open("rb") as file:
        content = file.read(schema.LARGEST)
    as_it_is = _proven(content)
    mended = _proven(_mended(content))
    return max(as_it_is, mended, key=lambda found: len(found[0]))


def _proven(content: bytes) -> tuple[tuple[Record, ...], str]:
    records: list[Record] = []
    digest = GENESIS
    try:
        check_head(content[:HEAD], schema.FILE, "")
    except JournalError:
        return (), digest
    if not content:
        return (), digest
    connection = schema.in_memory(content)
    try:
        tables = connection.execute("SELECT sql FROM sqlite_schema ORDER BY rowid").fetchmany(99)
        if not schema.are_ours(tables):
            return (), digest
        for record, after, _ in walk(connection):
            records.append(record)
            digest = after
    except (ChainError, *UNREADABLE):
        pass  # the rest cannot be proven
    finally:
        connection.close()
    return tuple(records), digest


def _mended(content: bytes) -> bytes:
    """Put a new journal's first page in front of the others."""
    with tempfile.TemporaryDirectory() as place:
        file = Path(place) / schema.FILE
        schema.lay(file, GENESIS)
        first = bytearray(file.read_bytes()[:PAGE])
    pages = content + b"\0" * (-len(content) % PAGE)
    first[_PAGES] = (len(pages) // PAGE).to_bytes(4, "big")
    return bytes(first) + pages[PAGE:]
