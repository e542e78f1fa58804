"""Sections of the sheet on what was gone over again: passes, lash that changed, revisions."""

import json

from driving import Table
from guide.test_stages import bench
from paper import page_of, said
from snugset.guide.events import Event
from snugset.sheet import markdown
from snugset.sheet.as_json import as_json
from snugset.sheet.contents import Sheet, sheet_of
from snugset.values import replace


def sheet(found: Table) -> Sheet:
    """Make the sheet of a table."""
    return sheet_of(found.plan, found.records, "digest")


def test_passes_are_told_with_what_moved_and_when_none_did() -> None:
    found = bench("even#1")
    found.taken("2")
    (each,) = sheet(found).passes
    assert (each.step, str(each.setting), each.settled, each.suspect) == (
        "even",
        "45 lbf·ft",
        False,
        False,
    )
    found.taken("0")
    (each,) = sheet(found).passes
    assert [(one.number, one.moved) for one in each.passes] == [(1, "2"), (2, "0")]
    assert each.settled
    text = markdown(sheet(found))
    assert "## The same torque again" in text
    assert "pass 1: 2 moved" in text
    assert "suspect" not in text
    assert json.loads(as_json(sheet(found)))["passes"][0]["passes"][0]["moved"] == "2"


def test_after_three_passes_the_suspicion_stands_on_the_sheet() -> None:
    found = bench("even#1")
    found.taken("3")
    found.taken("2")
    found.taken("1 ! the wrench was read askew")
    (each,) = sheet(found).passes
    assert each.suspect
    assert not each.settled
    assert "suspect gasket, thread or a bottomed stud" in " ".join(markdown(sheet(found)).split())
    page = said(page_of(sheet(found)))
    assert "Still moving after three passes: suspect gasket, thread or a bottomed stud" in page


def test_a_pass_left_out_is_told_as_left_out() -> None:
    found = bench("even#1")
    found.taken("skip the maker forbids it")
    (each,) = sheet(found).passes
    assert (each.settled, each.passes[0].skipped) == (False, True)
    assert "pass 1: skipped: the maker forbids it" in markdown(sheet(found))


def test_a_revision_says_why_which_files_and_what_it_undid() -> None:
    found = bench("two@4")
    assert sheet(found).revisions == ()
    stood = len(found.state.facts)
    newer = replace(found.procedure, text=found.procedure.text + "# newer\n")
    body = {
        "reason": "the leaflet was misread",
        "addresses": ["one@2", "one@3"],
        "figures": ["second"],
        "plans": [],
        "procedure": {"file": newer.file, "text": newer.text},
        "engine": {"file": found.engine.file, "text": found.engine.text},
        "shared": {},
    }
    found.keep((Event("revised", body),), 0)
    (each,) = sheet(found).revisions
    assert "the leaflet was misread" in said(page_of(sheet(found)))
    assert each.files == ("small.yaml",)
    assert each.voided == ("one@2", "one@3")
    assert each.kept == stood - 2
    text = markdown(sheet(found))
    assert "## Revised files" in text
    assert "the leaflet was misread. Files: small" in " ".join(text.split())
    assert "Done again: `one@2`, `one@3`" in " ".join(text.split())
