"""check: mistakes of reference beside mistakes of writing, in one run, and none made up."""

import re
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
    assert "whose lifters are hydraulic; this one's are solid" in found
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
    assert "no step of the procedure tightens the group “head”" in found


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("layout: inline", "layout:\tinline", ":8: a tab stands here; write spaces"),
        ("layout: inline", "layout: inline # a\ttab", ""),
        ("x: 0 in", "x: 1200000 in", "x 1200000 in is more than any engine has (1000 in)"),
        ("stroke: ", "stroke: 9", "a stroke of 94.25 in is more than any engine has (80 in)"),
    ],
)
def test_what_an_engine_file_cannot_mean(shell: Shell, old: str, new: str, says: str) -> None:
    file = changed(ENGINE, old, new, "e.yaml")
    if new.startswith("stroke"):
        text = Path(file).read_text("utf-8")
        file = write(file, re.sub("(connecting-rod: ).*", "\\g<1>199 in", text))
    if says:
        (found,) = told(shell, file)
        assert says in found
    else:
        assert shell.ok("check", file).out == ""


def test_a_comma_inside_braces_is_told_as_such(shell: Shell) -> None:
    text = "snugset: specs/1\nfigures:\n  a: {value: 0,004 in, source: card, p. 4}\n"
    assert told(shell, write("s.yaml", text)) == [
        (
            f"s.yaml:3:{column}: “{cut}” is no field here: a comma inside braces ends the field "
            "before it; write a decimal with a point, and put a text with a comma in quotes"
        )
        for column, cut in ((16, "004 in"), (38, "p. 4"))
    ]


@pytest.mark.parametrize(
    ("figure", "says"),
    [
        ("{kind: angle, unit: in, ask: How?}", "in is no unit of an angle; write deg or turn"),
        ("{kind: angle, ask: How?}", "“unit” is missing here; an angle takes deg or turn"),
        (
            "{kind: choice, choices: [a, b], ask: How?, if: sunny}",
            "“sunny” is no condition; write it like one of these: rockers are bridged, figure",
        ),
    ],
)
def test_words_of_a_wrong_figure(shell: Shell, figure: str, says: str) -> None:
    assert says in "\n".join(
        told(shell, write("p.yaml", f"{HEAD}figures:\n  f: {figure}\n{STEPS}"))
    )


def test_steps_that_are_read_again_keep_their_ids_and_their_needs(shell: Shell) -> None:
    """The third step has no id to read, so that needs are held against each other without it."""
    Path("shared").mkdir()
    write("shared/x.yaml", "snugset: steps/1\nname: X\ngroups:\n  g:\n    - do: x\n")
    steps = """\
shared: x
phases:
  - title: Work
    steps:
      - use: g
      - do: one
      - do: two
        needs: [one, x]
      - do: NO ID
      - do: three
        needs: [tow, zebra]
      - do: two
"""
    found = told(shell, write("p.yaml", HEAD + steps))
    assert [line.removeprefix("p.yaml:").split("; ")[0] for line in found] == [
        "11:13: “NO ID” is no id",
        "13:17: there is no step “tow” (did you mean “two”?)",
        "13:22: there is no step “zebra”",
        "14:13: the id “two” is given twice, first in line 9",
    ]


def test_the_same_name_is_offered_for_a_slip_however_many_there_are(shell: Shell) -> None:
    steps = "".join(f"      - do: step{n:04}\n" for n in range(2000))
    wrong = "      - do: last\n        needs: stepp0123\n"
    text = f"{HEAD}phases:\n  - title: Work\n    steps:\n{steps}{wrong}"
    (line,) = told(shell, write("p.yaml", text))
    assert line.endswith("there is no step “stepp0123” (did you mean “step0123”?)")


def test_however_many_figures_and_steps_are_wrong_what_is_left_is_held_together(
    shell: Shell,
) -> None:
    """They are all taken out at once: the file is looked at again only so often."""
    figures = "".join(
        f"  wrong-{n}: {{kind: lenght, unit: in, ask: How much?}}\n" for n in range(30)
    )
    steps = "".join(f"      - do: bad-{n}\n        tool: [spanner]\n" for n in range(30))
    found = told(
        shell,
        write(
            "p.yaml",
            f"{HEAD}figures:\n{figures}phases:\n  - title: Work\n    steps:\n{steps}"
            "      - read: last\n        figure: last\n        unit: in\n        at-most: lats\n",
        ),
    )
    assert sum("“lenght” is not" in line for line in found) == 30
    assert sum("“tool” is no field here" in line for line in found) == 30
    assert "last: the figure that “at-most” names, “lats”, is not there" in found[-1]
    assert len(found) == 61
