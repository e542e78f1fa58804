"""check: mistakes of reference beside mistakes of writing, in one run, and none made up."""

from pathlib import Path

import pytest

from snugset.files.partial import HOLDERS
from snugset.guide.kinds import BLOCKS

from .shell import ENGINE, PROCEDURE, SPECS, Shell
from .test_check import changed, demo, write

HEAD = "snugset: procedure/1\nname: Parts\n"
FIGURES = """\
figures:
  most: {kind: length, unit: in, ask: How much?}
  wrong: {kind: lenght, unit: in, ask: How much?}
  spare: {kind: length, unit: in, ask: How much?}
"""
STEPS = """\
phases:
  - title: Work
    steps:
      - do: one
        tool: [spanner]
        needs: two
      - read: two
        figure: two
        unit: in
        at-most: mots
        at-least: wrong
        needs: one
        say: "{figure.spare} or {figure.mosst}"
      - each: around
        over: boltz
        steps:
          - do: three
            needs: fuor
          - do: four
"""

__all__ = ["demo"]


def test_the_fields_that_hold_steps_are_known() -> None:
    held = {n for block in BLOCKS.values() for n in (*block.children, block.branches) if n}
    assert held == HOLDERS


def told(shell: Shell, *files: str) -> list[str]:
    """Give what check says."""
    code, out, _ = shell("check", *files)
    assert code == 1
    return out.splitlines()


def test_references_are_told_beside_mistakes_of_writing(shell: Shell) -> None:
    found = told(shell, write("p.yaml", HEAD + FIGURES + STEPS))
    assert [line.removeprefix("p.yaml:") for line in found] == [
        "4:9: the figure “most” is asked for and never used; take it out or use it",
        (
            "5:17: “lenght” is not torque, length, angle, time, number, text, choice, camshaft, "
            "thread or changes (did you mean “length”?)"
        ),
        "11:9: “tool” is no field here (did you mean “tools”?)",
        "16:18: two: the figure that “at-most” names, “mots”, is not there (did you mean “most”?)",
        "19:14: two: nothing fills {figure.mosst} in its words (did you mean “figure.most”?)",
        "21:15: “boltz” is not fasteners, cylinders, bridges or valves",
        "24:20: there is no step “fuor” (did you mean “four”?)",
    ]


def test_an_engine_is_held_against_what_can_be_read_of_a_procedure(shell: Shell) -> None:
    procedure = HEAD + "expects: {lifters: hydraulic}\n" + FIGURES + STEPS
    engine = changed(ENGINE, "lifters: hydraulic", "lifters: solid", "e.yaml")
    found = "\n".join(told(shell, write("p.yaml", procedure), engine))
    assert "whose lifters is hydraulic; this one's is solid" in found
    broken = changed(ENGINE, "lifters: hydraulic", "lifters: sollid", "f.yaml")
    found = "\n".join(told(shell, "p.yaml", broken))
    assert "sollid" in found
    assert "whose lifters" not in found


ROUND = """\
phases:
  - title: Work
    steps:
      - turn: proof
        prove: yess
      - crank: points
        over: bridges
        steps:
          - rounds: measure
            figure: gap
            stesp:
              - preload: gap-read
                figure: gap
                unit: thou
            judge:
              - judge: weigh
                pushrod: gone
                catalogue: gone
"""


def test_nothing_is_made_up_of_steps_whose_container_is_wrong(shell: Shell) -> None:
    found = told(shell, write("p.yaml", HEAD + ROUND))
    text = "\n".join(found)
    assert "yess" in text
    assert "stesp" in text
    assert "before number one is proven" not in text
    assert "inside rounds only" not in text
    assert "stands in the rounds" not in text
    assert "“gone”, is not there" in text


def test_numbers_of_an_engine_are_held_against_each_other_beside_a_mistake(shell: Shell) -> None:
    text = ENGINE.read_text("utf-8").replace("layout: inline", "layout: inlien")
    assert "firing-order: [1, 5, 3, 6, 2, 4]" in text
    text = text.replace("firing-order: [1, 5, 3, 6, 2, 4]", "firing-order: [1, 5, 3, 6, 2, 2]")
    found = told(shell, write("e.yaml", text))
    assert any("inlien" in line for line in found)
    assert any("cylinder 2 stands twice in the firing order" in line for line in found)
    assert any("cylinder 4 is missing" in line for line in found)
    assert len(found) == 3


def test_values_of_a_spec_sheet_are_read_beside_an_entry_without_source(shell: Shell) -> None:
    text = SPECS.read_text("utf-8")
    name = next(line for line in text.splitlines() if "lbf·ft" in line)
    wrong = name.replace("lbf·ft", "thou")
    text = text.replace(name, wrong).replace("figures:\n", "figures:\n  no-such: {value: 1 in}\n")
    found = told(shell, str(PROCEDURE), write("s.yaml", text))
    assert any("“source” is missing here" in line for line in found)
    assert any("a torque is asked" in line for line in found)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('at: "rags-in"', "at: rags-inn", "there is no step “rags-inn” (did you mean “rags-in”?)"),
        ('at: "rags-in"', "at: rags-in@3", "“rags-in” stands at no place; leave @3 out"),
        ('at: "rags-in"', 'at: "rags-in#2"', "“rags-in” stands in no rounds; leave #2 out"),
        ('at: "seal-stud@2"', "at: seal-stud@22", "there is no place “22” of “seal-stud”"),
        ('at: "spec.cover-torque"', "at: spec.cover-torqe", "asks for no figure “cover-torqe”"),
        ("expect: refused old", "expect: refused olld", "did you mean “old”?"),
    ],
)
def test_answers_are_held_against_the_files_that_they_name(
    demo: Shell, old: str, new: str, says: str
) -> None:
    text = Path("demo/answers.yaml").read_text("utf-8")
    assert old in text
    Path("demo/answers.yaml").write_text(text.replace(old, new, 1), "utf-8")
    assert says in "\n".join(told(demo, "demo/answers.yaml"))


def test_a_choice_offers_the_words_that_its_step_knows(shell: Shell) -> None:
    figures = "figures:\n  state: {kind: choice, choices: [dry, full], ask: Which?}\n"
    steps = (
        "phases:\n  - title: Work\n    steps:\n      - turn: one\n        prove: yes\n"
        "      - crank: points\n        over: valves\n        lifter: state\n"
        "        steps: [{do: seen, choices: [dry, filled], wants-figure: state}]\n"
    )
    found = "\n".join(told(shell, write("p.yaml", HEAD + figures + steps)))
    assert (
        "p.yaml:12:17: points: “lifter” knows dry and filled only, and “state” offers “full”"
        in (found)
    )
    assert "seen: it must agree with “state”, so its choices are dry and full" in found


def test_a_group_that_nothing_tightens_is_told(shell: Shell) -> None:
    steps = (
        "phases:\n  - title: Work\n    steps:\n      - each: holes\n        over: fasteners\n"
        "        group: head\n        steps: [{do: probe}]\n"
    )
    found = "\n".join(told(shell, write("p.yaml", HEAD + steps), str(ENGINE)))
    assert "works on the group “head” and no step tightens it" in found
