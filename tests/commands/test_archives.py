"""Archives of strangers given to restore, and backups of builds whose photographs are spoiled."""

import gzip
import io
import json
import shutil
import stat
import tarfile
import zipfile
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from snugset.journal.reading import read_records

from .shell import Shell

BUILD = "barn-pump-six-spring-rebuild"
JPEG = b"\xff\xd8\xff\xe0\x00\x10JFIF" + bytes(40)
SECRET = b"nobody's but the owner's"
Members = dict[str, tuple[bytes, int]]
"""What an archive holds: bytes and mode by name."""


def _archive(kept: Path, more: Members) -> Path:
    """Make a backup anew with more in it, all of it in its manifest."""
    with zipfile.ZipFile(kept) as old:
        held = {name: (old.read(name), stat.S_IFREG | 0o600) for name in old.namelist()}
    told: dict[str, Any] = json.loads(held.pop("manifest.json")[0])
    for name, (data, _) in more.items():
        told["files"][name] = {"bytes": len(data), "sha256": sha256(data).hexdigest()}
    held |= more
    held["manifest.json"] = (json.dumps(told).encode(), stat.S_IFREG | 0o600)
    made = kept.with_name("made.snugset")
    with zipfile.ZipFile(made, "w") as out:
        for name, (data, mode) in held.items():
            info = zipfile.ZipInfo(name)
            info.create_system, info.external_attr = 3, mode << 16
            out.writestr(info, data)
    return made


def _tar(kept: Path, kind: bytes) -> Path:
    """Make another kind of archive, with a link or a device in it."""
    made = kept.with_name("made.tar")
    with tarfile.open(made, "w") as out:
        for name in ("journal.sqlite", "attachments/deck.jpg", "../escaped"):
            info = tarfile.TarInfo(name)
            info.type, info.linkname = kind, "../../../secret"
            out.addfile(info, io.BytesIO())
    return made


def _member(name: str, mode: int, data: bytes = b"../../../secret") -> Callable[[Path], Path]:
    return lambda kept: _archive(kept, {name: (data, mode)})


def _claims(size: int) -> Callable[[Path], Path]:
    """Make an archive whose lists claim a size that a member has not."""

    def change(kept: Path) -> Path:
        made = _archive(kept, {"attachments/deck.jpg": (JPEG, stat.S_IFREG)})
        content = bytearray(made.read_bytes())
        at = content.rindex(b"attachments/deck.jpg", 0, content.rindex(b"manifest.json"))
        content[at - 22 : at - 18] = size.to_bytes(4, "little")
        made.write_bytes(content)
        return made

    return change


def _gzip(kept: Path) -> Path:
    made = kept.with_name("made.gz")
    made.write_bytes(gzip.compress(bytes(64 * 1024 * 1024)))
    return made


def _swelling(kept: Path) -> Path:
    made = _archive(kept, {})
    with zipfile.ZipFile(made, "a", zipfile.ZIP_DEFLATED) as out:
        out.writestr("attachments/deck.jpg", bytes(64 * 1024 * 1024))
    return made


def _many(kept: Path) -> Path:
    return _archive(kept, {f"attachments/{n:06}.jpg": (b"", stat.S_IFREG) for n in range(6000)})


@pytest.mark.parametrize(
    "make",
    [
        _member("attachments/deck.jpg", stat.S_IFLNK | 0o777),
        _member("attachments/deck.jpg", stat.S_IFCHR | 0o666),
        _member("attachments/deck.jpg", stat.S_IFBLK | 0o666),
        _member("attachments/deck.jpg", stat.S_IFIFO | 0o666),
        _member("attachments/deck.jpg", stat.S_IFSOCK | 0o666),
        _member("attachments", stat.S_IFLNK | 0o777),
        _member("attachments/", stat.S_IFDIR | 0o777, b""),
        _member("../escaped", stat.S_IFREG),
        _member("attachments/../../escaped", stat.S_IFREG),
        _member("/tmp/escaped", stat.S_IFREG),  # noqa: S108 - a name in an archive
        _member("attachments\\..\\escaped", stat.S_IFREG),
        _member("lock", stat.S_IFREG),
        lambda kept: _tar(kept, tarfile.SYMTYPE),
        lambda kept: _tar(kept, tarfile.LNKTYPE),
        lambda kept: _tar(kept, tarfile.CHRTYPE),
        _claims(0xFFFFFFF0),
        _claims(0),
        _gzip,
        _swelling,
        _many,
    ],
)
def test_an_archive_of_a_stranger_is_refused_and_writes_nothing(
    full: Shell, tmp_path: Path, make: Callable[[Path], Path]
) -> None:
    full.ok("backup", BUILD, "kept.snugset")
    made = make(Path("kept.snugset"))
    before = sorted(tmp_path.rglob("*"))
    ran = full("restore", made)
    assert (ran.code, ran.out) == (1, "")
    assert ran.err.count("\n") == 1
    assert ran.err.startswith(f"snugset: {made.name} cannot be restored: "), ran.err
    assert sorted(tmp_path.rglob("*")) == before


def test_made_anew_without_harm_it_is_restored(full: Shell) -> None:
    """Or the archives above would be refused for how they are made."""
    full.ok("backup", BUILD, "kept.snugset")
    made = _archive(Path("kept.snugset"), {"attachments/deck.jpg": (JPEG, stat.S_IFREG | 0o600)})
    full.ok("restore", made)
    assert (full.data / "builds" / f"{BUILD}-2" / "attachments" / "deck.jpg").read_bytes() == JPEG


def _linked(copy: Path) -> None:
    copy.unlink()
    copy.symlink_to(copy.parents[3] / "secret")


def _foldered(copy: Path) -> None:
    copy.unlink()
    copy.mkdir()


@pytest.mark.parametrize(
    ("harm", "words"),
    [
        (lambda copy: copy.unlink(), "is missing"),
        (lambda copy: copy.write_bytes(JPEG[:-1]), "is not the photograph that was copied"),
        (_linked, "cannot be read"),
        (_foldered, "is no plain file"),
    ],
    ids=["missing", "changed", "a link", "a folder"],
)
def test_a_backup_tells_of_a_spoiled_photograph_and_is_made(
    full: Shell, harm: Callable[[Path], None], words: str
) -> None:
    (full.data / "secret").write_bytes(SECRET)
    for number in range(2):
        Path("deck.jpg").write_bytes(JPEG + bytes(number))
        full.ok("attach", BUILD, "deck.jpg")
    folder = full.data / "builds" / BUILD
    good, spoiled = sorted((folder / "attachments").iterdir())
    full.ok("backup", BUILD, "before.snugset")
    harm(spoiled)
    ran = full("backup", BUILD, "barn.snugset")
    assert ran.code == 1
    assert f"{BUILD} is in barn.snugset" in ran.out
    assert f"attachments/{spoiled.name} {words}" in ran.err
    assert "its photographs are not" in ran.err
    assert good.name not in ran.err
    assert SECRET not in Path("barn.snugset").read_bytes()
    full.ok("restore", "barn.snugset")
    again = folder.with_name(f"{BUILD}-2")
    assert read_records(again) == read_records(folder)
    assert (again / "attachments" / good.name).read_bytes() == good.read_bytes()
    assert full("verify", again.name).code == 1
    shutil.rmtree(again)
    full.ok("restore", "before.snugset")
    full.ok("verify", again.name)
