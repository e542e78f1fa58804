"""What is kept, and that it is the same bytes for the same answers."""

import hashlib
import json
import sqlite3
import stat
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.guide.events import Record
from snugset.journal.coding import GENESIS, ChainError, decode, encode
from snugset.journal.errors import JournalError
from snugset.journal.head import Head
from snugset.journal.journal import Journal
from snugset.journal.reading import read_head, read_records, verify
from snugset.values import replace

from .helpers import HEAD, build, owner, raw, record, records

TEXT = st.text(st.characters(exclude_categories=["Cs"]))
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | TEXT,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(TEXT, inner, max_size=4),
    max_leaves=12,
)
RECORD = st.builds(
    Record,
    sequence=st.just(1),
    answer=st.integers(0, 10**6),
    at=TEXT,
    person=TEXT,
    kind=TEXT,
    body=st.dictionaries(TEXT, JSON, max_size=5),
)


def canonical(kept: Record) -> str:
    fields = {name: getattr(kept, name) for name in Record.__slots__}
    return json.dumps(fields, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


@given(RECORD)
def test_a_record_comes_back_as_it_was_and_its_digest_is_over_canonical_json(kept: Record) -> None:
    [row] = encode([kept], after=0, digest=GENESIS)
    assert decode(row, after=0, digest=GENESIS) == kept
    assert row[-1] == hashlib.sha256((GENESIS + canonical(kept)).encode()).hexdigest()


def test_each_digest_covers_the_one_before(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn", count=3)
    digest = GENESIS
    for kept in read_records(folder):
        digest = hashlib.sha256((digest + canonical(kept)).encode()).hexdigest()
    assert verify(folder).digest == digest
    with Journal.open(folder, owner=owner()) as journal:
        assert journal.digest == digest


def test_records_and_head_are_there_for_others_on_return(tmp_path: Path) -> None:
    with Journal.create(tmp_path / "barn", owner=owner()) as journal:
        journal.append(records(1, 2), HEAD)
        journal.append([record(3)], replace(HEAD, step="next"))
        assert journal.records() == read_records(tmp_path / "barn") == tuple(records(1, 3))
        expected = replace(HEAD, step="next", sequence=3, digest=journal.digest)
        assert read_head(tmp_path / "barn") == expected


def test_a_build_begins_with_its_first_records(tmp_path: Path) -> None:
    first = Journal.create(tmp_path / "barn", owner=owner(), records=records(1, 2), head=HEAD)
    assert first.records() == tuple(records(1, 2))
    first.close()
    assert read_head(tmp_path / "barn") == replace(HEAD, sequence=2, digest=first.digest)


def test_a_head_alone_may_be_renewed(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn", count=2)
    with Journal.open(folder, owner=owner()) as journal:
        journal.append([], replace(HEAD, waiting_for="parts"))
    head = read_head(folder)
    assert isinstance(head, Head)
    assert (head.waiting_for, head.sequence) == ("parts", 2)


def test_the_same_appends_give_the_same_bytes_also_over_several_openings(tmp_path: Path) -> None:
    one = build(tmp_path / "one" / "barn", count=60)
    with Journal.create(tmp_path / "two" / "barn", owner=owner("Bob")) as journal:
        journal.append([record(1)], HEAD)
    for sequence in range(2, 61):
        with Journal.open(tmp_path / "two" / "barn", owner=owner("Bob")) as journal:
            journal.append([record(sequence)], HEAD)
    two = tmp_path / "two" / "barn"
    assert (one / "journal.sqlite").read_bytes() == (two / "journal.sqlite").read_bytes()


def test_the_bytes_do_not_hang_on_how_the_library_was_built(tmp_path: Path) -> None:
    with Journal.open(build(tmp_path / "barn"), owner=owner()) as journal:
        connection = journal._connected()
        settings = {"page_size": 4096, "auto_vacuum": 0, "encoding": "UTF-8", "secure_delete": 1}
        for setting, value in settings.items():
            assert connection.execute(f"PRAGMA {setting}").fetchone() == (value,), setting


def test_records_are_as_kept_whatever_the_caller_does_with_his(tmp_path: Path) -> None:
    takes = ["17", "18"]
    kept = Record(
        sequence=1, answer=1, at="", person="", kind="read", body={"takes": takes, "pair": (1, 2)}
    )
    with Journal.create(tmp_path / "barn", owner=owner()) as journal:
        journal.append([kept], HEAD)
        takes.append("19")
        assert journal.records()[0].body == {"takes": ["17", "18"], "pair": [1, 2]}


@pytest.mark.parametrize("body", [{"value": 0.1}, {"value": float("nan")}, {1: "x"}, {"v": b"x"}])
def test_a_body_that_is_not_plain_json_is_refused(tmp_path: Path, body: dict[str, object]) -> None:
    wrong = Record(sequence=1, answer=1, at="", person="", kind="read", body=body)
    with Journal.create(tmp_path / "barn", owner=owner()) as journal:
        with pytest.raises(TypeError, match="an event's body"):
            journal.append([wrong], HEAD)
        journal.append([record(1)], HEAD)
    assert read_records(tmp_path / "barn") == (record(1),)


def test_half_a_character_is_refused_in_a_sentence_wherever_it_stands(tmp_path: Path) -> None:
    with Journal.create(tmp_path / "barn", owner=owner()) as journal:
        for kept, head in (
            (record(1, typed="\ud800"), HEAD),
            (record(1), replace(HEAD, name="\ud800")),
        ):
            with pytest.raises(JournalError) as caught:
                journal.append([kept], head)
            assert str(caught.value) == "barn: a text holds half a character; type it again"
            assert caught.value.code == "unfit"
        journal.append([record(1)], HEAD)
    assert read_records(tmp_path / "barn") == (record(1),)


@pytest.mark.parametrize("sequence", [1, 2, 4])
def test_a_record_that_does_not_follow_on_is_refused(tmp_path: Path, sequence: int) -> None:
    with Journal.open(build(tmp_path / "barn", count=2), owner=owner()) as journal:
        with pytest.raises(ValueError, match=f"record {sequence} does not follow on; 3 is next"):
            journal.append([record(sequence)], HEAD)
        assert journal.records() == tuple(records(1, 2))


def test_a_closed_journal_keeps_nothing(tmp_path: Path) -> None:
    journal = Journal.create(tmp_path / "barn", owner=owner())
    journal.close()
    with pytest.raises(ValueError, match="closed"):
        journal.append([record(1)], HEAD)
    assert read_records(tmp_path / "barn") == ()


def test_it_is_used_from_one_thread(tmp_path: Path) -> None:
    with Journal.open(build(tmp_path / "barn", count=1), owner=owner()) as journal:
        with ThreadPoolExecutor(1) as pool:
            other = pool.submit(journal.append, [record(2)], HEAD)
            assert isinstance(other.exception(), sqlite3.ProgrammingError)
        journal.append([record(2)], HEAD)


@pytest.mark.parametrize("name", ["a?mode=memory", "a#b", "%41", "Öl und Holz", "a'b\"c"])
def test_a_folder_may_have_any_name(tmp_path: Path, name: str) -> None:
    folder = build(tmp_path / name / "barn", count=2)
    assert (folder / "journal.sqlite").stat().st_size > 0
    assert read_records(folder) == tuple(records(1, 2))


def test_a_build_is_never_made_over_another(tmp_path: Path) -> None:
    folder = build(tmp_path / "barn")
    before = (folder / "journal.sqlite").read_bytes()
    with pytest.raises(JournalError) as caught:
        Journal.create(folder, owner=owner())
    assert caught.value.code == "exists"
    assert (folder / "journal.sqlite").read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["barn"]


def test_a_build_takes_no_place_that_is_taken_by_something_else(tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    (tmp_path / "file").write_text("mine")
    for name in ("folder", "file"):
        with pytest.raises(JournalError) as caught:
            Journal.create(tmp_path / name, owner=owner())
        assert caught.value.code == "exists"
    assert list((tmp_path / "folder").iterdir()) == []
    assert (tmp_path / "file").read_text() == "mine"


def test_the_owner_alone_may_read(tmp_path: Path) -> None:
    folder = build(tmp_path / "data" / "builds" / "barn")
    made = [tmp_path / "data", folder.parent, folder, *folder.iterdir()]
    assert {path.name for path in folder.iterdir()} >= {"journal.sqlite", "attachments", "lock"}
    for path in made:
        wanted = 0o700 if path.is_dir() else 0o600
        assert stat.S_IMODE(path.stat().st_mode) == wanted, path


@pytest.mark.parametrize(
    ("statement", "words"),
    [
        ("UPDATE events SET body = '{}'", "a record never changes"),
        ("DELETE FROM events", "a record never goes"),
        ("INSERT OR REPLACE INTO events SELECT * FROM events LIMIT 1", "a record follows on"),
        ("INSERT INTO events VALUES (9, 1, '', '', '', '{}', '')", "a record follows on"),
    ],
)
def test_the_database_itself_refuses_to_change_a_record(
    tmp_path: Path, statement: str, words: str
) -> None:
    folder = build(tmp_path / "barn")
    with raw(folder) as connection, pytest.raises(Exception, match=words):
        connection.execute(statement)
    assert verify(folder).whole


@pytest.mark.parametrize(
    ("body", "words"),
    [("[]", "unreadable"), ("{", "unreadable"), ('{"v":0.5}', "unreadable")],
)
def test_a_body_with_a_right_digest_that_is_no_plain_object_is_refused(
    body: str, words: str
) -> None:
    [row] = encode([record(1)], after=0, digest=GENESIS)
    text = canonical(record(1)).replace(row[5], body)
    digest = hashlib.sha256((GENESIS + text).encode()).hexdigest()
    with pytest.raises(ChainError, match=words):
        decode((*row[:5], body, digest), after=0, digest=GENESIS)
