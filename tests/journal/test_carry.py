"""A build as one file: whole when it comes back, harmless when it comes from a stranger."""

import io
import json
import stat
import struct
import zipfile
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from snugset.journal.carry import backup, copy_records, restore
from snugset.journal.errors import JournalError
from snugset.journal.journal import Journal
from snugset.journal.reading import read_records, verify
from snugset.journal.shelf import Shelf

from .helpers import HEAD, build, forge, owner, raw, record, records, watch_syncs

PHOTO = bytes(range(256)) * 2000


@pytest.fixture
def barn(tmp_path: Path) -> Path:
    folder = build(tmp_path / "data" / "builds" / "barn")
    (folder / "attachments" / "bench 2").mkdir()
    (folder / "attachments" / "scratch.jpg").write_bytes(PHOTO)
    (folder / "attachments" / "bench 2" / "Öl.txt").write_bytes(b"")
    return folder


@pytest.fixture
def kept(barn: Path, tmp_path: Path) -> Path:
    backup(barn, tmp_path / "barn.zip")
    return tmp_path / "barn.zip"


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path / "other")


def content(folder: Path) -> dict[str, bytes]:
    files = [path for path in folder.rglob("*") if path.is_file() and path.name != "lock"]
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in files
        if path.name != "journal.sqlite-journal"
    }


def refusal(file: Path, shelf: Shelf) -> JournalError:
    """What restoring says; nothing is left of it, on the shelf or beside it."""
    around = sorted(shelf.path.parent.parent.rglob("*"))
    with pytest.raises(JournalError) as caught:
        restore(file, shelf)
    left = sorted(shelf.path.parent.parent.rglob("*"))
    assert [path for path in left if path not in (*around, shelf.path, shelf.path.parent)] == []
    return caught.value


def test_what_comes_back_is_what_went(barn: Path, kept: Path, shelf: Shelf) -> None:
    assert restore(kept, shelf) == "barn"
    assert content(shelf.path / "barn") == content(barn)
    with Journal.open(shelf.path / "barn", owner=owner()) as journal:
        journal.append([record(6)], HEAD)
    assert read_records(shelf.path / "barn") == tuple(records(1, 6))


def test_the_digest_that_is_told_is_the_chains(barn: Path, tmp_path: Path) -> None:
    assert backup(barn, tmp_path / "b.zip") == verify(barn).digest


def test_the_same_build_gives_the_same_file(barn: Path, kept: Path, tmp_path: Path) -> None:
    (barn / "attachments" / "scratch.jpg").touch()
    backup(barn, tmp_path / "again.zip")
    assert (tmp_path / "again.zip").read_bytes() == kept.read_bytes()


def test_it_is_for_the_owner_only_and_comes_back_so(kept: Path, shelf: Shelf) -> None:
    restore(kept, shelf)
    for path in (kept, shelf.path.parent, shelf.path, *shelf.path.rglob("*")):
        wanted = 0o700 if path.is_dir() else 0o600
        assert stat.S_IMODE(path.stat().st_mode) == wanted, path


