"""Damage is named, and never made worse."""

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from snugset.journal import schema
from snugset.journal.coding import GENESIS
from snugset.journal.errors import JournalError
from snugset.journal.journal import Journal
from snugset.journal.opening import reading
from snugset.journal.reading import read_head, read_records, verify
from snugset.values import replace

from .helpers import HEAD, build, forge, owner, raw, record, records


def refusal(folder: Path) -> JournalError:
    """What opening says; reading says the same, and neither changes a byte."""
    file = folder / "journal.sqlite"
    before = file.read_bytes()
    with pytest.raises(JournalError) as opening:
        Journal.open(folder, owner=owner())
    with pytest.raises(JournalError) as reading:
        read_records(folder)
    assert str(opening.value) == str(reading.value)
    assert opening.value.code == reading.value.code
    assert file.read_bytes() == before
    return opening.value


def test_a_whole_journal_is_whole(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    verdict = verify(folder)
    with Journal.open(folder, owner=owner()) as journal:
        assert verdict.digest == journal.digest
    assert (verdict.whole, verdict.records, verdict.problems) == (True, 5, ())


def test_a_missing_build_and_a_missing_journal(tmp_path: Path) -> None:
    with pytest.raises(JournalError) as caught:
        Journal.open(tmp_path / "nowhere", owner=owner())
    assert caught.value.code == "unknown-build"
    assert str(caught.value) == f"there is no build at {tmp_path}/nowhere; see: snugset list"
    (tmp_path / "barn").mkdir()
    with pytest.raises(JournalError, match=r"barn: there is no journal\.sqlite in"):
        Journal.open(tmp_path / "barn", owner=owner())
    assert not any((tmp_path / "barn").iterdir()), "nothing is made in a strange folder"


@pytest.mark.parametrize(
    ("content", "code", "words"),
    [
        (b"", "damaged", "barn: journal.sqlite is empty; the journal is left as it is"),
        (b"a letter to a friend\n" * 99, "foreign", "barn: journal.sqlite is not a journal"),
        (b"SQLite format 3\0" + b"\xff" * 5000, "foreign", "barn: journal.sqlite is not a journal"),
    ],
)
def test_a_file_of_another_kind(tmp_path: Path, content: bytes, code: str, words: str) -> None:
    folder = build(tmp_path / "barn")
    (folder / "journal.sqlite").write_bytes(content)
    error = refusal(folder)
    assert error.code == code
    assert str(error).startswith(words)
    assert verify(folder).problems == (str(error),)


@pytest.mark.parametrize("mode", ["DELETE", "WAL"])
def test_a_database_of_another_program(tmp_path: Path, mode: str) -> None:
    folder = build(tmp_path / "barn")
    (folder / "journal.sqlite").unlink()
    with raw(folder) as connection:
        connection.execute(f"PRAGMA journal_mode = {mode}")
        connection.execute("CREATE TABLE events (sequence INTEGER)")
    error = refusal(folder)
    assert error.code == "foreign"
    assert str(error) == "barn: journal.sqlite is not a Snugset journal; it is left as it is"


def test_a_newer_journal_is_refused_by_name(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    with raw(folder) as connection:
        connection.execute("PRAGMA user_version = 2")
    error = refusal(folder)
    assert error.code == "newer"
    assert str(error) == (
        "barn was written by a newer Snugset (journal version 2; this one reads 1); "
        "open it with the newer one"
    )
    assert verify(folder).problems == (str(error),)


@pytest.mark.parametrize(
    ("statements", "whole", "words"),
    [
        (
            ["UPDATE events SET body = '{}' WHERE sequence = 3"],
            2,
            "record 3 is not what was written",
        ),
        (["UPDATE events SET at = at || 'Z' WHERE sequence = 1"], 0, "record 1 is not what was"),
        (["UPDATE events SET person = 'Bob' WHERE sequence = 5"], 4, "record 5 is not what was"),
        (
            ["UPDATE events SET answer = 9 WHERE sequence = 2"],
            1,
            "record 2 is not what was written",
        ),
        (["UPDATE events SET digest = body WHERE sequence = 2"], 1, "record 2 is not what was"),
        (["DELETE FROM events WHERE sequence = 3"], 2, "record 3 is missing"),
        (["DELETE FROM events WHERE sequence IN (2, 3)"], 1, "records 2 to 3 are missing"),
        (["DELETE FROM events WHERE sequence = 5"], 4, "records after 4 are lost; 5 were written"),
        (["DELETE FROM events"], 0, "records after 0 are lost; 5 were written"),
        (["UPDATE events SET sequence = 0 WHERE sequence = 1"], 0, "record 0 is out of order"),
        (
            [
                "CREATE TEMP TABLE kept AS SELECT * FROM events WHERE sequence <> 3",
                "DELETE FROM events",
                """INSERT INTO events SELECT
                sequence - (sequence > 3), answer, at, person, kind, body, digest FROM kept""",
            ],
            2,
            "record 3 is not what was written",
        ),
        (["UPDATE head SET digest = ''"], 5, "the head does not tell of the last record"),
        (["UPDATE head SET sequence = 4"], 5, "the head does not tell of the last record"),
        (["DELETE FROM head"], 5, "the head is unreadable"),
    ],
)
def test_the_first_record_that_is_not_whole_is_named(
    tmp_path: Path, statements: list[str], whole: int, words: str
) -> None:
    folder = build(tmp_path / "barn")
    forge(folder, *statements)
    error = refusal(folder)
    assert error.code == "damaged"
    assert str(error).startswith(f"barn: {words}")
    verdict = verify(folder)
    assert (verdict.whole, verdict.records) == (False, whole)
    assert words in verdict.problems[0]


@pytest.mark.parametrize(
    "statement",
    [
        "DROP TRIGGER events_never_go",
        "CREATE TABLE more (x)",
        "CREATE TRIGGER more AFTER INSERT ON head BEGIN DELETE FROM head; END",
        "PRAGMA user_version = 0",
    ],
)
def test_tables_that_are_not_to_the_letter_are_not_trusted(tmp_path: Path, statement: str) -> None:
    folder = build(tmp_path / "barn")
    with raw(folder) as connection:
        connection.execute(statement)
    assert str(refusal(folder)).startswith("barn: its tables are not those of a journal;")


def test_a_view_that_never_ends_is_not_read(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    with raw(folder) as connection:
        connection.execute("DROP TABLE events")
        connection.execute(
            "CREATE VIEW events AS WITH RECURSIVE n(sequence) AS "
            "(SELECT 1 UNION ALL SELECT sequence + 1 FROM n) SELECT *, 0 answer, '' at, '' person,"
            " '' kind, '{}' body, '' digest FROM n"
        )
    assert refusal(folder).code == "damaged"


def test_whoever_reads_a_journal_trusts_nothing_in_it(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    copy = schema.in_memory((folder / "journal.sqlite").read_bytes())
    with closing(copy), reading(folder) as there, Journal.open(folder, owner=owner()) as journal:
        for connection in (copy, there, journal._connected()):
            for setting, value in (("trusted_schema", 0), ("cell_size_check", 1)):
                assert connection.execute(f"PRAGMA {setting}").fetchone() == (value,), setting
            assert connection.getlimit(sqlite3.SQLITE_LIMIT_LENGTH) == 16 * 1024 * 1024


def test_a_file_cut_short_anywhere(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn", count=40)
    file = folder / "journal.sqlite"
    content = file.read_bytes()
    for length in range(0, len(content), 509):
        file.write_bytes(content[:length])
        assert refusal(folder).code in ("damaged", "foreign")
        verdict = verify(folder)
        assert not verdict.whole
        assert verdict.problems


def test_a_flipped_bit_anywhere_is_found_or_harmless(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn", count=12)
    file = folder / "journal.sqlite"
    content = file.read_bytes()
    found: list[str] = []
    for place in range(0, len(content), 23):
        flipped = bytearray(content)
        flipped[place] ^= 1 << place % 8
        file.write_bytes(flipped)
        verdict = verify(folder)
        assert verdict.whole == (not verdict.problems)
        try:
            kept = read_records(folder)
        except JournalError as error:
            found.append(error.code)
            assert not verdict.whole
        else:
            assert kept == tuple(records(1, 12))
    assert len(found) > 100
    assert set(found) <= {"damaged", "foreign", "newer"}


def test_a_digest_that_was_noted_shows_that_the_last_records_are_gone(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn", count=4)
    copy = shutil.copytree(folder, tmp_path / "copy")
    with Journal.open(folder, owner=owner()) as journal:
        journal.append([record(5)], HEAD)
        noted = journal.digest
    assert verify(copy).whole
    assert verify(copy).digest != noted


def test_damage_in_a_page_is_named_beside_the_records_before_it(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn", count=60)
    file = folder / "journal.sqlite"
    content = bytearray(file.read_bytes())
    content[-4096:] = b"\xa5" * 4096
    file.write_bytes(content)
    verdict = verify(folder)
    assert not verdict.whole
    assert 0 < verdict.records < 60
    assert verdict.problems[0].startswith(f"after record {verdict.records}: ")
    assert any(problem.startswith("the database: ") for problem in verdict.problems)


def test_an_empty_build_has_the_first_digest(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn", count=0)
    assert verify(folder).digest == GENESIS
    assert read_head(folder) == replace(
        HEAD, name="", procedure="", engine="", step="", updated="", digest=GENESIS
    )


def test_a_record_of_monstrous_length_is_neither_kept_nor_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = build(tmp_path / "barn", count=1)
    long = record(2, typed="17+18 " * 1000)
    with Journal.open(build(tmp_path / "long", count=1), owner=owner()) as journal:
        journal.append([long], HEAD)
    monkeypatch.setattr("snugset.journal.schema._LONGEST", 5000)
    with Journal.open(folder, owner=owner()) as journal:
        with pytest.raises(JournalError) as caught:
            journal.append([long], HEAD)
        assert caught.value.code == "unfit"
        assert str(caught.value) == "barn: a record is longer than any journal holds"
        journal.append([record(2)], HEAD)
    with pytest.raises(JournalError, match="long: a record is longer than any journal holds"):
        read_records(tmp_path / "long")
    assert not verify(tmp_path / "long").whole


def test_an_old_database_library_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = build(tmp_path / "barn")
    monkeypatch.setattr(sqlite3, "sqlite_version_info", (3, 36, 0))
    monkeypatch.setattr(sqlite3, "sqlite_version", "3.36.0")
    with pytest.raises(JournalError) as caught:
        Journal.open(folder, owner=owner())
    assert caught.value.code == "old-sqlite"
    assert str(caught.value) == "SQLite 3.36.0 is too old; 3.37 or newer is needed"


def test_no_raw_database_error_leaves_the_room(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    forge(folder, "UPDATE events SET body = CAST(x'ff' AS TEXT) WHERE sequence = 2")
    error = refusal(folder)
    assert isinstance(error.__cause__, sqlite3.Error)
    assert str(error) == (
        "barn: the database is malformed (unreadable content); the journal is left as it is: "
        "verify it, or restore a backup"
    )
    assert verify(folder).records == 1
