"""The demo's build sheet, as it is committed, is what the program makes of the demo's answers."""

import pytest

from driving import ROOT
from paper import check_json, page_of, rows_of, said
from snugset.journal.reading import read_records, verify
from snugset.journal.shelf import Shelf
from snugset.play import play
from snugset.sheet import Sheet, markdown, sheet_of
from snugset.stored import plan_of

SHEET = ROOT / "demo" / "build-sheet.md"


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory) -> Sheet:
    """Give the sheet of the demo, played to its end."""
    shelf = Shelf(tmp_path_factory.mktemp("demo"))
    folder = play(ROOT / "demo" / "answers.yaml", shelf).folder
    records = read_records(folder)
    return sheet_of(plan_of(records), records, verify(folder).digest)


def test_the_committed_sheet_is_current(sheet: Sheet) -> None:
    # To write it anew: snugset replay demo/answers.yaml, then snugset sheet … --as md
    made = markdown(sheet)
    assert SHEET.read_text(encoding="utf-8") == made


def test_its_page_json_and_rows_are_sound(sheet: Sheet) -> None:
    text = said(page_of(sheet))
    for words in (
        "found by wire: it weeps",
        "two old ones kept as samples",
        "Order 12 × 10.300 in",
    ):
        assert words in text
    assert check_json(sheet)["journal"]["digest"] in text
    assert len(rows_of(sheet)) == 24 + len(sheet.readings) + len(sheet.asides)
