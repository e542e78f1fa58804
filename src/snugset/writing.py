"""A file for the builder to take away: for the owner only, whole or not at all."""

import os
import tempfile
from pathlib import Path

from snugset.journal.durable import already, settle, sync_file, sync_folder


def write_new(target: Path, text: str, *, replace: bool = False) -> None:
    """Write a file in UTF-8, mode 0600, durable on return; what fails or is killed leaves none.

    FileExistsError if there is one of that name and it is not to be replaced, OSError if it
    cannot be written.
    """
    try:
        _write(target, text, replace=replace)
    except OSError as fault:
        fault.filename, fault.filename2 = str(target), None
        raise


def _write(target: Path, text: str, *, replace: bool) -> None:
    if not replace and os.path.lexists(target):
        raise already()
    handle, name = tempfile.mkstemp(prefix=f".{target.name[:60]}-", dir=target.parent)
    part = Path(name)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as out:
            out.write(text)
            out.flush()
            sync_file(handle)
        if replace:
            part.replace(target)
        else:
            settle(part, target)
    finally:
        part.unlink(missing_ok=True)
    sync_folder(target.parent)
