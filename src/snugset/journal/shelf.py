"""All builds of a data folder: listed, found by id or name, given a place."""

import os
import re
from collections.abc import Mapping
from pathlib import Path

from snugset.journal.durable import make_folder
from snugset.journal.errors import JournalError, UnknownBuild, told
from snugset.journal.head import Busy, Head, read_head
from snugset.journal.schema import FILE
from snugset.values import dataclass

_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,63}", re.ASCII)


def is_id(text: str) -> bool:
    """Whether a text may be the id of a build: letters, digits, - and _, 64 at most."""
    return _ID.fullmatch(text) is not None


def data_folder(environ: Mapping[str, str]) -> Path:
    """Where builds are kept: SNUGSET_DATA, else the desktop's data folder, else ~/.local/share."""
    if own := environ.get("SNUGSET_DATA"):
        return Path(own).expanduser()
    shared = Path(environ.get("XDG_DATA_HOME", ""))
    if shared.is_absolute():
        return shared / "snugset"
    return Path(environ.get("HOME") or "~").expanduser() / ".local" / "share" / "snugset"


@dataclass(frozen=True, slots=True)
class Entry:
    """One build on the shelf."""

    id: str
    head: Head | None
    """Where it stands; None if that cannot be read."""
    wrong: str
    """Why it cannot be read, in a sentence; empty when it can."""


class Shelf:
    """The builds under one data folder."""

    def __init__(self, data: Path) -> None:
        self.path = data / "builds"
        """The folder that holds a folder for each build."""

    def builds(self, *, newest: int = 0) -> tuple[Entry, ...]:
        """List all builds, the latest worked on first; those that cannot be read come last.

        With `newest`, only so many of them, whose files were written last.
        """
        ids = self._ids()
        if 0 < newest < len(ids):
            ids = sorted(ids, key=self._written, reverse=True)[:newest]
        entries = [entry_of(self.path / name) for name in ids]
        entries.sort(key=lambda entry: entry.head.updated if entry.head else "", reverse=True)
        return tuple(entries)

    def __len__(self) -> int:
        """Count the builds."""
        return len(self._ids())

    def new_folder(self, build: str) -> Path:
        """Give the place for a new build of this id; JournalError "exists" if there is one.

        ValueError if the text is no id.
        """
        if not is_id(build):
            raise ValueError(f"{build!r} is no id for a build; use letters, digits, - and _")
        with told(build):
            make_folder(self.path)
        if build in self._ids():
            raise JournalError("exists", f"there is a build {build} already; choose another name")
        return self.path / build

    def folder(self, text: str) -> Path:
        """Find the build with this id, this name, or the only id that begins so.

        UnknownBuild names the builds that may be meant.
        """
        ids = self._ids()
        if text in ids:
            return self.path / text
        names = {entry.id: entry.head.name for entry in self.builds() if entry.head}
        named = sorted(build for build, name in names.items() if name == text)
        begun = [build for build in ids if text and build.startswith(text)]
        for found in (named, begun):
            if len(found) == 1:
                return self.path / found[0]
            if found:
                raise UnknownBuild(f"“{text}” may be any of {', '.join(found)}; give the id", found)
        raise self._unknown(text, [*ids, *names.values()])

    def _written(self, build: str) -> float:
        try:
            # Not by a Path: a large shop is asked this of every build before one is shown.
            return os.stat(f"{self.path}/{build}/{FILE}").st_mtime  # noqa: PTH116
        except OSError:
            return 0

    def _ids(self) -> list[str]:
        with told(str(self.path)):
            try:
                return sorted(filter(is_id, os.listdir(self.path)))  # noqa: PTH208 - as above
            except FileNotFoundError:
                return []

    def _unknown(self, text: str, known: list[str]) -> UnknownBuild:
        if not known:
            return UnknownBuild(f"there are no builds in {self.path}; begin one: snugset new", ())
        from difflib import get_close_matches  # noqa: PLC0415 - needed for a slip only

        near = dict.fromkeys(get_close_matches(text, known, cutoff=0.5))
        meant = " or ".join(f"“{name}”" for name in near)
        hint = f"did you mean {meant}?" if near else "see: snugset list"
        return UnknownBuild(f"there is no build “{text}”; {hint}", tuple(near))


def entry_of(folder: Path) -> Entry:
    """Say where one build stands, or why that cannot be read."""
    try:
        head = read_head(folder)
    except JournalError as error:
        return Entry(id=folder.name, head=None, wrong=error.message)
    if isinstance(head, Busy):
        who = f" ({head.owner})" if head.owner else ""
        return Entry(
            id=folder.name, head=None, wrong=f"{folder.name} is in use{who}; try again in a moment"
        )
    return Entry(id=folder.name, head=head, wrong="")
