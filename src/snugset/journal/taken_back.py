"""What a crash cut short, tried on a copy before the journal itself is changed."""

import shutil
import sqlite3
import tempfile
from contextlib import closing
from pathlib import Path

from snugset.journal import schema
from snugset.journal.contents import whole_records
from snugset.journal.errors import UNREADABLE, JournalError, beside
from snugset.journal.first_look import HEAD, check_head


def check_taken_back(file: Path, build: str) -> None:
    """Prove that a journal is whole once what stands beside it is taken back.

    JournalError "beside", and neither file is changed, where it is not: what stands there may be
    another database's, and would be written over a journal that is whole as it is.
    """
    with tempfile.TemporaryDirectory(prefix="snugset-") as place:
        copy = Path(place) / file.name
        shutil.copyfile(file, copy)
        shutil.copyfile(f"{file}-journal", f"{copy}-journal")
        try:
            _take_back(copy)
            with closing(schema.connect(copy, "ro", patience=0)) as connection:
                connection.execute("BEGIN")
                schema.check(connection, build)
                whole_records(connection, build)
        except (JournalError, *UNREADABLE) as fault:
            raise beside(
                build, f"{file.name}-journal beside it does not belong to it, or is damaged"
            ) from fault


def _take_back(copy: Path) -> None:
    """Let the library do it, without a question for which it reads the words of the tables."""
    connection = sqlite3.connect(copy, isolation_level=None, timeout=0)
    try:
        connection.execute("PRAGMA application_id")
    finally:
        connection.close()
    with copy.open("rb") as source:
        check_head(source.read(HEAD), copy.name, "")
