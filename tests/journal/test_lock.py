"""One writer at a time; whoever comes second is told who it is."""

import fcntl
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from snugset.journal.errors import JournalError, OpenElsewhere
from snugset.journal.head import Head
from snugset.journal.journal import Journal
from snugset.journal.lock import Lock, holder
from snugset.journal.owner import Owner
from snugset.journal.reading import read_head, read_records, verify

from . import writer
from .helpers import HEAD, build, owner, record, records


@contextmanager
def held(folder: Path) -> Iterator["subprocess.Popen[bytes]"]:
    """Another process that has the build open."""
    command = [sys.executable, str(Path(writer.__file__)), str(folder), "hold"]
    with subprocess.Popen(command, stdout=subprocess.PIPE) as child:
        assert child.stdout is not None
        assert child.stdout.readline() == b"0\n"
        try:
            yield child
        finally:
            child.kill()


def test_the_second_is_told_who_where_which_process_and_since_when(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    with held(folder) as child:
        with pytest.raises(OpenElsewhere) as caught:
            Journal.open(folder, owner=owner())
        bob = Owner(
            person="Bob", host=os.uname().nodename, pid=child.pid, since="2026-11-02T18:00:00Z"
        )
        assert caught.value.owner == bob
        assert caught.value.code == "open-elsewhere"
        assert str(caught.value) == (
            f"barn is open elsewhere, by Bob on {bob.host} (process {child.pid}) "
            "since 2026-11-02 18:00 UTC; close it there first"
        )


def test_others_read_while_it_is_open_elsewhere(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    with held(folder):
        assert isinstance(read_head(folder), Head)
        assert read_records(folder) == tuple(records(1, 5))
        assert verify(folder).whole


def test_kill_9_frees_it(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    with held(folder) as child:
        child.kill()
        child.wait()
        with Journal.open(folder, owner=owner()) as journal:
            journal.append([record(6)], HEAD)


def test_the_same_process_is_refused_too_until_it_closes(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    journal = Journal.open(folder, owner=owner("Ann"))
    with pytest.raises(OpenElsewhere, match="by Ann"):
        Journal.open(folder, owner=owner("Bob"))
    journal.close()
    journal.close()
    with Journal.open(folder, owner=owner("Bob")):
        pass


def test_the_lock_is_free_after_an_opening_that_failed(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    (folder / "journal.sqlite").write_bytes(b"")
    for _ in range(2):
        with pytest.raises(JournalError, match="is empty"):
            Journal.open(folder, owner=owner())


def test_two_who_look_who_holds_it_do_not_take_one_another_for_the_holder(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    with (folder / "lock").open("rb") as looking:
        fcntl.flock(looking, fcntl.LOCK_SH | fcntl.LOCK_NB)
        assert holder(folder) == (False, None)


def test_nobody_is_named_after_it_is_given_free(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    assert (folder / "lock").read_bytes() == b""


@pytest.mark.parametrize("text", [b"", b"{", b"[]", b'{"person": 1}', b"\xff\xfe", b"[" * 4000])
def test_a_holder_that_cannot_say_who_it_is_still_holds(tmp_path: Path, text: bytes) -> None:
    folder = build(tmp_path / "barn")
    lock = Lock.take(folder, None)
    (folder / "lock").write_bytes(text)
    with pytest.raises(OpenElsewhere) as caught:
        Journal.open(folder, owner=owner())
    assert caught.value.owner is None
    assert str(caught.value) == "barn is open elsewhere, by another program; close it there first"
    lock.release()


def test_a_lock_that_leads_elsewhere_is_not_followed(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    letter = tmp_path / "letter"
    letter.write_text("Dear friend")
    (folder / "lock").unlink()
    (folder / "lock").symlink_to(letter)
    with pytest.raises(JournalError) as caught:
        Journal.open(folder, owner=owner())
    assert caught.value.code == "disk"
    assert letter.read_text() == "Dear friend"


def test_a_lock_file_that_was_replaced_while_waiting_is_not_taken_for_the_lock(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = build(tmp_path / "barn")
    really = os.open
    replaced: list[Path] = []

    def open_then_replace(path: Path, flags: int, mode: int = 0o777) -> int:
        handle = really(path, flags, mode)
        if not replaced:
            replaced.append(path)
            path.unlink()
            path.write_bytes(b"")
        return handle

    monkeypatch.setattr(os, "open", open_then_replace)
    lock = Lock.take(folder, owner())
    monkeypatch.undo()
    with pytest.raises(OpenElsewhere):
        Lock.take(folder, owner())
    lock.release()


def test_a_name_with_terminal_escapes_is_shown_harmless() -> None:
    shown = str(OpenElsewhere("barn", Owner(person="\x1b[2JX\u202e", host="h", pid=1, since="s")))
    assert shown == (
        "barn is open elsewhere, by �[2JX� on h (process 1) since s; close it there first"
    )
