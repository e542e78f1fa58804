"""A build carried as one file, and put on a shelf again."""

import tempfile
from collections.abc import Iterator, Sequence
from io import BytesIO
from pathlib import Path
from typing import BinaryIO

from snugset.guide.events import Record
from snugset.journal.archive import pack, unpack
from snugset.journal.attachments import home, is_unfinished, open_plain
from snugset.journal.contents import whole_records
from snugset.journal.durable import make_folder, settle, sync_file, sync_folder
from snugset.journal.errors import JournalError, told
from snugset.journal.head import Head
from snugset.journal.journal import Journal
from snugset.journal.manifest import Manifest, is_carried
from snugset.journal.opening import reading
from snugset.journal.owner import Owner
from snugset.journal.schema import ATTACHMENTS, FILE
from snugset.journal.shelf import Shelf
from snugset.journal.staging import place, staging


def backup(folder: Path, target: Path) -> str:
    """Write a build into one new file, also while it is open; the digest of its chain.

    The file appears complete or not at all. A photograph that cannot be read is left out: `verify`
    tells of it. JournalError if the journal is not whole, "exists" if the target is there already,
    "unfit" if the attachments cannot be carried.
    """
    with reading(folder) as connection:
        records, digest, _ = whole_records(connection, folder.name)
        journal = connection.serialize()
    manifest = Manifest(build=folder.name, records=len(records), digest=digest, parts={})
    _write(target, folder, journal, manifest)
    return digest


def copy_records(folder: Path, records: Sequence[Record], head: Head, target: Path) -> str:
    """Write records that are known into one new file, whatever became of their journal.

    The attachments in `folder` go with them. The digest of their chain; errors as for `backup`.
    """
    with (
        told(str(target)),
        tempfile.TemporaryDirectory(
            prefix=f".{target.name[:60]}-", dir=target.parent, ignore_cleanup_errors=True
        ) as place,
    ):
        stage = Path(place) / folder.name
        owner = Owner.here(person="", since="")
        with Journal.create(stage, owner=owner, records=records, head=head) as journal:
            digest = journal.digest
        manifest = Manifest(build=folder.name, records=len(records), digest=digest, parts={})
        _write(target, folder, (stage / FILE).read_bytes(), manifest)
    return digest


def _write(target: Path, folder: Path, journal: bytes, manifest: Manifest) -> None:
    """Pack a journal and a folder's attachments; the file appears complete or not at all."""
    with told(str(target)):
        handle, name = tempfile.mkstemp(prefix=f".{target.name[:60]}-", dir=target.parent)
        try:
            with open(handle, "wb") as out:  # noqa: PTH123 - a handle, not a path
                try:
                    pack(out, _files(folder, journal), manifest)
                except ValueError as fault:
                    raise JournalError(
                        "unfit",
                        f"{folder.name} does not fit in one backup: {fault}; copy its folder",
                    ) from fault
                out.flush()
                sync_file(out.fileno())
            _rename(Path(name), target)
        finally:
            Path(name).unlink(missing_ok=True)
        sync_folder(target.parent)


def restore(file: Path, shelf: Shelf) -> str:
    """Put a backup on the shelf as a build of its own; its id.

    It keeps the id that it had, or gets a number behind it if there is such a build already.
    JournalError "damaged" if it is not what was backed up, "newer" if this Snugset is too old.
    """
    with told(file.name):
        make_folder(shelf.path)
        with staging(shelf.path, file.name) as stage:
            try:
                manifest = unpack(file, stage)
            except ValueError as fault:
                raise _unsound(file, str(fault)) from fault
            make_folder(stage / ATTACHMENTS)
            with reading(stage) as connection:
                records, digest, _ = whole_records(connection, file.name)
            if (len(records), digest) != (manifest.records, manifest.digest):
                raise _unsound(file, "its journal is not the one that it names")
            return _settle(stage, shelf, manifest.build)


def _rename(finished: Path, target: Path) -> None:
    try:
        settle(finished, target)
    except FileExistsError as fault:
        raise JournalError("exists", f"{target} is there already; choose another name") from fault


def _settle(stage: Path, shelf: Shelf, build: str) -> str:
    number, free = 1, build
    while True:
        try:
            place(stage, shelf.path / free)
        except FileExistsError:
            number += 1
            free = f"{build[:56]}-{number}"
        else:
            return free


def _files(folder: Path, journal: bytes) -> Iterator[tuple[str, BinaryIO]]:
    yield FILE, BytesIO(journal)
    for path in sorted(home(folder).rglob("*")):
        if path.is_dir() or is_unfinished(path):
            continue
        name = path.relative_to(folder).as_posix()
        try:
            source = open_plain(path)
        except OSError:
            continue
        with source:
            if not is_carried(name):
                raise ValueError(f"“{name}” is too long or holds strange letters")
            yield name, source


def _unsound(file: Path, what: str) -> JournalError:
    return JournalError(
        "damaged", f"{file.name} cannot be restored: {what}; copy it again from where it was kept"
    )
