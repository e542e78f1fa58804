"""Every shipped procedure, played whole from what somebody typed; every shipped file, checked."""

from collections import Counter
from pathlib import Path

import pytest

from driving import ROOT
from paper import check_json, page_of, rows_of, said
from snugset.cli import main
from snugset.files.answers import Answers, Say
from snugset.journal.reading import read_records, verify
from snugset.journal.shelf import Shelf
from snugset.play import play, read_answers_file
from snugset.sheet import markdown, sheet_of
from snugset.stored import plan_of
from walk.facts import FACTS, facts_of

WALK = Path(__file__).parent
PROCEDURES = ROOT / "procedures"
PLAYED = sorted(WALK.glob("*-answers.yaml"))
ENGINES = sorted((PROCEDURES / "engines").glob("*.yaml"))
SHARED = sorted((PROCEDURES / "shared").glob("*.yaml"))
FEWEST_SLIPS = 4
"""How many wrong answers each build must hold, so that the guards are seen to work."""


def _refused(answers: Answers) -> Counter[str]:
    """Count the refusals that an answers file foresees, by code."""
    return Counter(e.refused for e in answers.answers if isinstance(e, Say) and e.refused)


@pytest.mark.parametrize("file", PLAYED, ids=lambda p: p.stem)
def test_a_procedure_is_played_to_its_last_step(file: Path, tmp_path: Path) -> None:
    played = play(file, Shelf(tmp_path))
    assert played.finished
    assert played.refused == sum(_refused(read_answers_file(file)).values())
    checked = verify(played.folder)
    assert checked.whole
    records = read_records(played.folder)
    assert checked.records == len(records)
    sheet = sheet_of(plan_of(records), records, checked.digest)
    text = said(page_of(sheet))
    assert checked.digest in text
    assert all(row.name in text for row in sheet.specs)
    found = check_json(sheet)
    assert found["standing"]["finished"]
    assert {row["stands"] for row in rows_of(sheet)} >= {"yes"}
    first = next(
        number
        for number, record in enumerate(records)
        if record.kind == "reading" and record.body["figure"] in ("lash", "preload")
    )
    early = sheet_of(plan_of(records), records[:first], "")
    assert records[first].body["at"] in {gap.address for gap in early.summary.missing}
    assert facts_of(sheet) == FACTS[file.stem]
    text = markdown(sheet)
    for figure in FACTS[file.stem].stages["head"]:
        assert figure in text
    assert found["journal"]["digest"] == checked.digest


@pytest.mark.parametrize("file", PLAYED, ids=lambda p: p.stem)
def test_a_build_holds_several_sorts_of_slips_that_were_caught(file: Path) -> None:
    assert len(_refused(read_answers_file(file))) >= FEWEST_SLIPS


@pytest.mark.parametrize("file", PLAYED, ids=lambda p: p.stem)
def test_an_answers_file_and_what_it_names_has_no_mistake(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", str(file)]) == 0, capsys.readouterr().out


@pytest.mark.parametrize("file", [*ENGINES, *SHARED], ids=lambda p: p.stem)
def test_a_shipped_engine_or_group_has_no_mistake(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", str(file)]) == 0, capsys.readouterr().out


@pytest.mark.parametrize("file", ENGINES, ids=lambda p: p.stem)
def test_a_shipped_engine_says_twice_that_it_is_invented(file: Path) -> None:
    text = file.read_text("utf-8")
    assert "(invented)" in text
    assert "No real engine has these figures" in " ".join(text.replace("#", " ").split())


def test_every_procedure_but_the_demo_s_is_played_here() -> None:
    shipped = {p.name for p in PROCEDURES.glob("*.yaml")}
    played = {Path(read_answers_file(file).procedure).name for file in PLAYED}
    assert shipped - played == {"inline-six-bridged-hydraulic.yaml"}
