"""The demo's build sheet, as it is committed, is what the program makes of the demo's answers."""

from pathlib import Path

from driving import ROOT
from snugset.bench import plan_of
from snugset.journal.reading import read_records, verify
from snugset.journal.shelf import Shelf
from snugset.play import play
from snugset.sheet import markdown, sheet_of

SHEET = ROOT / "demo" / "build-sheet.md"


def test_the_committed_sheet_is_current(tmp_path: Path) -> None:
    # To write it anew: snugset replay demo/answers.yaml, then snugset sheet … --as md
    folder = play(ROOT / "demo" / "answers.yaml", Shelf(tmp_path)).folder
    records = read_records(folder)
    made = markdown(sheet_of(plan_of(records), records, verify(folder).digest))
    assert SHEET.read_text(encoding="utf-8") == made
