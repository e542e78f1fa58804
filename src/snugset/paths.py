"""A path as somebody types it."""

from contextlib import suppress
from pathlib import Path


def typed_path(text: str) -> Path:
    """Give a path, ``~`` read as a shell reads it; before nobody's name it stays as it is."""
    path = Path(text)
    with suppress(RuntimeError):
        path = path.expanduser()
    return path
