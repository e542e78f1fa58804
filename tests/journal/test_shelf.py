"""The list of builds, and finding one."""

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from snugset.journal.errors import JournalError, UnknownBuild
from snugset.journal.head import Head
from snugset.journal.journal import Journal
from snugset.journal.mounts import warn_if_network
from snugset.journal.shelf import Shelf, data_folder

from .helpers import owner, record


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    shelf = Shelf(tmp_path)
    for build, name, updated in (
        ("barn-1", "Barn pump six", "2026-11-02T18:04:00Z"),
        ("barn-2", "Barn pump six", "2026-11-04T07:00:00Z"),
        ("mill", "The mill's engine", "2026-11-03T09:30:00Z"),
    ):
        Journal.create(
            shelf.new_folder(build),
            owner=owner(),
            records=[record(1)],
            head=Head(name=name, updated=updated, waiting_for="parts"),
        ).close()
    return shelf


def test_the_list_has_the_latest_first_and_what_cannot_be_read_last(shelf: Shelf) -> None:
    (shelf.path / "barn-2" / "journal.sqlite").write_bytes(b"")
    (shelf.path / "stray.txt").write_text("no build")
    (shelf.path / ".new-abc").mkdir()
    listed = shelf.builds()
    assert [entry.id for entry in listed] == ["mill", "barn-1", "barn-2"]
    assert listed[0].head is not None
    assert listed[0].head.name == "The mill's engine"
    assert listed[0].head.waiting_for == "parts"
    assert listed[0].wrong == ""
    assert listed[2].head is None
    assert listed[2].wrong.startswith("barn-2: journal.sqlite is empty")


