"""A build's folder appears at once and complete, or not at all."""

import errno
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from snugset.journal.durable import sync_folder


@contextmanager
def staging(parent: Path, name: str) -> Iterator[Path]:
    """Make a folder, mode 0700, out of sight beside the builds; it goes unless it is placed.

    A crash may leave one behind; its name begins with a dot, and it holds nothing acknowledged.
    """
    with tempfile.TemporaryDirectory(
        prefix=".new-", dir=parent, ignore_cleanup_errors=True
    ) as hidden:
        stage = Path(hidden) / name
        stage.mkdir(mode=0o700)
        yield stage


def place(stage: Path, folder: Path) -> None:
    """Move a finished folder into place for good; FileExistsError if something is there."""
    sync_folder(stage)
    if folder.exists():
        raise FileExistsError(errno.EEXIST, "exists", str(folder))
    try:
        stage.rename(folder)
    except OSError as fault:
        if fault.errno == errno.ENOTEMPTY:
            raise FileExistsError(errno.EEXIST, "exists", str(folder)) from fault
        raise
    sync_folder(folder.parent)
