"""Folders and files that are on the disk, for the owner only, before anybody is told so."""

import errno
import fcntl
import os
import sys
from pathlib import Path


def make_folder(folder: Path) -> None:
    """Make a folder and those above it that are missing, mode 0700."""
    missing = []
    while not folder.exists():
        missing.append(folder)
        folder = folder.parent
    for part in reversed(missing):
        part.mkdir(mode=0o700, exist_ok=True)
        sync_folder(part.parent)


def make_file(file: Path) -> int:
    """Open a new file for writing, mode 0600; FileExistsError if there is one."""
    return os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)


def sync_file(handle: int) -> None:
    """Wait until an open file's bytes are on the disk, past the drive's own cache."""
    if sys.platform == "darwin":
        fcntl.fcntl(handle, fcntl.F_FULLFSYNC)
    else:
        os.fsync(handle)


def sync_folder(folder: Path) -> None:
    """Wait until a folder's list of names is on the disk."""
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    except OSError as fault:
        if fault.errno != errno.EINVAL:  # some file systems have no such thing for folders
            raise
    finally:
        os.close(handle)


def settle(finished: Path, target: Path) -> None:
    """Give a finished file its name; FileExistsError where anything has it, a dangling link too.

    By a link, which fails where there is one, in one step; what it was called before may stay.
    """
    try:
        target.hardlink_to(finished)
    except FileExistsError:
        raise
    except OSError:  # a file system without links
        if os.path.lexists(target):
            raise already() from None
        finished.rename(target)


def already() -> FileExistsError:
    """Make the error for a name that is taken."""
    return FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST))
