"""Journals of strangers whose chain is whole: opened, or refused in a sentence."""

import re
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from snugset.bench import Bench
from snugset.guide.bodies import RecordError, check_records
from snugset.guide.events import Record
from snugset.journal.coding import GENESIS, encode, parts_of
from snugset.journal.errors import JournalError
from snugset.journal.head import Head, read_head
from snugset.journal.journal import Journal
from snugset.journal.reading import verify
from snugset.sheets import sheet_text
from snugset.stored import BuildError
from snugset.values import replace

from .journals import forged
from .opened import OWNER, demo_records, open_bench, open_mutants
from .process import run


def changed(kind: str, **fields: Any) -> list[Record]:  # noqa: ANN401 - plain JSON
    """Give the demo's records, the first of a kind with other fields; None takes one out."""
    records = list(demo_records())
    at = next(n for n, record in enumerate(records) if record.kind == kind)
    body = {**records[at].body, **fields}
    records[at] = replace(
        records[at], body={name: value for name, value in body.items() if value != "GONE"}
    )
    return records


def test_what_is_written_here_is_never_refused() -> None:
    check_records(demo_records())


def test_mutants_are_opened_or_told(tmp_path: Path) -> None:
    tally = open_mutants(range(40), tmp_path)
    assert 5 < tally.taken < tally.files == 40


@pytest.mark.parametrize(
    ("kind", "fields", "said"),
    [
        ("begun", {"name": 5}, r"record 1 \(begun\) does not say its name"),
        ("begun", {"engine": "GONE"}, "its engine"),
        ("begun", {"shared": {"closing": {"file": "x"}}}, "its shared"),
        ("spec", {"value": {"value": "1", "unit": "furlong"}}, "its value"),
        ("spec", {"had": "yes"}, "its had"),
        ("note", {"text": "x" * 1_000_000}, "its text"),
        ("done", {"effects": [{"set": "crank", "place": "", "value": 5}]}, "its effects"),
        ("done", {"at": "../../x"}, "its at"),
        ("reading", {"value": {"value": "9" * 400, "unit": "in"}}, "its value"),
        ("reading", {"working": "text"}, "its working"),
        ("planned", {"points": [{"key": "P1"}]}, "its points"),
        ("came-back", {"gap": -1}, "its gap"),
        ("came-back", {"before": "9999-12-31T23:59:59Z"}, "its before"),
        ("judged", {"outcome": "guess"}, "its outcome"),
    ],
)
def test_a_body_that_is_none_of_ours_is_named(
    kind: str, fields: dict[str, Any], said: str, tmp_path: Path
) -> None:
    with pytest.raises(RecordError, match=said):
        check_records(changed(kind, **fields))
    folder = forged(tmp_path / "b", changed(kind, **fields))
    before = (folder / "journal.sqlite").read_bytes()
    assert verify(folder).whole  # the chain is: only what it says is not
    with pytest.raises(BuildError, match=r"^b: its records do not go with its files"):
        Bench.open(folder, owner=OWNER, clock=lambda: pytest.fail("no time is asked for"))
    with pytest.raises(BuildError, match=said):
        sheet_text(folder, "md")
    assert (folder / "journal.sqlite").read_bytes() == before


@pytest.mark.parametrize(
    "frame",
    [{"kind": "exploded"}, {"at": "yesterday"}, {"answer": -1}, {"at": "0001-01-01T00:00:00Z"}],
)
def test_a_record_that_is_none_of_ours(frame: dict[str, Any], tmp_path: Path) -> None:
    records = list(demo_records())
    records[60] = replace(records[60], **frame)
    assert not open_bench(forged(tmp_path / "b", records))


def test_a_head_that_is_no_head_is_not_shown(tmp_path: Path) -> None:
    folder = forged(tmp_path / "b", list(demo_records()))
    with closing(sqlite3.connect(folder / "journal.sqlite")) as connection, connection:
        connection.execute("UPDATE head SET name = ?", ("y" * 1_000_000,))
    with pytest.raises(JournalError, match="longer than any journal holds"):
        read_head(folder)


def test_records_that_mean_nothing_together(tmp_path: Path) -> None:
    """Each is well-formed: a verdict changed that was never given."""
    records = list(demo_records())
    body = {"at": "nowhere@9", "verdict": "in", "low": None, "high": None}
    records.insert(3, replace(records[3], kind="rejudged", body=body))
    numbered = [replace(each, sequence=number) for number, each in enumerate(records, 1)]
    with pytest.raises(BuildError, match=r"do not go with its files \(KeyError\)"):
        Bench.open(forged(tmp_path / "b", numbered), owner=OWNER, clock=lambda: pytest.fail("no"))


@pytest.mark.parametrize("name", ["../../../etc/passwd", "a\0b.jpg", "x" * 5000, 7])
def test_a_photograph_with_a_name_of_its_own(name: object, tmp_path: Path) -> None:
    body = {
        "at": "gap@1I#1",
        "name": name,
        "digest": "0" * 64,
        "media": "image/png",
        "size": 1,
        "caption": "",
    }
    records = [*demo_records()]
    records.append(replace(records[-1], sequence=len(records) + 1, kind="photograph", body=body))
    folder = forged(tmp_path / "b", records)
    assert not open_bench(folder)
    assert not verify(folder).whole