def test_a_build_that_is_being_made_is_not_on_the_shelf(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A kill just before it is in its place leaves it out of sight."""

    def killed(stage: Path, _folder: Path) -> None:
        assert (stage / "journal.sqlite").is_file()
        assert Shelf(tmp_path).builds() == ()
        assert len(Shelf(tmp_path)) == 0
        raise KeyboardInterrupt

    monkeypatch.setattr("snugset.journal.journal.place", killed)
    with pytest.raises(KeyboardInterrupt):
        Journal.create(Shelf(tmp_path).new_folder("barn"), owner=owner())


def test_an_empty_shelf_is_an_empty_list_and_makes_nothing(tmp_path: Path) -> None:
    assert Shelf(tmp_path / "data").builds() == ()
    assert not (tmp_path / "data").exists()


@pytest.mark.parametrize(
    ("text", "found"),
    [("mill", "mill"), ("m", "mill"), ("barn-1", "barn-1"), ("The mill's engine", "mill")],
)
def test_a_build_goes_by_its_id_its_name_or_the_only_beginning(
    shelf: Shelf, text: str, found: str
) -> None:
    assert shelf.folder(text) == shelf.path / found


def test_an_id_is_meant_before_a_longer_one_and_before_a_name(shelf: Shelf) -> None:
    Journal.create(
        shelf.new_folder("mil"), owner=owner(), records=[record(1)], head=Head(name="barn-1")
    ).close()
    assert shelf.folder("mil").name == "mil"
    assert shelf.folder("barn-1").name == "barn-1"


@pytest.mark.parametrize(
    ("text", "words", "near"),
    [
        ("mlil", "there is no build “mlil”; did you mean “mill”?", ("mill",)),
        ("The mills engine", "did you mean “The mill's engine”?", ("The mill's engine",)),
        ("barn", "“barn” may be any of barn-1, barn-2; give the id", ("barn-1", "barn-2")),
        ("Barn pump six", "may be any of barn-1, barn-2", ("barn-1", "barn-2")),
        ("zzzz", "there is no build “zzzz”; see: snugset list", ()),
        ("", "there is no build “”; see: snugset list", ()),
        ("../builds/mill", "there is no build “../builds/mill”", None),
        ("mill/attachments", "there is no build “mill/attachments”", None),
        (".", "there is no build “.”", None),
        ("\x1b[2J", "there is no build “�[2J”", None),
    ],
)
def test_an_unknown_build_is_said_with_the_near_ones(
    shelf: Shelf, text: str, words: str, near: tuple[str, ...] | None
) -> None:
    with pytest.raises(UnknownBuild) as caught:
        shelf.folder(text)
    assert words in str(caught.value)
    assert caught.value.code == "unknown-build"
    assert near is None or caught.value.near == near


def test_with_no_builds_the_way_to_begin_is_named(tmp_path: Path) -> None:
    with pytest.raises(UnknownBuild) as caught:
        Shelf(tmp_path).folder("barn")
    assert str(caught.value) == f"there are no builds in {tmp_path}/builds; begin one: snugset new"


def test_a_new_build_gets_a_place_of_its_own(shelf: Shelf) -> None:
    assert shelf.new_folder("barn-3") == shelf.path / "barn-3"
    assert not (shelf.path / "barn-3").exists()
    assert stat.S_IMODE(shelf.path.stat().st_mode) == 0o700
    with pytest.raises(JournalError) as caught:
        shelf.new_folder("mill")
    assert caught.value.code == "exists"


@pytest.mark.parametrize("text", ["", ".", "..", "a/b", ".new-1", "a b", "é", "a" * 65, "a\n"])
def test_what_is_no_id_gets_no_place(shelf: Shelf, text: str) -> None:
    with pytest.raises(ValueError, match="is no id"):
        shelf.new_folder(text)


@pytest.mark.parametrize(
    ("environ", "folder"),
    [
        ({"SNUGSET_DATA": "/srv/shop", "XDG_DATA_HOME": "/x", "HOME": "/home/ann"}, "/srv/shop"),
        ({"XDG_DATA_HOME": "/x", "HOME": "/home/ann"}, "/x/snugset"),
        # "All paths set in these environment variables must be absolute. If an implementation
        # encounters a relative path […] it should consider the path invalid and ignore it."
        # XDG Base Directory Specification 0.8
        ({"XDG_DATA_HOME": "x", "HOME": "/home/ann"}, "/home/ann/.local/share/snugset"),
        ({"SNUGSET_DATA": "", "HOME": "/home/ann"}, "/home/ann/.local/share/snugset"),
    ],
)
def test_where_the_builds_are_kept(environ: dict[str, str], folder: str) -> None:
    assert data_folder(environ) == Path(folder)


def test_a_list_starts_without_what_it_does_not_need() -> None:
    heavy = ("dataclasses", "zipfile", "tempfile", "shutil", "uuid", "difflib", "hashlib", "random")
    asked = f"import sys, snugset.journal.shelf; print([m for m in {heavy} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"


MOUNTS = """\
/dev/sda1 / ext4 rw 0 0
server:/home /home nfs4 rw 0 0
/dev/sdb1 /home/ann ext4 rw 0 0
bench:/shop /mnt/the\\040shop fuse.sshfs rw 0 0
/dev/sdc1 /media ext4 rw 0 0
//nas/media /media cifs rw 0 0
broken
"""


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("/home/bob/data", "nfs4"),
        ("/home/ann/data", None),
        ("/home/annabel", "nfs4"),
        ("/mnt/the shop/builds", "fuse.sshfs"),
        ("/media", "cifs"),
        ("/srv", None),
    ],
)
def test_a_folder_on_another_machine_is_warned_about(
    tmp_path: Path, path: str, kind: str | None
) -> None:
    mounts = tmp_path / "mounts"
    mounts.write_text(MOUNTS)
    warning = warn_if_network(Path(path), mounts)
    if kind is None:
        assert warning is None
    else:
        assert warning is not None
        assert warning.startswith(f"{path} is on a network file system ({kind}), which may lose")


def test_nothing_is_said_where_nothing_is_known(tmp_path: Path) -> None:
    assert warn_if_network(tmp_path, tmp_path / "none") is None


def test_the_newest_alone_are_those_whose_files_were_written_last(shelf: Shelf) -> None:
    for moment, build in enumerate(("mill", "barn-2", "barn-1"), 1_000_000_000):
        os.utime(shelf.path / build / "journal.sqlite", (moment, moment))
    (shelf.path / "empty").mkdir()
    assert [entry.id for entry in shelf.builds(newest=2)] == ["barn-2", "barn-1"]
    assert len(shelf.builds(newest=9)) == 4
