"""Journals of strangers whose chain is whole: opened, or refused in a sentence."""

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from snugset.bench import Bench, BuildError
from snugset.guide.bodies import RecordError, check_records
from snugset.guide.events import Record
from snugset.journal.errors import JournalError
from snugset.journal.head import read_head
from snugset.journal.reading import verify
from snugset.sheets import sheet_text
from snugset.values import replace

from .journals import forged
from .opened import OWNER, demo_records, open_bench, open_mutants


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
