"""What is left of a damaged journal is proven and copied out; the damage stays as it is."""

import random
from pathlib import Path

import pytest

from snugset.journal.errors import JournalError
from snugset.journal.reading import verify
from snugset.journal.salvage import salvage

from .helpers import build, forge, raw, records


def test_damage_anywhere_in_the_first_page_costs_no_record(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn", count=40)
    file = folder / "journal.sqlite"
    content = file.read_bytes()
    chance = random.Random(3)  # noqa: S311 - noise
    for spoiled in (
        bytes(4096),
        chance.randbytes(4096),
        b"x" + content[1:4096],
        content[:100] + bytes(3996),
    ):
        file.write_bytes(spoiled + content[4096:])
        found, digest = salvage(folder)
        assert found == tuple(records(1, 40))
        verdict = verify(folder)
        assert (verdict.whole, verdict.records, verdict.digest) == (False, 40, digest)
        assert file.read_bytes() == spoiled + content[4096:]


def test_of_a_journal_cut_anywhere_the_first_records_are_proven(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn", count=200)
    file = folder / "journal.sqlite"
    content = file.read_bytes()
    most = 0
    for length in range(0, len(content), 1023):
        file.write_bytes(content[:length])
        found, _ = salvage(folder)
        assert found == tuple(records(1, len(found)))
        most = max(most, len(found))
    assert 0 < most < 200


def test_a_flipped_bit_of_every_page_leaves_only_proven_records(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn", count=60)
    file = folder / "journal.sqlite"
    content = file.read_bytes()
    lengths = set()
    for place in range(0, len(content), 97):
        flipped = bytearray(content)
        flipped[place] ^= 1 << place % 8
        file.write_bytes(flipped)
        found, _ = salvage(folder)
        assert found == tuple(records(1, len(found)))
        lengths.add(len(found))
    assert max(lengths) == 60
    assert len(lengths) > 20


def test_a_foreign_view_is_not_run_and_a_newer_journal_is_not_judged(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    with raw(folder) as connection:
        connection.execute("PRAGMA user_version = 2")
    assert verify(folder).records == 0
    with raw(folder) as connection:
        connection.execute("PRAGMA user_version = 1")
        connection.execute("ALTER TABLE events RENAME TO kept")
        connection.execute("CREATE VIEW events AS SELECT * FROM kept")
    assert salvage(folder)[0] == tuple(records(1, 5)), "read through tables of our own"


def test_a_changed_record_ends_what_is_proven(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    forge(folder, "UPDATE events SET body = '{}' WHERE sequence = 3")
    assert salvage(folder)[0] == tuple(records(1, 2))


def test_nothing_is_made_of_nothing(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    (folder / "journal.sqlite").write_bytes(b"a letter to a friend\n" * 999)
    assert salvage(folder)[0] == ()
    (folder / "journal.sqlite").unlink()
    with pytest.raises(JournalError) as caught:
        salvage(folder)
    assert caught.value.code == "damaged"
