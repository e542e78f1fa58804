"""What can go wrong with a build's folder, each said in one plain sentence."""

import errno
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from snugset.journal.owner import Owner
from snugset.typed import Literal

Code = Literal[
    "open-elsewhere",  # another program is the writer
    "newer",  # written by a newer Snugset
    "foreign",  # not Snugset's file
    "damaged",  # not what was written
    "beside",  # a file stands beside it that no journal has
    "busy",  # in use for a moment
    "behind",  # somebody else has written meanwhile
    "disk",  # full, faulty, read-only
    "exists",  # would be overwritten
    "full",  # as many records as a build holds
    "unfit",  # cannot be kept as it is: half a character, a name that no backup carries
    "old-sqlite",  # the database library is too old
    "unknown-build",
]

UNREADABLE = (sqlite3.Error, UnicodeDecodeError)
"""What the database raises; the second for a complaint about damage that quotes the damage."""

_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
_READ_ONLY = (errno.EROFS, errno.EACCES, errno.EPERM)


class JournalError(Exception):
    """A build's folder could not do what was asked; nothing that was saved is lost by it."""

    def __init__(self, code: Code, message: str) -> None:
        # Names of folders and people come from outside: no terminal escape, no half character.
        self.message = "".join(letter if letter.isprintable() else "�" for letter in message)
        self.code = code
        super().__init__(self.message)


class OpenElsewhere(JournalError):  # noqa: N818 - the event, as it is said to the builder
    """Another program holds the build."""

    def __init__(self, build: str, owner: Owner | None) -> None:
        who = f"by {owner}" if owner else "by another program"
        super().__init__(
            "open-elsewhere", f"{build} is open elsewhere, {who}; close it there first"
        )
        self.owner = owner
        """Who holds it; None when the holder could not say."""


class UnknownBuild(JournalError):  # noqa: N818 - the event, as it is said to the builder
    """No build goes by that text, or more than one does."""

    def __init__(self, message: str, near: Sequence[str]) -> None:
        super().__init__("unknown-build", message)
        self.near = tuple(near)
        """Ids and names that the builder may have meant."""


@contextmanager
def told(build: str) -> Iterator[None]:
    """Turn what the database or the file system raises into a JournalError about `build`."""
    try:
        yield
    except sqlite3.ProgrammingError:  # a mistake of the program, not of the file
        raise
    except UNREADABLE as fault:
        raise _of_sqlite(fault, build) from fault
    except OSError as fault:
        raise _of_system(fault, build) from fault


def _of_system(fault: OSError, build: str) -> JournalError:
    if fault.errno in _FULL:
        return _full(build)
    if fault.errno in _READ_ONLY:
        return _read_only(build)
    if fault.errno in (errno.EEXIST, errno.ENOTEMPTY):
        return JournalError("exists", f"{build} is there already; choose another name")
    if fault.errno == errno.ENOTDIR:
        return JournalError(
            "disk",
            f"{build}: a file stands where a folder belongs; move it, or name another data folder",
        )
    return faulty(build, fault.strerror or type(fault).__name__)


def _of_sqlite(fault: Exception, build: str) -> JournalError:
    """Name a database error; one that Python raised itself has no number: unreadable content."""
    name = getattr(fault, "sqlite_errorname", "unreadable content")
    match getattr(fault, "sqlite_errorcode", sqlite3.SQLITE_CORRUPT) & 0xFF:
        case sqlite3.SQLITE_FULL:
            return _full(build)
        case sqlite3.SQLITE_READONLY | sqlite3.SQLITE_PERM:
            return _read_only(build)
        case sqlite3.SQLITE_IOERR | sqlite3.SQLITE_CANTOPEN:
            return faulty(build, name)
        case sqlite3.SQLITE_BUSY | sqlite3.SQLITE_LOCKED:
            return JournalError(
                "busy", f"{build}: another program is using the journal; try again in a moment"
            )
        case sqlite3.SQLITE_TOOBIG:
            return JournalError("unfit", f"{build}: a record is longer than any journal holds")
        case sqlite3.SQLITE_CONSTRAINT:
            return JournalError(
                "behind",
                f"{build}: the journal holds records that were not seen here; open the build again",
            )
        case sqlite3.SQLITE_NOTADB:
            return JournalError(
                "foreign",
                f"{build}: journal.sqlite is not a journal, or its beginning is damaged; "
                "restore a backup",
            )
    return damaged(build, f"the database is malformed ({name})")


def damaged(build: str, what: str) -> JournalError:
    """Say that a journal is not what was written; nobody changes it after that."""
    return JournalError(
        "damaged", f"{build}: {what}; the journal is left as it is: verify it, or restore a backup"
    )


def beside(build: str, what: str) -> JournalError:
    """Say that something stands beside a journal which could change it or another file."""
    return JournalError(
        "beside",
        f"{build}: {what}; nothing is changed: copy the folder, then take that file out of it",
    )


def foreign(build: str, name: str) -> JournalError:
    """Say that a database is another program's."""
    return JournalError("foreign", f"{build}: {name} is not a Snugset journal; it is left as it is")


def _full(build: str) -> JournalError:
    return JournalError("disk", f"{build}: the disk is full; free some space and try again")


def _read_only(build: str) -> JournalError:
    return JournalError(
        "disk", f"{build}: the folder may not be written; make it writable and try again"
    )


def faulty(build: str, name: str) -> JournalError:
    """Say that the disk did not do as it was told; the journal may be as good as ever."""
    return JournalError(
        "disk",
        f"{build}: the disk reports a fault ({name}); try again, or back the build up elsewhere",
    )
