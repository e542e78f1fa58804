"""Photographs in a build's folder: copied in by their bytes, named by their digest."""

import errno
import os
import stat
import tempfile
from collections.abc import Iterable, Iterator
from hashlib import sha256
from pathlib import Path
from typing import BinaryIO

from snugset.guide.events import Record
from snugset.journal.durable import make_folder, sync_file, sync_folder
from snugset.journal.errors import JournalError, told
from snugset.journal.schema import ATTACHMENTS
from snugset.values import dataclass

LARGEST = 25 * 1024 * 1024
"""Bytes of one photograph."""
_FLAGS = os.O_RDONLY | os.O_NONBLOCK | os.O_CLOEXEC | os.O_NOFOLLOW | os.O_NOCTTY
_BLOCK = 1024 * 1024
_HEIC = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx")
_ENDINGS = {"image/jpeg": "jpg", "image/png": "png", "image/webp": "webp", "image/heic": "heic"}
_HIDDEN = ".new-"
"""How the name of a copy begins that is not finished."""


class PhotoError(ValueError):
    """A file that is not taken; one sentence with the likely fix."""

    def __init__(self, code: str, words: str) -> None:
        super().__init__(words)
        self.code = code


class NotPlain(OSError):  # noqa: N818 - it is what the file is
    """A folder, a device, a pipe or a socket."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A photograph as it was read."""

    content: bytes
    digest: str
    """SHA-256 in hexadecimal."""
    media: str

    @property
    def name(self) -> str:
        """Give the name of the copy: nothing of the name that it had."""
        return f"{self.digest}.{_ENDINGS[self.media]}"


def read_picture(path: Path) -> Picture:
    """Read a photograph whole; PhotoError says why a file is not taken.

    Only a plain file is read, never through a link in its last name: a device or a pipe could
    give bytes without end, or none for ever.
    """
    try:
        handle = _open(path)
        with os.fdopen(handle, "rb") as source:
            size = os.fstat(handle).st_size
            content = b"" if size > LARGEST else source.read(LARGEST + 1)
    except (OSError, ValueError) as fault:
        raise PhotoError("photo-file", f"{_shown(path)} {_why(fault, path)}.") from fault
    size = max(size, len(content))
    if size > LARGEST:
        raise PhotoError("photo-size", f"{_shown(path)} {_too_large(size)}")
    media = media_of(content)
    if not media:
        raise PhotoError(
            "photo-kind",
            f"{_shown(path)} is no JPEG, PNG, WebP or HEIC by its first bytes, whatever its name "
            f"says; save the photograph as one of them.",
        )
    return Picture(content=content, digest=sha256(content).hexdigest(), media=media)


def media_of(content: bytes) -> str:
    """Tell the media type by the first bytes; empty where it is none of the four.

    JPEG: start of image and a marker, ITU-T T.81 B.1.1.3. PNG: the signature, W3C PNG 5.2. WebP:
    RFC 9649 2.4. HEIC: the brands of the file type box, ISO/IEC 23008-12 annex B (from memory).
    """
    if content.startswith(b"\xff\xd8\xff"):
        return "image/jpeg"
    if content.startswith(b"\x89PNG\r\n\x1a\n"):
        return "image/png"
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        return "image/webp"
    if content[4:8] == b"ftyp":
        box = content[8 : max(16, min(int.from_bytes(content[:4]), 256))]
        brands = {box[:4], *(box[at : at + 4] for at in range(8, len(box), 4))}
        if brands & set(_HEIC):
            return "image/heic"
    return ""


def keep_picture(folder: Path, picture: Picture) -> None:
    """Make a copy durable in a build's folder, for the owner only; JournalError if it cannot be.

    It appears whole or not at all. The same photograph twice is one file.
    """
    with told(folder.name):
        place = home(folder)
        make_folder(place)
        if _wrong(place / picture.name, picture.digest) == "":
            return
        handle, name = tempfile.mkstemp(prefix=_HIDDEN, dir=place)
        try:
            with os.fdopen(handle, "wb") as out:
                out.write(picture.content)
                out.flush()
                sync_file(handle)
            Path(name).rename(place / picture.name)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
        sync_folder(place)


def problems(folder: Path, records: Iterable[Record]) -> Iterator[str]:
    """Hold every photograph on record against its copy, those taken back too."""
    try:
        place = home(folder)
    except JournalError as error:
        yield error.message
        return
    named = {r.body["name"]: r.body["digest"] for r in records if r.kind == "photograph"}
    for name, digest in named.items():
        wrong = _wrong(place / Path(name).name, digest)
        if wrong:
            yield f"{ATTACHMENTS}/{name} {wrong}"


def pictures(folder: Path, names: Iterable[str]) -> dict[str, bytes]:
    """Read copies by their digests; one that is missing or not what was copied is left out."""
    found: dict[str, bytes] = {}
    try:
        place = home(folder)
    except JournalError:
        return found
    for name in dict.fromkeys(names):
        digest = name.partition(".")[0]
        path = place / Path(name).name
        if _wrong(path, digest) == "":
            found[digest] = path.read_bytes()
    return found


def open_plain(path: Path) -> BinaryIO:
    """Open a plain file, never through a link in its last name; OSError where it is none."""
    return os.fdopen(_open(path), "rb")


def home(folder: Path) -> Path:
    """Give where a build's photographs are; JournalError where that is a link.

    What is not the build's own would be carried away in a backup, or written into.
    """
    found = folder / ATTACHMENTS
    if found.is_symlink():
        raise JournalError(
            "unfit",
            f"{folder.name}: {ATTACHMENTS} is a link to another folder; put the folder itself "
            f"there",
        )
    return found


def is_unfinished(path: Path) -> bool:
    """Tell whether a file is a copy that a crash left unfinished; nothing on record names it."""
    return path.name.startswith(_HIDDEN)


def _open(path: Path) -> int:
    """Open a plain file for reading; OSError where it is none or is not to be had.

    A pipe is not waited for, and a link in the last name is not followed.
    """
    handle = os.open(path, _FLAGS)
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise NotPlain(errno.EINVAL, "is no plain file", str(path))
    return handle


def _wrong(path: Path, digest: str) -> str:
    """Say what is wrong with a copy; empty when it is what was copied."""
    found = sha256()
    try:
        with os.fdopen(_open(path), "rb") as source:
            while block := source.read(_BLOCK):
                found.update(block)
    except FileNotFoundError:
        return "is missing"
    except NotPlain:
        return "is no plain file"
    except OSError as fault:
        return f"cannot be read ({fault.strerror})"
    return "" if found.hexdigest() == digest else "is not the photograph that was copied"


def _shown(path: Path) -> str:
    text = str(path)
    return f"“{text if len(text) <= 200 else f'{text[:200]}…'}”"


def _too_large(size: int) -> str:
    return f"is {size / 1e6:.0f} MB; {LARGEST // (1024 * 1024)} MiB are the most. Save it smaller."


def _why(fault: OSError | ValueError, path: Path) -> str:
    code = getattr(fault, "errno", None)
    if isinstance(fault, NotPlain) or code == errno.ENXIO:
        return "is no plain file; give a photograph"
    if code in (errno.ELOOP, errno.EMLINK) and path.is_symlink():
        return "is a link; give the file that it points to"
    if code == errno.ENOENT:
        return "is not there; check the path (in quotes where it has spaces)"
    return f"cannot be read ({getattr(fault, 'strerror', None) or fault}); check the path"
