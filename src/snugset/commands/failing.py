"""What a command that could not do its work says: a sentence, and never a traceback."""

import os
import sys
import traceback
from pathlib import Path

from snugset.commands.declare import CommandError, MistakesError, Place
from snugset.commands.output import warn
from snugset.journal.durable import make_folder
from snugset.journal.errors import JournalError
from snugset.printable import printable

_LARGEST = 1024 * 1024
"""Bytes of crash log after which a new one is begun."""
_SAY_THEMSELVES = (("snugset.stored", "BuildError"), ("snugset.play", "PlayError"))


def told(error: Exception, place: Place) -> int:
    """Say on standard error what went wrong, and give the exit code."""
    if isinstance(error, MistakesError):
        warn(*str(error).split("\n"))
        return error.code
    if isinstance(error, CommandError):
        warn(f"snugset: {error}")
        return error.code
    if isinstance(error, JournalError):
        warn(f"snugset: {error}")
        return 1
    if isinstance(error, OSError) and error.filename is not None:
        where = os.fsdecode(error.filename) if not isinstance(error.filename, int) else "a file"
        warn(f"snugset: {where}: {error.strerror}; check that it is there and may be used")
        return 1
    if isinstance(error, OSError):
        warn(f"snugset: what was to be shown could not be written ({error.strerror}); try again")
        return 1
    lines = _expected(error)
    if lines:
        warn(*lines)
        return 1
    warn(
        f"snugset: a fault inside Snugset stopped this ({type(error).__name__}); "
        f"{_log(error, place)}"
    )
    return 1


def _expected(error: Exception) -> list[str]:
    """Give the lines of an error that says itself what is wrong, place by place.

    Its module is loaded if it was raised; none is loaded here, for that may be what failed.
    """
    for module, name in _SAY_THEMSELVES:
        kind = getattr(sys.modules.get(module), name, None)
        if isinstance(kind, type) and isinstance(error, kind):
            return str(error).split("\n")
    return []


def _log(error: Exception, place: Place) -> str:
    """Write the traceback down for the owner alone, and say where; the journal is not touched."""
    text = "".join(traceback.format_exception(error))
    lines = "\n".join(printable(line) for line in text.split("\n"))
    try:
        make_folder(place.data)
        _append(place.crash_log, f"{_moment()}\n{lines}\n".encode("utf-8", "replace"))
    except (OSError, ValueError) as fault:
        return f"what was answered is kept. The details could not be written down ({fault})"
    return f"what was answered is kept. The details are in {place.crash_log}"


def _append(log: Path, text: bytes) -> None:
    """Write to the end of the log; one that has grown large is begun again."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_APPEND | os.O_NOFOLLOW
    handle = os.open(log, flags, 0o600)
    try:
        os.fchmod(handle, 0o600)
        if os.fstat(handle).st_size > _LARGEST:
            os.ftruncate(handle, 0)
        os.write(handle, text)
    finally:
        os.close(handle)


def _moment() -> str:
    from datetime import UTC, datetime  # noqa: PLC0415 - only on failure

    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
