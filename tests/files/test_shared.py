"""Shared groups of steps: put where they are used, with the figures they need."""

import pytest

from snugset.files.problems import Problems
from snugset.files.procedure import Procedure, read_procedure
from snugset.files.tree import parse
from snugset.guide.kinds import BLOCKS
from snugset.plan.check import all_steps, check_procedure
from snugset.plan.plan import Pinned, read_groups

CLOSING = """\
snugset: steps/1
name: Closing
figures:
  coolant: {kind: text, ask: Which coolant?}
  cover: {kind: torque, unit: lbf·in, ask: Cover torque?, wrench: small}
  small: {kind: torque, form: window, unit: lbf·in, ask: Range of the wrench?}
groups:
  water:
    - do: fill
      needs: [gasket]
      say: "{figure.coolant}"
    - use: drips
  drips:
    - do: look
  cover-on:
    - torque: cover-screws
      setting: cover
"""
STUDS = """\
snugset: steps/1
name: Studs
groups:
  studs: [{do: stud}]
"""
PROCEDURE = """\
snugset: procedure/1
name: Small
shared: [closing, studs]
figures:
  own: {kind: text, ask: What else?}
phases:
  - title: All
    steps:
      - do: gasket
        say: "{figure.own}"
      - use: water
        if: rockers are bridged
"""


def read(procedure: str, **shared: str) -> tuple[Procedure | None, list[str]]:
    into = Problems()
    pinned = {name: Pinned(file=f"shared/{name}.yaml", text=text) for name, text in shared.items()}
    groups = read_groups(pinned, BLOCKS, into)
    node = parse(procedure, "p", into)
    assert node is not None
    found = read_procedure(node, BLOCKS, into, groups)
    if found is not None:
        check_procedure(found, into)
    return found, [str(problem) for problem in into.items]


def test_a_group_stands_where_it_is_used_with_its_marks_and_conditions() -> None:
    found, problems = read(PROCEDURE, closing=CLOSING, studs=STUDS)
    assert found is not None
    assert not problems
    steps = {step.id: step for step in all_steps(found)}
    assert list(steps) == ["gasket", "fill", "look"]
    assert str(steps["fill"].mark) == "shared/closing.yaml:9:7"
    assert [c.text for c in steps["look"].conditions] == ["rockers are bridged"]


def test_figures_that_used_groups_need_come_along_and_no_others() -> None:
    found, _ = read(PROCEDURE, closing=CLOSING, studs=STUDS)
    assert found is not None
    assert list(found.figures) == ["own", "coolant"]
    more = PROCEDURE + "      - use: cover-on\n"
    found, problems = read(more, closing=CLOSING, studs=STUDS)
    assert found is not None, problems
    assert list(found.figures) == ["own", "coolant", "cover", "small"]


def test_a_figure_of_the_procedure_counts_before_the_shared_one() -> None:
    own = PROCEDURE.replace("  own:", "  coolant: {kind: text, ask: Ours?}\n  own:")
    found, problems = read(own, closing=CLOSING, studs=STUDS)
    assert found is not None, problems
    assert list(found.figures) == ["coolant", "own"]
    assert found.figures["coolant"].ask == "Ours?"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("use: water", "use: watre", "p:11:9: there is no shared group “watre” (did"),
        ("- use: water", "- use: drips\n      - use: drips", "is used twice, first in line 11"),
        ("do: gasket", "do: look", "the id “look” is given twice, first in p, line 9"),
        ("do: gasket", "do: gaskets", "there is no step “gasket” (did you mean “gaskets”?)"),
        ("[closing, studs]", "[closing, stubs]", "there is no file shared/stubs.yaml beside"),
        ("[closing, studs]", "[closing, studs, closing]", "“closing” is named twice"),
        ("[closing, studs]", "[../closing]", "“../closing” is no bare name"),
        ("if: rockers are bridged", "say: x", "“say” is no field here; known here are use, if"),
    ],
)  # fmt: skip
def test_a_mistake_in_using_a_group_is_told(old: str, new: str, said: str) -> None:
    assert old in PROCEDURE
    _, problems = read(PROCEDURE.replace(old, new, 1), closing=CLOSING, studs=STUDS)
    assert any(said in line for line in problems), problems


def test_a_group_that_two_files_have_is_told() -> None:
    _, problems = read(PROCEDURE, closing=CLOSING, studs=STUDS.replace("studs:", "water:", 1))
    assert any("the group “water” stands in shared/closing.yaml too" in line for line in problems)


def test_a_group_that_uses_itself_is_told() -> None:
    round_ = CLOSING.replace("    - do: look\n", "    - do: look\n    - use: water\n")
    _, problems = read(PROCEDURE, closing=round_, studs=STUDS)
    assert any("the group “water” uses itself" in line for line in problems), problems


def test_a_shared_file_with_mistakes_is_told_and_its_groups_are_not_missed() -> None:
    found, problems = read(PROCEDURE, closing=CLOSING.replace("say:", "sya:"), studs=STUDS)
    assert found is None
    assert problems == ["shared/closing.yaml:11:7: “sya” is no field here (did you mean “say”?)"]


def test_a_shared_file_is_checked_by_itself() -> None:
    unused = CLOSING.replace('say: "{figure.coolant}"', 'say: "{figure.water}"')
    _, problems = read(PROCEDURE, closing=unused, studs=STUDS)
    assert any("nothing fills {figure.water}" in line for line in problems)
    assert any("the figure “coolant” is asked for and never used" in line for line in problems)
