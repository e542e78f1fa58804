"""A file for the builder is on the disk before anybody is told so, whole, and over no other."""

import os
import stat
from pathlib import Path

import pytest

from journal.helpers import watch_syncs
from snugset.writing import write_new


@pytest.mark.parametrize("replace", [False, True])
def test_words_and_name_are_on_the_disk_for_the_owner_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, replace: bool
) -> None:
    synced = watch_syncs(monkeypatch)
    file = tmp_path / "order.txt"
    write_new(file, "one ½\n", replace=replace)
    assert file.read_bytes() == "one ½\n".encode()
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert synced == [file.stat().st_ino, tmp_path.stat().st_ino]


def test_one_that_is_there_stays_also_where_it_came_meanwhile(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "order.txt"
    file.write_text("mine")
    for seen in (True, False):
        monkeypatch.setattr(os.path, "lexists", lambda _path, seen=seen: seen)
        with pytest.raises(FileExistsError) as caught:
            write_new(file, "other")
        assert caught.value.filename == str(file)
        assert file.read_text() == "mine"
        assert list(tmp_path.iterdir()) == [file]


@pytest.mark.parametrize("replace", [False, True])
def test_what_does_not_reach_the_disk_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, replace: bool
) -> None:
    def failing(_handle: int) -> None:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr("snugset.writing.sync_file", failing)
    with pytest.raises(OSError, match="Input/output error"):
        write_new(tmp_path / "order.txt", "one", replace=replace)
    assert list(tmp_path.iterdir()) == []