def test_what_comes_back_is_on_the_disk(
    kept: Path, shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    synced = watch_syncs(monkeypatch)
    restore(kept, shelf)
    for path in (shelf.path, *shelf.path.rglob("*")):
        assert path.stat().st_ino in synced, path


def test_a_backup_is_on_the_disk_with_its_name(
    barn: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    synced = watch_syncs(monkeypatch)
    for name, write in (("one.zip", backup), ("two.zip", _copy)):
        synced.clear()
        write(barn, tmp_path / name)
        assert synced[-2:] == [(tmp_path / name).stat().st_ino, tmp_path.stat().st_ino]


def _copy(folder: Path, target: Path) -> str:
    return copy_records(folder, read_records(folder), HEAD, target)


def test_any_zip_program_can_look_into_it(kept: Path) -> None:
    with zipfile.ZipFile(kept) as archive:
        assert archive.testzip() is None
        assert archive.namelist() == [
            "journal.sqlite",
            "attachments/bench 2/Öl.txt",
            "attachments/scratch.jpg",
            "manifest.json",
        ]


def test_a_build_that_is_open_is_backed_up_as_it_stands(barn: Path, tmp_path: Path) -> None:
    with Journal.open(barn, owner=owner()) as journal:
        journal.append([record(6)], HEAD)
        assert backup(barn, tmp_path / "open.zip") == journal.digest
        journal.append([record(7)], HEAD)
    shelf = Shelf(tmp_path / "other")
    restore(tmp_path / "open.zip", shelf)
    assert read_records(shelf.path / "barn") == tuple(records(1, 6))


def test_a_build_that_is_there_is_never_overwritten(barn: Path, kept: Path) -> None:
    shelf = Shelf(barn.parent.parent)
    with Journal.open(barn, owner=owner()) as journal:
        journal.append([record(6)], HEAD)
    (shelf.path / "barn-2").mkdir()
    (shelf.path / "barn-2" / "something").write_text("kept")
    assert [restore(kept, shelf), restore(kept, shelf)] == ["barn-3", "barn-4"]
    assert read_records(barn) == tuple(records(1, 6))
    assert read_records(shelf.path / "barn-4") == tuple(records(1, 5))


def test_a_file_that_is_there_is_never_overwritten(barn: Path, kept: Path) -> None:
    before = kept.read_bytes()
    with pytest.raises(JournalError) as caught:
        backup(barn, kept)
    assert caught.value.code == "exists"
    assert str(caught.value) == f"{kept} is there already; choose another name"
    assert kept.read_bytes() == before
    assert [path.name for path in kept.parent.iterdir() if path.is_file()] == ["barn.zip"]


def test_a_link_to_nothing_is_a_name_that_is_taken(barn: Path, tmp_path: Path) -> None:
    link = tmp_path / "link.zip"
    link.symlink_to(tmp_path / "disk that is not plugged in" / "barn.zip")
    with pytest.raises(JournalError) as caught:
        backup(barn, link)
    assert caught.value.code == "exists"
    assert link.is_symlink()


def test_a_file_that_comes_meanwhile_is_not_overwritten(
    barn: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "meanwhile.zip"
    monkeypatch.setattr(Path, "exists", lambda _path, **_kinds: False)  # as it was a moment ago
    target.write_text("kept")
    with pytest.raises(JournalError) as caught:
        backup(barn, target)
    assert caught.value.code == "exists"
    assert target.read_text() == "kept"


def test_a_damaged_build_is_not_backed_up_as_if_it_were_whole(barn: Path, tmp_path: Path) -> None:
    forge(barn, "UPDATE events SET body = '{}' WHERE sequence = 3")
    with pytest.raises(JournalError, match="record 3 is not what was written"):
        backup(barn, tmp_path / "barn.zip")
    assert not (tmp_path / "barn.zip").exists()


def test_a_backup_that_cannot_be_written_is_said(barn: Path, tmp_path: Path) -> None:
    with pytest.raises(JournalError) as caught:
        backup(barn, tmp_path / "nowhere" / "barn.zip")
    assert caught.value.code == "disk"


@pytest.mark.parametrize("name", ["new\nline.jpg", "back\\slash.jpg", "x" * 100 + "/" + "x" * 100])
def test_an_attachment_whose_name_cannot_be_carried_is_said(
    barn: Path, tmp_path: Path, name: str
) -> None:
    file = barn / "attachments" / name
    file.parent.mkdir(exist_ok=True)
    file.write_bytes(b"")
    with pytest.raises(JournalError, match="is too long or holds strange letters; copy its folder"):
        backup(barn, tmp_path / "barn.zip")


def test_a_backup_cut_short_anywhere(kept: Path, shelf: Shelf) -> None:
    whole = kept.read_bytes()
    for length in (0, 1, 3, 4, 21, 22, 30, *range(100, len(whole), 9973), len(whole) - 1):
        kept.write_bytes(whole[:length])
        error = refusal(kept, shelf)
        assert error.code == "damaged"
        assert str(error).startswith("barn.zip cannot be restored: it is ")
        assert str(error).endswith("; copy it again from where it was kept")


def test_a_flipped_bit_anywhere_is_found_or_harmless(kept: Path, shelf: Shelf, barn: Path) -> None:
    whole = kept.read_bytes()
    expected = content(barn)
    found = 0
    tail = len(whole) - 1200
    for place in (*range(0, tail, 9001), *range(tail, len(whole), 13)):
        flipped = bytearray(whole)
        flipped[place] ^= 1 << place % 8
        kept.write_bytes(flipped)
        try:
            build = restore(kept, shelf)
        except JournalError:
            found += 1
        else:
            assert content(shelf.path / build) == expected
    assert found > 60


def test_another_file_is_not_taken_for_a_backup(tmp_path: Path, shelf: Shelf) -> None:
    file = tmp_path / "letter.zip"
    file.write_bytes(b"Dear friend, " * 100)
    assert str(refusal(file, shelf)) == (
        "letter.zip cannot be restored: it is not a backup of a build; "
        "copy it again from where it was kept"
    )
    assert refusal(tmp_path / "nowhere.zip", shelf).code == "disk"


Change = Callable[[dict[str, Any], dict[str, bytes]], None]


def remade(kept: Path, change: Change, method: int = zipfile.ZIP_STORED) -> Path:
    """A stranger's backup: the manifest and the files as `change` leaves them."""
    with zipfile.ZipFile(kept) as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    manifest = json.loads(files.pop("manifest.json"))
    change(manifest, files)
    with zipfile.ZipFile(kept, "w", method) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
        archive.writestr("manifest.json", json.dumps(manifest), zipfile.ZIP_STORED)
    return kept


def add(manifest: dict[str, Any], files: dict[str, bytes], name: str, data: bytes) -> None:
    files[name] = data
    manifest["files"][name] = {"bytes": len(data), "sha256": sha256(data).hexdigest()}


def test_remaking_alone_does_no_harm(kept: Path, shelf: Shelf) -> None:
    assert restore(remade(kept, lambda _manifest, _files: None), shelf) == "barn"


@pytest.mark.parametrize(
    "name",
    [
        "../evil",
        "attachments/../../evil",
        "attachments/../evil",
        "/srv/evil",
        "attachments//evil",
        "attachments/./evil",
        "attachments/",
        "attachments/a\\..\\evil",
        "attachments/\x1b[2J",
        "attachments/\u202egpj.exe",
        "evil",
        "lock",
        "journal.sqlite-journal",
        "attachments",
        "attachments/" + "a" * 250,
    ],
)
def test_a_name_that_leads_elsewhere_is_refused(kept: Path, shelf: Shelf, name: str) -> None:
    file = remade(kept, lambda manifest, files: add(manifest, files, name, b"evil"))
    error = refusal(file, shelf)
    assert error.code == "damaged"
    assert "it holds a file with the unsafe name" in str(error)
    assert str(error).isprintable()


@pytest.mark.parametrize(
    "change",
    [
        lambda manifest, _: manifest.update(build="../evil"),
        lambda manifest, _: manifest.update(build=""),
        lambda manifest, _: manifest.update(snugset="backup/2"),
        lambda manifest, _: manifest.update(files=[]),
        lambda manifest, _: manifest["files"].pop("journal.sqlite"),
        lambda manifest, _: manifest["files"]["journal.sqlite"].update(bytes="many"),
        lambda manifest, _: manifest["files"]["journal.sqlite"].update(bytes=-1),
        lambda manifest, _: manifest.clear(),
    ],
)
def test_a_manifest_that_snugset_did_not_write(kept: Path, shelf: Shelf, change: Change) -> None:
    assert "its manifest is not one that Snugset writes" in str(
        refusal(remade(kept, change), shelf)
    )


@pytest.mark.parametrize(
    "change",
    [
        lambda manifest, _: manifest["files"]["journal.sqlite"].update(bytes=1),
        lambda _, files: files.pop("attachments/scratch.jpg"),
        lambda _, files: files.update({"attachments/more": b"not listed"}),
        lambda _, files: files.update({"../evil": b"not listed"}),
    ],
)
def test_files_that_are_not_those_listed(kept: Path, shelf: Shelf, change: Change) -> None:
    error = refusal(remade(kept, change), shelf)
    assert "its files are not those that its manifest lists" in str(error)


def test_a_file_that_is_not_the_one_listed(kept: Path, shelf: Shelf) -> None:
    def change(_: dict[str, Any], files: dict[str, bytes]) -> None:
        files["attachments/scratch.jpg"] = PHOTO[::-1]

    error = refusal(remade(kept, change), shelf)
    assert "“attachments/scratch.jpg” in it is damaged" in str(error)


def test_two_names_that_are_one_file(kept: Path, shelf: Shelf) -> None:
    def change(manifest: dict[str, Any], files: dict[str, bytes]) -> None:
        add(manifest, files, "attachments/scratch.jpg/below", b"")

    assert refusal(remade(kept, change), shelf).code == "damaged"


@pytest.mark.parametrize(
    "change",
    [
        lambda manifest, _: manifest.update(digest="0" * 64),
        lambda manifest, _: manifest.update(records=4),
    ],
)
def test_a_journal_that_is_not_the_one_named(kept: Path, shelf: Shelf, change: Change) -> None:
    assert "its journal is not the one that it names" in str(refusal(remade(kept, change), shelf))


def test_a_broken_or_newer_journal_inside_is_named(
    barn: Path, kept: Path, shelf: Shelf, tmp_path: Path
) -> None:
    for statement, code in (("user_version = 2", "newer"), ("application_id = 1", "foreign")):
        with raw(barn) as connection:
            connection.execute(f"PRAGMA {statement}")
        changed = (barn / "journal.sqlite").read_bytes()
        file = tmp_path / f"{code}.zip"
        file.write_bytes(kept.read_bytes())
        remade(file, lambda manifest, files: add(manifest, files, "journal.sqlite", changed))  # noqa: B023 - called at once
        assert refusal(file, shelf).code == code


def test_what_would_swell_is_refused_before_it_does(kept: Path, shelf: Shelf) -> None:
    zeros = bytes(300_000_000)
    file = remade(
        kept,
        lambda manifest, files: add(manifest, files, "attachments/bomb", zeros),
        zipfile.ZIP_DEFLATED,
    )
    assert file.stat().st_size < 2_000_000
    assert "was packed by another program" in str(refusal(file, shelf))


def test_a_manifest_that_would_swell_is_refused(kept: Path, shelf: Shelf) -> None:
    with zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("manifest.json", b"[" * 100_000_000)
    assert "its manifest is not one that Snugset writes" in str(refusal(kept, shelf))


def test_a_manifest_without_bottom_is_refused(kept: Path, shelf: Shelf) -> None:
    with zipfile.ZipFile(kept, "w") as archive:
        archive.writestr("manifest.json", b"[" * 1_000_000)
    assert "its manifest is no list of files" in str(refusal(kept, shelf))


def test_files_that_share_their_bytes_are_refused(kept: Path, shelf: Shelf) -> None:
    size = len(PHOTO)

    def change(manifest: dict[str, Any], _: dict[str, bytes]) -> None:
        entry = manifest["files"]["attachments/scratch.jpg"]
        manifest["files"] |= {f"attachments/copy-{number}": entry for number in range(50)}

    remade(kept, change)
    with zipfile.ZipFile(kept, "a") as archive:
        shared = archive.getinfo("attachments/scratch.jpg")
        for number in range(50):
            info = zipfile.ZipInfo(f"attachments/copy-{number}")
            info.header_offset = shared.header_offset
            info.file_size = info.compress_size = size
            info.CRC = shared.CRC
            archive.filelist.append(info)
            archive.NameToInfo[info.filename] = info
        archive._didModify = True  # type: ignore[attr-defined]
    assert kept.stat().st_size < 3 * size
    assert "its files overlap" in str(refusal(kept, shelf))


def test_two_files_of_one_name_are_refused(kept: Path, shelf: Shelf) -> None:
    with zipfile.ZipFile(kept, "a") as archive, pytest.warns(UserWarning, match="Duplicate"):
        archive.writestr("attachments/scratch.jpg", PHOTO)
    assert "its files are not those that its manifest lists" in str(refusal(kept, shelf))


def test_a_longer_list_hidden_behind_a_short_one_is_refused(kept: Path, shelf: Shelf) -> None:
    content = kept.read_bytes()
    entries, size, place = struct.unpack("<H2L", content[-12:-2])
    # Zip64: a second end record with a list of its own, and the locator that leads readers to it.
    # APPNOTE 6.3.10, 4.3.14 and 4.3.15
    record64 = struct.pack(
        "<4sQ2H2L4Q", b"PK\6\6", 44, 45, 45, 0, 0, entries, entries, place + size, 0
    )
    locator = struct.pack("<4sLQL", b"PK\6\7", 0, place + size, 1)
    end = content[-22:-10] + struct.pack("<2LH", size + len(record64 + locator), place, 0)
    kept.write_bytes(content[:-22] + record64 + locator + end)
    assert "it holds too many files" in str(refusal(kept, shelf))


def test_more_files_than_any_build_has_are_refused(kept: Path, shelf: Shelf) -> None:
    memory = io.BytesIO()
    with zipfile.ZipFile(memory, "w") as archive:
        for number in range(5001):
            archive.writestr(str(number), b"")
    kept.write_bytes(memory.getvalue())
    assert "it holds too many files" in str(refusal(kept, shelf))