def test_a_build_holds_so_many_records_and_no_more(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    records = list(demo_records())
    folder = forged(tmp_path / "b", records)
    more = replace(records[-1], sequence=len(records) + 1)
    monkeypatch.setattr("snugset.journal.journal.MOST_RECORDS", len(records))
    monkeypatch.setattr("snugset.journal.contents.MOST_RECORDS", len(records))
    with Journal.open(folder, owner=OWNER) as journal:
        with pytest.raises(JournalError, match="can be read, not gone on with") as full:
            journal.append([more], Head(name="forged"))
        assert full.value.code == "full"
        assert len(journal.records()) == len(records)
    assert verify(folder).whole
    monkeypatch.setattr("snugset.journal.contents.MOST_RECORDS", len(records) - 1)
    verdict = verify(folder)
    assert not verdict.whole
    assert verdict.records == len(records) - 1
    assert "more records than" in verdict.problems[0]
    with pytest.raises(JournalError, match="more records than"):
        Journal.open(folder, owner=OWNER)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("y" * 17_000_000, "string or blob too big|a record is longer than any"),
        ([[]] * 600_000, "more parts than a build can have"),
        ([{}] * 600_000, "more parts than a build can have"),
    ],
    ids=["letters", "lists", "groups"],
)
def test_a_record_that_would_fill_the_memory_is_never_unfolded(
    text: object, said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patched:  # a stranger's program has no such limits
        patched.setattr("snugset.journal.coding.MOST_PARTS", 10**9)
        patched.setattr("snugset.journal.schema._LONGEST", 10**9)
        patched.setattr("snugset.journal.schema.LARGEST", 10**9)
        folder = forged(tmp_path / "builds" / "b", changed("note", text=text))
    before = (folder / "journal.sqlite").read_bytes()
    for words in (["verify", "b"], ["resume", "b", "--plain"], ["sheet", "b"]):
        ran = run(*words, data=tmp_path)
        assert ran.code == 1, words
        assert re.search(said, " ".join(ran.out.decode().split())), ran.out
        assert ran.mebibytes < 200
        assert ran.milliseconds < 2000
    assert (folder / "journal.sqlite").read_bytes() == before


def test_many_records_together_do_not_fill_the_memory_either(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    records = list(demo_records())
    last = records[-1]
    more = [
        replace(last, sequence=last.sequence + n, kind="photograph", body={"text": [[]] * 240_000})
        for n in range(1, 21)
    ]
    with monkeypatch.context() as patched:
        patched.setattr("snugset.journal.coding.MOST_PARTS", 10**9)
        patched.setattr("snugset.journal.coding._plain", lambda body: body)  # it is plain
        folder = forged(tmp_path / "builds" / "b", records + more)
    file = str(tmp_path / "b.zip")
    for words in (["verify", "b"], ["resume", "b", "--plain"], ["backup", "b", file]):
        ran = run(*words, data=tmp_path)
        assert ran.code == 1, words
        assert "more parts than a build can have" in " ".join(ran.out.decode().split()), ran.out
        assert ran.mebibytes < 200
        assert ran.milliseconds < 2000
    assert verify(folder).records == last.sequence + 2
    assert not Path(file).exists()


@pytest.mark.parametrize("most", [0, 1], ids=["in one", "in all"])
def test_what_no_reader_would_take_is_never_written(
    most: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    records = list(demo_records())
    folder = forged(tmp_path / "b", records)
    before = (folder / "journal.sqlite").read_bytes()
    parts = sum(parts_of(row[5]) for row in encode(records, after=0, digest=GENESIS))
    last = records[-1]
    more = replace(last, sequence=last.sequence + 1, body={"text": "," * (100 - most)})
    monkeypatch.setattr("snugset.journal.coding.MOST_PARTS", parts + 100)
    with Journal.open(folder, owner=OWNER) as journal:
        if most:
            first = replace(more, body={"text": ""})
            journal.append([first], Head(name="forged"))
            before = (folder / "journal.sqlite").read_bytes()
            more = replace(more, sequence=more.sequence + 1)
        with pytest.raises(JournalError, match="more parts than a build can have") as unfit:
            journal.append([more], Head(name="forged"))
        assert unfit.value.code == "unfit"
        assert len(journal.records()) == len(records) + most
    assert (folder / "journal.sqlite").read_bytes() == before
    assert verify(folder).whole


def test_a_journal_larger_than_any_build_is_not_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = forged(tmp_path / "b", list(demo_records()))
    size = (folder / "journal.sqlite").stat().st_size
    monkeypatch.setattr("snugset.journal.schema.LARGEST", size - 1)
    with pytest.raises(JournalError, match="larger than a build can be"):
        Journal.open(folder, owner=OWNER)
    verdict = verify(folder)
    assert not verdict.whole
    assert 0 < verdict.records < len(demo_records()), "the first of them are told and copied out"
    monkeypatch.setattr("snugset.journal.schema.LARGEST", size + 100_000)
    with Journal.open(folder, owner=OWNER) as journal:
        last = journal.records()[-1]
        long = replace(last, sequence=last.sequence + 1, body={**last.body, "text": "y" * 80_000})
        with pytest.raises(JournalError) as full:
            journal.append([long], Head(name="forged"))
        assert full.value.code == "full"
    assert verify(folder).whole
