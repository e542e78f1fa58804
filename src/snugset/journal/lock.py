"""One writer: an operating-system lock, which ends with the process whatever ends it."""

import fcntl
import os
import time
from pathlib import Path

from snugset.journal.errors import OpenElsewhere, told
from snugset.journal.owner import Owner
from snugset.typed import Self

FILE = "lock"

_FLAGS = os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC
"""A pipe of that name is not waited for."""
_LONGEST = 4096
_TRIES = 5
_PAUSE = 0.02
"""Seconds. A holder that is not named yet has only just come, or is only just going."""


class Lock:
    """The lock on a build's folder, held until `release`."""

    def __init__(self, handle: int) -> None:
        self._handle = handle

    @classmethod
    def take(cls, folder: Path, owner: Owner | None) -> Self:
        """Take the lock at once, or raise OpenElsewhere; `owner` is who others are told of."""
        path = folder / FILE
        holder = None
        with told(folder.name):
            for attempt in range(_TRIES):
                handle = os.open(path, _FLAGS | os.O_RDWR | os.O_CREAT, 0o600)
                try:
                    if not _locked(handle):
                        holder = _named(handle)
                    elif _is_at(handle, path):
                        lock = cls(os.dup(handle))
                        lock._name(owner)
                        return lock
                finally:
                    os.close(handle)
                # Once more: it may have been a look at who holds it, beside a name left by a kill.
                if holder is not None and attempt:
                    break
                time.sleep(_PAUSE)
        raise OpenElsewhere(folder.name, holder)

    def release(self) -> None:
        """Give the build free."""
        self._name(None)
        os.close(self._handle)

    def _name(self, owner: Owner | None) -> None:
        """Say who holds it. On a full disk nobody is named, but the lock holds."""
        try:
            os.ftruncate(self._handle, 0)
            if owner is not None:
                os.pwrite(self._handle, owner.to_json(), 0)
        except OSError:
            return


def holder(folder: Path) -> tuple[bool, Owner | None]:
    """Tell whether a build is open now, and by whom where that is known; changes nothing."""
    try:
        handle = os.open(folder / FILE, _FLAGS | os.O_RDONLY)
    except OSError:
        return False, None
    try:
        fcntl.flock(handle, fcntl.LOCK_SH | fcntl.LOCK_NB)
    except BlockingIOError:
        return True, _named(handle)
    finally:
        os.close(handle)
    return False, None


def _named(handle: int) -> Owner | None:
    """Read who holds the lock; None where that cannot be read: a pipe of that name tells nobody."""
    try:
        return Owner.from_json(os.pread(handle, _LONGEST, 0))
    except OSError:
        return None


def _locked(handle: int) -> bool:
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True


def _is_at(handle: int, path: Path) -> bool:
    """Whether the locked file is still the one at `path`: it may have been replaced meanwhile."""
    try:
        return os.path.samestat(os.fstat(handle), path.stat(follow_symlinks=False))
    except FileNotFoundError:
        return False
