"""The journal of a build: what happened, durable before anybody is told that it did."""

import sqlite3
from collections.abc import Sequence
from pathlib import Path
from types import TracebackType

from snugset.guide.events import Record
from snugset.journal import schema
from snugset.journal.coding import GENESIS, MOST_RECORDS, ChainError, Row, decode, encode, parts_of
from snugset.journal.contents import whole_records
from snugset.journal.durable import make_folder
from snugset.journal.errors import JournalError, damaged, told
from snugset.journal.head import Head
from snugset.journal.lock import Lock
from snugset.journal.opening import disk_or_damage
from snugset.journal.owner import Owner
from snugset.journal.staging import place, staging
from snugset.typed import Self
from snugset.values import replace

_PATIENCE = 3.0
"""Seconds; a reader keeps a commit waiting for one read."""

_NO_HEAD = Head()
_ROOM = 64 * 1024
"""Bytes that the pages of a few records take beside their bodies."""


class Journal:
    """The one writer of a build; used from one thread, ended by `close` or a with statement."""

    def __init__(self, folder: Path, lock: Lock) -> None:
        """Read a build whose lock is held; `create` and `open` are the ways in."""
        self.folder = folder
        """The build's folder."""
        self._lock = lock
        self._closed = False
        self._connection: sqlite3.Connection | None = None
        try:
            self._records, self._digest, self._parts = self._proven()
        except BaseException:
            self._disconnect()
            raise

    @classmethod
    def create(
        cls, folder: Path, *, owner: Owner, records: Sequence[Record] = (), head: Head = _NO_HEAD
    ) -> Self:
        """Make a build's folder with its first records in it, and open it.

        It appears complete or not at all, whenever the power goes. JournalError "exists" if the
        folder is there already, else as for `append`.
        """
        with told(folder.name):
            make_folder(folder.parent)
            with staging(folder.parent, folder.name) as stage:
                (stage / schema.ATTACHMENTS).mkdir(mode=0o700)
                schema.lay(stage / schema.FILE, GENESIS)
                with cls.open(stage, owner=owner) as first:
                    first.append(records, head)
                place(stage, folder)
        return cls.open(folder, owner=owner)

    @classmethod
    def open(cls, folder: Path, *, owner: Owner) -> Self:
        """Take the lock, undo what a crash cut short, and prove the journal whole.

        OpenElsewhere if another program has it; JournalError if it is foreign, newer, damaged, not
        there or may not be written.
        """
        with told(folder.name):
            schema.find(folder)
        lock = Lock.take(folder, owner)
        try:
            return cls(folder, lock)
        except BaseException:
            lock.release()
            raise

    def append(self, records: Sequence[Record], head: Head) -> None:
        """Keep records and what the list shows, in one transaction; on return they are durable.

        The records follow on the last one. JournalError if they could not be kept: then the journal
        is as it was, and the same call may be tried again. "behind": another program has written,
        or an earlier failure came after the bytes were down; `catch_up` tells what is kept.
        """
        if self._closed:
            raise ValueError("the journal is closed")
        if self.sequence + len(records) > MOST_RECORDS:
            raise self._full(f"{MOST_RECORDS:,} records")
        try:
            rows = encode(records, after=self.sequence, digest=self._digest)
            # What no reader would take must never be in the file: it would close the build.
            kept, parts = self._read_back(rows)
            digest = rows[-1][-1] if rows else self._digest
            placed = replace(head, sequence=self.sequence + len(rows), digest=digest)
            with disk_or_damage(self.folder), told(self.folder.name):
                more = sum(len(row[5].encode()) for row in rows) + _ROOM
                if schema.find(self.folder).stat().st_size + more > schema.LARGEST:
                    raise self._full(f"{schema.LARGEST // 1024**2} MiB")
                self._commit(rows, placed)
        except ChainError as fault:
            raise JournalError("unfit", f"{self.folder.name}: {fault}; nothing is kept") from fault
        except UnicodeEncodeError as fault:
            raise JournalError(
                "unfit", f"{self.folder.name}: a text holds half a character; type it again"
            ) from fault
        self._records += kept
        self._digest, self._parts = digest, parts

    def _full(self, most: str) -> JournalError:
        return JournalError(
            "full",
            f"{self.folder.name} is full, a build holds at most {most}: it can be read, not gone "
            f"on with",
        )

    def catch_up(self) -> None:
        """Take the records that are in the file beyond those known, once they are surely on disk.

        JournalError "damaged" if what was kept before is no longer there.
        """
        with disk_or_damage(self.folder), told(self.folder.name):
            self._write_anew()
        records, digest, parts = self._proven()
        if records[: len(self._records)] != self._records:
            raise damaged(self.folder.name, "records that were kept are no longer in it")
        self._records, self._digest, self._parts = records, digest, parts

    def records(self) -> tuple[Record, ...]:
        """Give all records, as they are kept."""
        return tuple(self._records)

    @property
    def sequence(self) -> int:
        """The last record's; 0 before the first."""
        return len(self._records)

    @property
    def digest(self) -> str:
        """The chain's digest after the last record."""
        return self._digest

    def close(self) -> None:
        """Give the build free; once is enough, more does no harm."""
        if not self._closed:
            self._closed = True
            self._disconnect()
            self._lock.release()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def _read_back(self, rows: Sequence[Row]) -> tuple[list[Record], int]:
        """Decode rows as any later reader will; the caller may change the originals."""
        records: list[Record] = []
        after, digest, parts = self.sequence, self._digest, self._parts
        for row in rows:
            records.append(decode(row, after=after, digest=digest, parts=parts))
            after, digest, parts = row[0], row[-1], parts + parts_of(row[5])
        return records, parts

    def _commit(self, rows: Sequence[Row], head: Head) -> None:
        try:
            self._write(rows, head)
        except sqlite3.Error:
            if not self._holds(head):
                raise
            # Everything was written and only the last sync failed. A system may forget what it
            # could not sync and call the next sync good, so the bytes are written once more.
            self._write_anew()
            self._write((), head)

    def _write(self, rows: Sequence[Row], head: Head) -> None:
        """One transaction; after any failure the next one begins from a fresh connection."""
        try:
            connection = self._connected()
            connection.execute("BEGIN IMMEDIATE")
            connection.executemany("INSERT INTO events VALUES (?, ?, ?, ?, ?, ?, ?)", rows)
            connection.execute(
                "UPDATE head SET name = ?, procedure = ?, engine = ?, step = ?, waiting_for = ?, "
                "updated = ?, sequence = ?, digest = ?",
                head.to_row(),
            )
            connection.execute("COMMIT")
        except BaseException:
            self._disconnect()
            raise

    def _write_anew(self) -> None:
        """Write every page of the database again, durably."""
        try:
            self._connected().execute("VACUUM")
        except BaseException:
            self._disconnect()
            raise

    def _proven(self) -> tuple[list[Record], str, int]:
        with disk_or_damage(self.folder), told(self.folder.name):
            return whole_records(self._connected(), self.folder.name)

    def _holds(self, head: Head) -> bool:
        """Whether the file has come to hold just the records that end with this head."""
        try:
            found = self._connected().execute(
                "SELECT sequence, digest FROM events ORDER BY sequence DESC LIMIT 1"
            )
            return bool(found.fetchone() == (head.sequence, head.digest))
        except (sqlite3.Error, JournalError):
            return False

    def _connected(self) -> sqlite3.Connection:
        if self._connection is None:
            self._connection = schema.opened(self.folder, "rw", patience=_PATIENCE)
        return self._connection

    def _disconnect(self) -> None:
        if self._connection is not None:
            self._connection.close()
            self._connection = None
