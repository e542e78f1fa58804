"""A database that is none of ours is refused by name, or does no harm; nothing else is touched."""

import io
import shutil
from pathlib import Path

import pytest

from snugset.cli import main
from snugset.journal.attachments import Picture, keep_picture, pictures
from snugset.journal.carry import backup
from snugset.journal.errors import JournalError
from snugset.journal.reading import verify

from .checked import ending
from .databases import ODD, another_crash, victim
from .journals import forged
from .opened import demo_records

IN_THE_LIST = (
    *("is missing", "is unreadable", "out of order", "does not tell of the last record"),
    "does not belong",
)
"""What only reading every record shows; the list reads the head alone."""


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return forged(tmp_path_factory.mktemp("whole") / "good", list(demo_records())[:140])


def bytes_of(folder: Path) -> dict[str, bytes]:
    """Give what stands in a folder, but for the lock, which tells who is there."""
    return {
        path.name: path.read_bytes()
        for path in folder.iterdir()
        if path.is_file() and path.name != "lock"
    }


@pytest.mark.parametrize("name", ODD)
def test_a_strange_database_is_told_and_left_as_it_is(
    name: str,
    whole: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    data, carried = tmp_path / "data", tmp_path / "odd.zip"
    (data / "builds").mkdir(parents=True)
    shutil.copytree(whole, data / "builds" / "good")
    odd = shutil.copytree(whole, data / "builds" / "odd")
    change, said = ODD[name]
    letter = victim(odd)
    change(odd)
    missed, before = letter.read_bytes(), bytes_of(odd)
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    for words in (
        ("list",),
        ("verify", "odd"),
        ("sheet", "odd"),
        ("backup", "odd", str(carried)),
        ("resume", "odd", "--plain"),
        ("list", "--json"),
    ):
        with ending(real=True):
            code = main([*words, "--data", str(data)])
        streams = capsys.readouterr()
        told = " ".join(f"{streams.out} {streams.err}".split())
        assert code in (0, 1), words
        assert "fault inside" not in told, words
        if words[0] == "list":
            assert "good" in told
        if said and (words[0] != "list" or not any(each in said for each in IN_THE_LIST)):
            assert said in told, words
            assert code == (0 if words[0] == "list" else 1)
    assert letter.read_bytes() == missed
    assert {path.name for path in tmp_path.iterdir()} <= {"data", "odd.zip", letter.name}
    if said:
        assert not carried.exists()
        assert bytes_of(odd) == before


def test_what_a_crash_left_is_not_tried_on_a_journal_that_it_would_spoil(
    whole: Path, tmp_path: Path
) -> None:
    folder = shutil.copytree(whole, tmp_path / "odd")
    another_crash(folder)
    with pytest.raises(JournalError, match="does not belong to it, or is damaged") as caught:
        backup(folder, tmp_path / "odd.zip")
    assert caught.value.code == "beside"
    told = verify(folder)
    assert not told.whole
    assert told.records == 140, "what the journal holds as it is, is told"
    (folder / "journal.sqlite-journal").unlink()
    assert verify(folder).whole


def test_photographs_that_are_another_folder_are_neither_carried_away_nor_added_to(
    whole: Path, tmp_path: Path
) -> None:
    folder = shutil.copytree(whole, tmp_path / "odd")
    private = tmp_path / "private"
    private.mkdir()
    (private / "letter.txt").write_text("a secret", "utf-8")
    (folder / "attachments").rmdir()
    (folder / "attachments").symlink_to(private)
    with pytest.raises(JournalError, match="attachments is a link to another folder"):
        backup(folder, tmp_path / "odd.zip")
    assert not (tmp_path / "odd.zip").exists()
    picture = Picture(content=b"\xff\xd8\xff", digest="0" * 64, media="image/jpeg")
    with pytest.raises(JournalError, match="attachments is a link to another folder"):
        keep_picture(folder, picture)
    assert [each.name for each in private.iterdir()] == ["letter.txt"]
    assert pictures(folder, ["letter.txt"]) == {}
    assert any("is a link to another folder" in each for each in verify(folder).problems)
