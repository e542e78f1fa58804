"""A file for the builder to take away: written new, never over another."""

import os
from pathlib import Path

from snugset.journal.durable import sync_file


def write_new(target: Path, text: str) -> None:
    """Write a new file in UTF-8, on disk on return; what fails leaves none.

    FileExistsError if there is one of that name, OSError if it cannot be written.
    """
    handle = os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_CLOEXEC, 0o666)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as out:
            out.write(text)
            out.flush()
            sync_file(handle)
    except BaseException:
        target.unlink()
        raise
