"""Photographs: which files are taken, how they are kept, and that damage to them shows."""

import os
import shutil
import socket
import stat
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from driving import ENGINE
from snugset.bench import Bench
from snugset.guide.events import Record
from snugset.guide.ruling import Decision, Refusal
from snugset.journal import attachments, pictured
from snugset.journal.archive import unpack
from snugset.journal.attachments import LARGEST, PhotoError, media_of, pictures, read_picture
from snugset.journal.carry import backup, restore
from snugset.journal.errors import JournalError
from snugset.journal.owner import Owner
from snugset.journal.reading import verify
from snugset.journal.shelf import Shelf
from snugset.opening import begin
from snugset.plan.plan import Pinned
from snugset.play import Paced

JPEG = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00" + bytes(range(256)) * 8
PNG = b"\x89PNG\r\n\x1a\n" + b"\x00\x00\x00\rIHDR" + bytes(40)
WEBP = b"RIFF\x24\x00\x00\x00WEBPVP8 " + bytes(40)
HEIC = b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + bytes(40)
HEIC_BY_ITS_LIST = b"\x00\x00\x00\x1cftypmif1\x00\x00\x00\x00mif1heicmiaf" + bytes(40)
AVIF = b"\x00\x00\x00\x1cftypavif\x00\x00\x00\x00avifmif1miaf" + bytes(40)
MP4 = b"\x00\x00\x00\x18ftypisom\x00\x00\x02\x00isommp42" + bytes(40)
OWNER = Owner.here(person="Wren", since="")
START = datetime(2026, 3, 6, 17, 40, tzinfo=UTC)
PROCEDURE = "snugset: procedure/1\nname: Small\nphases:\n  - title: Work\n    steps: [{do: one}]\n"


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path / "data")


@pytest.fixture
def folder(shelf: Shelf) -> Path:
    return begin(
        shelf,
        name="Small",
        procedure=Pinned(file="small.yaml", text=PROCEDURE),
        engine=Pinned(file="engine.yaml", text=ENGINE.read_text("utf-8")),
        specs=None,
        owner=OWNER,
        moment=START,
    )


def _say(folder: Path, *typed: str) -> Decision | Refusal:
    with Bench.open(folder, owner=OWNER, clock=Paced(START), fresh=True) as bench:
        for each in typed:
            outcome = bench.say(each)
    return outcome


def _into_a_folder(path: Path) -> None:
    path.unlink()
    path.mkdir()


def _into_a_pipe(path: Path) -> None:
    path.unlink()
    os.mkfifo(path)


def _into_a_link(path: Path) -> None:
    path.unlink()
    path.symlink_to("/dev/zero")


def _picture(tmp_path: Path, content: bytes = JPEG, name: str = "a.jpg") -> Path:
    path = tmp_path / name
    path.write_bytes(content)
    return path


@pytest.mark.parametrize(
    ("content", "media"),
    [
        (JPEG, "image/jpeg"),
        (PNG, "image/png"),
        (WEBP, "image/webp"),
        (HEIC, "image/heic"),
        (HEIC_BY_ITS_LIST, "image/heic"),
        (AVIF, ""),
        (MP4, ""),
        (b"", ""),
        (b"\xff\xd8", ""),
        (b"GIF89a" + bytes(20), ""),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", ""),
        (b"%PDF-1.7", ""),
        (b"RIFF\x24\x00\x00\x00WAVEfmt ", ""),
        (b"\xff\xff\xff\xffftypheic", "image/heic"),
        (b"\x00\x00\x00\x00ftyp", ""),
    ],
)
def test_the_type_is_told_by_the_first_bytes(content: bytes, media: str) -> None:
    assert media_of(content) == media


def test_a_photograph_is_in_the_folder_before_its_event(folder: Path, tmp_path: Path) -> None:
    outcome = _say(folder, f"photo {_picture(tmp_path)}  left bank,  wet")
    assert isinstance(outcome, Decision)
    kept = list((folder / "attachments").iterdir())
    assert [stat.S_IMODE(path.stat().st_mode) for path in kept] == [0o600]
    assert kept[0].read_bytes() == JPEG
    found = verify(folder)
    assert found.whole
    with Bench.open(folder, owner=OWNER, clock=Paced(START), fresh=True) as bench:
        (photo,) = bench.state.photographs
        assert kept[0].name == photo.name == f"{photo.digest}.jpg"
        assert (photo.caption, photo.media, photo.size) == ("left bank, wet", "image/jpeg", 2059)
        assert str(photo.address) == "one"
    assert pictures(folder, [photo.name]) == {photo.digest: JPEG}


