"""A build's files as bytes, before the database library is let near them.

The library obeys what it finds: it goes on where a log beside a database leaves off, takes away a
file that the remains of a crash name, writes through a link, and reads the words of every table
before it answers its first question. A journal never has such things; whoever finds one stops here.
"""

import os
import stat
from pathlib import Path

from snugset.journal.errors import JournalError, beside, damaged, foreign

APPLICATION_ID = int.from_bytes(b"Snug", "big")
PAGE = 4096
"""Bytes of a page; every journal is laid so."""
HEAD = 101
"""Bytes that tell what a database is: its head, and of what sort its first page is."""

_NEVER = ("-wal", "-shm")
_CUT_SHORT = "-journal"
_NAMES_A_FILE = bytes.fromhex("d9d505f920a163d7")
"""How the remains of a crash end that name one more file: SQLite's file format, section 3."""


def look(file: Path, build: str) -> bool:
    """Look at a journal and at what stands beside it; whether a crash may have left it half done.

    JournalError "beside", "foreign" or "damaged" for what the library must not see. Where it was
    left half done the journal's own head is not judged: taking that back may mend it.
    """
    for end in _NEVER:
        if os.path.lexists(f"{file}{end}"):
            raise beside(build, f"{file.name}{end} stands beside it, which Snugset never writes")
    if _is_cut_short(file, build):
        return True
    with file.open("rb") as source:
        check_head(source.read(HEAD), file.name, build)
    return False


def check_head(first: bytes, name: str, build: str) -> None:
    """Judge the first bytes of a database; what is none at all is left to the library.

    By SQLite's file format, section 1.3: size of a page, the mode it is written in, the program,
    and of what sort the first page is. The words of our tables fit in that page.
    """
    if not first.startswith(b"SQLite format 3\0") or first[21:24] != b"\x40\x20\x20":
        return
    if first[68:72] != APPLICATION_ID.to_bytes(4, "big") or 2 in first[18:20]:
        raise foreign(build, name)
    if first[16:18] != PAGE.to_bytes(2, "big") or first[100:101] != b"\x0d":
        raise damaged(build, "its tables are not those of a journal")


def _is_cut_short(file: Path, build: str) -> bool:
    """Whether there are remains of a crash, or of a commit that is being made at this moment."""
    left = Path(f"{file}{_CUT_SHORT}")
    try:
        found = left.lstat()
    except FileNotFoundError:
        return False
    if not stat.S_ISREG(found.st_mode):
        raise beside(build, f"{left.name} beside it is no plain file")
    if not found.st_size:
        return False
    with left.open("rb") as source:
        first = source.read(1)
        source.seek(max(0, found.st_size - len(_NAMES_A_FILE)))
        last = source.read(len(_NAMES_A_FILE))
    if last == _NAMES_A_FILE:
        raise beside(build, f"{left.name} beside it names another file")
    return first not in (b"", b"\0")


def check_plain(folder: Path, name: str) -> Path:
    """Give a build's database; JournalError where it is a link: it might be another build's."""
    file = folder / name
    if not file.is_file():
        raise damaged(folder.name, f"there is no {name} in the folder")
    if file.is_symlink():
        raise JournalError(
            "foreign",
            f"{folder.name}: {name} is a link to another file; put the file itself there",
        )
    return file
