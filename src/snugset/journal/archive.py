"""One file that holds a build: a plain zip of a journal, its attachments and a manifest.

Nothing in it is compressed, so nothing can swell when it is unpacked; its times are fixed, so the
same build gives the same bytes.
"""

import stat
import struct
import zipfile
from collections.abc import Iterable
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from typing import BinaryIO

from snugset.journal.durable import make_file, make_folder, sync_file, sync_folder
from snugset.journal.manifest import MANIFEST, Manifest, Part
from snugset.values import replace

_MOST_PARTS = 5_000
_LONGEST_LIST = 8 * 1024 * 1024
_LONGEST_MANIFEST = 4 * 1024 * 1024
_BLOCK = 256 * 1024
_EPOCH = (1980, 1, 1, 0, 0, 0)

_END = struct.Struct("<4s4H2LH")
"""A zip's last 22 bytes: mark, disk, disk of the list, entries here, entries, size and place of
the list, length of a comment."""

_FAULTS = (
    *(zipfile.BadZipFile, EOFError, KeyError, NotImplementedError, RuntimeError, struct.error),
    *(FileExistsError, NotADirectoryError),  # two names that are one on this file system
)


def pack(out: BinaryIO, files: Iterable[tuple[str, BinaryIO]], manifest: Manifest) -> None:
    """Write files and, last, the manifest with them listed in it.

    ValueError if they are more than `unpack` takes.
    """
    parts: dict[str, Part] = {}
    try:
        with zipfile.ZipFile(out, "w", allowZip64=False) as archive:
            for name, source in files:
                parts[name] = _put(archive, name, source)
            _put(archive, MANIFEST, BytesIO(replace(manifest, parts=parts).to_json()))
    except (zipfile.LargeZipFile, RuntimeError) as fault:
        raise ValueError("it is larger than 2 GiB") from fault
    if len(parts) >= _MOST_PARTS:
        raise ValueError(f"it holds more than {_MOST_PARTS} files")


def unpack(file: Path, folder: Path) -> Manifest:
    """Take everything out into an empty folder, durable; ValueError says what is wrong with it.

    No more is written than the backup is long, and no name that the manifest does not hold.
    """
    with file.open("rb") as handle:
        length = _check_end(handle)
        try:
            with zipfile.ZipFile(handle) as archive:
                manifest = _manifest(archive)
                _check_members(archive, manifest, length)
                for name, part in manifest.parts.items():
                    _take_out(archive, name, part, folder)
        except _FAULTS as fault:
            raise ValueError(f"it is damaged ({_cut(str(fault))})") from fault
    for made in (path for path in folder.rglob("*") if path.is_dir()):
        sync_folder(made)
    return manifest


def _cut(text: str) -> str:
    """Cut what the archive holds to a readable length; the library tells names of any."""
    return text if len(text) <= 90 else f"{text[:89]}…"


def _put(archive: zipfile.ZipFile, name: str, source: BinaryIO) -> Part:
    info = zipfile.ZipInfo(name, _EPOCH)
    info.create_system = 3
    info.external_attr = 0o600 << 16
    digest = sha256()
    size = 0
    with archive.open(info, "w") as out:
        while block := source.read(_BLOCK):
            digest.update(block)
            size += len(block)
            out.write(block)
    return Part(size=size, sha256=digest.hexdigest())


def _check_end(handle: BinaryIO) -> int:
    """Prove, before the list of files is believed, that it is short and ends where the file ends.

    The length of the file.
    """
    start = handle.read(4)
    length = handle.seek(0, 2)
    if start != b"PK\x03\x04":
        raise ValueError("it is not a backup of a build")
    handle.seek(max(0, length - _END.size - 20))
    tail = handle.read()
    mark, *_, entries, size, place, comment = _END.unpack(
        tail[-_END.size :].rjust(_END.size, b"\0")
    )
    if mark != b"PK\x05\x06" or comment or place + size + _END.size != length:
        raise ValueError("it is cut short, or is not a backup of a build")
    if tail.startswith(b"PK\x06\x07") or entries > _MOST_PARTS or size > _LONGEST_LIST:
        raise ValueError("it holds too many files")
    return length


def _manifest(archive: zipfile.ZipFile) -> Manifest:
    info = archive.getinfo(MANIFEST)
    if info.compress_type != zipfile.ZIP_STORED or info.file_size > _LONGEST_MANIFEST:
        raise ValueError("its manifest is not one that Snugset writes")
    return Manifest.from_json(archive.read(info))


def _check_members(archive: zipfile.ZipFile, manifest: Manifest, length: int) -> None:
    members = archive.infolist()
    expected = {name: part.size for name, part in manifest.parts.items()}
    found = {info.filename: info.file_size for info in members if info.filename != MANIFEST}
    if len(members) != len(expected) + 1 or found != expected:
        raise ValueError("its files are not those that its manifest lists")
    for info in members:
        if info.compress_type != zipfile.ZIP_STORED:
            raise ValueError(f"“{_cut(info.filename)}” in it was packed by another program")
        if stat.S_IFMT(info.external_attr >> 16) not in (0, stat.S_IFREG):
            raise ValueError(f"“{_cut(info.filename)}” in it is no plain file")
    if sum(info.file_size for info in members) > length:
        raise ValueError("its files overlap")


def _take_out(archive: zipfile.ZipFile, name: str, part: Part, folder: Path) -> None:
    target = folder.joinpath(*name.split("/"))
    make_folder(target.parent)
    digest = sha256()
    with archive.open(name) as source, open(make_file(target), "wb") as out:  # noqa: PTH123 - a handle
        while block := source.read(_BLOCK):
            digest.update(block)
            out.write(block)
        out.flush()
        sync_file(out.fileno())
    if digest.hexdigest() != part.sha256:
        raise ValueError(f"“{_cut(name)}” in it is damaged")