def test_the_copy_is_durable_before_the_record_is(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    order: list[str] = []
    monkeypatch.setattr(attachments, "sync_file", lambda _handle: order.append("bytes"))
    monkeypatch.setattr(attachments, "sync_folder", lambda _path: order.append("name"))
    store = Bench._store

    def stored(self: Bench, *args: object) -> None:
        order.append("record")
        store(self, *args)  # type: ignore[arg-type]

    monkeypatch.setattr(Bench, "_store", stored)
    _say(folder, f"photo {_picture(tmp_path)}")
    assert order == ["bytes", "name", "record"]


def test_a_full_disk_keeps_nothing(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(attachments, "sync_file", full)
    with pytest.raises(JournalError) as error:
        _say(folder, f"photo {_picture(tmp_path)}")
    assert error.value.code == "disk"
    assert list((folder / "attachments").iterdir()) == []
    assert verify(folder).records == 1


def test_the_same_photograph_twice_is_one_file_and_two_records(
    folder: Path, tmp_path: Path
) -> None:
    path = _picture(tmp_path)
    _say(folder, f"photo {path} first", f"photo {path} second")
    assert len(list((folder / "attachments").iterdir())) == 1
    assert verify(folder).records == 3


def test_a_copy_that_was_damaged_is_put_right_by_attaching_it_again(
    folder: Path, tmp_path: Path
) -> None:
    path = _picture(tmp_path)
    _say(folder, f"photo {path}")
    (copy,) = (folder / "attachments").iterdir()
    copy.write_bytes(b"something else")
    _say(folder, f"photo {path}")
    assert copy.read_bytes() == JPEG
    assert verify(folder).whole


def test_taken_back_it_is_off_the_record_and_still_proven(folder: Path, tmp_path: Path) -> None:
    _say(folder, f"photo {_picture(tmp_path)}", "back")
    with Bench.open(folder, owner=OWNER, clock=Paced(START), fresh=True) as bench:
        assert bench.state.photographs == ()
    (copy,) = (folder / "attachments").iterdir()
    copy.unlink()
    assert not verify(folder).whole


@pytest.mark.parametrize(
    ("harm", "words"),
    [
        (lambda p: p.unlink(), "is missing"),
        (lambda p: p.write_bytes(JPEG + b"x"), "is not the photograph that was copied"),
        (lambda p: p.write_bytes(b""), "is not the photograph that was copied"),
        (_into_a_folder, "is no plain file"),
        (_into_a_pipe, "is no plain file"),
        (_into_a_link, "cannot be read"),
    ],
)
def test_verify_says_which_copy_is_not_what_was_copied(
    folder: Path, tmp_path: Path, harm: Callable[[Path], object], words: str
) -> None:
    _say(folder, f"photo {_picture(tmp_path)}")
    (copy,) = (folder / "attachments").iterdir()
    harm(copy)
    found = verify(folder)
    assert not found.whole
    assert [words in problem and copy.name in problem for problem in found.problems] == [True]
    assert found.records == 2
    assert pictures(folder, [copy.name]) == {}


def test_a_name_on_record_that_leads_elsewhere_is_not_followed(folder: Path) -> None:
    secret = folder.parent / "secret"
    secret.write_bytes(JPEG)
    body = {"name": "../../secret", "digest": "0" * 64}
    record = Record(
        sequence=2, answer=1, at="2026-03-06T17:40:00Z", person="W", kind="photograph", body=body
    )
    (problem,) = attachments.problems(folder, [record])
    assert problem.endswith("is missing")


def _refused(folder: Path, typed: str) -> Refusal:
    before = sorted(p.name for p in (folder / "attachments").iterdir())
    outcome = _say(folder, typed)
    assert isinstance(outcome, Refusal)
    assert sorted(p.name for p in (folder / "attachments").iterdir()) == before
    assert verify(folder).records == 1
    return outcome


def test_what_is_no_plain_file_is_refused_and_never_waited_for(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "folder").mkdir()
    (tmp_path / "link").symlink_to(_picture(tmp_path))
    (tmp_path / "nowhere").symlink_to(tmp_path / "gone")
    with socket.socket(socket.AF_UNIX) as bound:
        monkeypatch.chdir(tmp_path)  # a socket's whole name is short
        bound.bind("socket")
        for name, words in (
            ("pipe", "is no plain file"),
            ("folder", "is no plain file"),
            ("socket", "is no plain file"),
            ("link", "is a link; give the file that it points to"),
            ("nowhere", "is a link"),
            ("gone", "is not there"),
        ):
            refusal = _refused(folder, f"photo {tmp_path / name}")
            assert refusal.code == "photo-file", name
            assert words in refusal.words, (name, refusal.words)
    for device in ("/dev/zero", "/dev/null"):
        assert _refused(folder, f"photo {device}").code == "photo-file"


def test_what_is_no_photograph_is_refused_whatever_its_name(folder: Path, tmp_path: Path) -> None:
    path = _picture(tmp_path, b"#!/bin/sh\nrm -rf /\n", "nice.jpg")
    refusal = _refused(folder, f"photo {path}")
    assert refusal.code == "photo-kind"
    assert "JPEG, PNG, WebP or HEIC" in refusal.words


def test_what_is_too_large_is_refused_unread(folder: Path, tmp_path: Path) -> None:
    path = tmp_path / "large.jpg"
    with path.open("wb") as out:
        out.write(JPEG)
        out.truncate(LARGEST + 1)
    refusal = _refused(folder, f"photo {path}")
    assert (refusal.code, "25 MiB" in refusal.words) == ("photo-size", True)
    with path.open("r+b") as out:
        out.truncate(LARGEST)
    assert read_picture(path).media == "image/jpeg"


@pytest.mark.parametrize("typed", ["photo", "photo ", "photo '/tmp/un ended", "photo ''"])
def test_a_path_that_is_none_is_refused(folder: Path, typed: str) -> None:
    assert _refused(folder, typed).code in ("empty", "photo-file")


@pytest.mark.parametrize(
    ("typed", "path", "caption"),
    [
        ("a.jpg", "a.jpg", ""),
        ("a.jpg the builder's own", "a.jpg", "the builder's own"),
        ("'my head.jpg' it weeps # at 14", "my head.jpg", "it weeps # at 14"),
        ('"my head.jpg"', "my head.jpg", ""),
        (r"my\ head.jpg  two   words", "my head.jpg", "two words"),
        ("#1.jpg x", "#1.jpg", "x"),
        ("Köpfe/häd.jpg ö", "Köpfe/häd.jpg", "ö"),
        ("$(rm).jpg `x`;y", "$(rm).jpg", "`x`;y"),
    ],
)
def test_a_path_and_its_caption_are_told_apart(typed: str, path: str, caption: str) -> None:
    assert pictured.path_and_caption(typed) == (path, caption)


def test_a_hostile_name_leaves_no_trace(folder: Path, tmp_path: Path) -> None:
    name = "[bold]..$(x)<script>-rf.jpg"
    _picture(tmp_path, JPEG, name)
    assert isinstance(_say(folder, f"photo '{tmp_path}/{name}'"), Decision)
    assert name not in (folder / "journal.sqlite").read_bytes().decode("latin-1")
    (copy,) = (folder / "attachments").iterdir()
    assert copy.name.removesuffix(".jpg").isalnum()


def test_a_file_that_may_not_be_read_is_refused(tmp_path: Path) -> None:
    path = _picture(tmp_path)
    path.chmod(0)
    if os.access(path, os.R_OK):  # root reads everything
        path.unlink()
        path = Path("a\x00b")
    with pytest.raises(PhotoError) as error:
        read_picture(path)
    assert error.value.code == "photo-file"


def test_a_backup_carries_them_and_a_restored_build_is_whole(folder: Path, tmp_path: Path) -> None:
    _say(folder, f"photo {_picture(tmp_path)} left", f"photo {_picture(tmp_path, PNG, 'b')}")
    unfinished = folder / "attachments" / ".new-cut-short"
    unfinished.write_bytes(b"half")
    target = tmp_path / "one.snugset"
    backup(folder, target)
    other = Shelf(tmp_path / "other")
    restored = other.folder(restore(target, other))
    assert verify(restored).whole
    names = sorted(path.name for path in (restored / "attachments").iterdir())
    assert names == sorted(p.name for p in (folder / "attachments").iterdir() if p != unfinished)
    assert {path.read_bytes() for path in (restored / "attachments").iterdir()} == {JPEG, PNG}


def test_a_backup_whose_photograph_was_changed_is_not_restored(
    folder: Path, tmp_path: Path
) -> None:
    _say(folder, f"photo {_picture(tmp_path)}")
    target = tmp_path / "one.snugset"
    backup(folder, target)
    target.write_bytes(target.read_bytes().replace(b"JFIF", b"JFIX"))
    with pytest.raises(ValueError, match="damaged"):
        unpack(target, tmp_path / "out")
    shutil.rmtree(tmp_path / "out", ignore_errors=True)
