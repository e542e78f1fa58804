"""A step without words of its own is no blank prompt."""

import pytest

from driving import small
from snugset.files.problems import Mark
from snugset.files.steps import Step
from snugset.guide.kinds import BLOCKS, KINDS
from snugset.guide.usual import usual_words

FIGURES = """\
pull: {kind: torque, unit: lbf·ft, ask: How tight?}
slack: {kind: angle, unit: turn, ask: How far?}
"""
SPECS = """\
pull: {value: 40 lbf·ft, source: card}
slack: {value: 1 turn, source: card}
"""


AT_VALVES = "- each: e\n  over: valves\n  steps:\n  - "
STAGES = """\
- stages: s
  group: head
  steps:
  - loosen: l
    turns: slack
  - torque-to: p
    figure: pull
"""


@pytest.mark.parametrize(
    ("step", "words"),
    [
        ("- do: lay-gasket", "Lay gasket."),
        ("- do: rags-in\n  count: rags in", "Count: rags in."),
        ("- hold: cure\n  for: sealant", "Wait: sealant."),
        ("- hold: cure", "Wait: cure."),
        ("- read: head-flat\n  figure: f\n  unit: in", "Read: head flat."),
        ("- read: head-flat\n  figure: f\n  unit: in\n  ask: How flat?", "How flat?"),
        ("- turn: n1\n  prove: yes", "Bring number one to its compression dead centre, and prove"),
        ("- choose: nuts-again\n  options: {hot: [], cold: []}", "Nuts again: hot or cold?"),
        ("- each: e\n  over: valves\n  steps: [{do: oil-it}]", "Intake of 1: Oil it."),
        ("- tighten: t\n  group: cover\n  stages: pull", "Draw it to the torque of this stage."),
        (
            AT_VALVES + "lash: l\n    figure: f\n    unit: in\n    at: hot",
            "Intake of 1: Set the lash.",
        ),
        (
            AT_VALVES + "torque: l\n    setting: pull",
            "Intake of 1: Draw it to 40 lbf·ft",
        ),
        (
            STAGES,
            "Loosen it by 1 turn.",
        ),
    ],
)
def test_a_step_without_words_has_those_of_its_kind(step: str, words: str) -> None:
    used = "- do: last\n  say: '{figure.pull} {figure.slack}'\n"
    found = small(f"{step}\n{used}", figures=FIGURES, specs=SPECS)
    assert words in found.asked.words


@pytest.mark.parametrize("name", [n for n in BLOCKS if KINDS[n].ask is not None])
def test_every_kind_that_asks_has_words(name: str) -> None:
    step = Step(kind=name, id="some-step", mark=Mark("f", 1, 1), children={"a": (), "b": ()})
    words = usual_words(step).removeprefix("{place}: ")
    assert words.endswith((".", "?"))
    named = name in ("do", "read", "choose")
    assert words.lower().startswith("some step") == (named and name != "read")


def test_a_leaf_without_a_why_shows_that_of_its_container() -> None:
    each = "- each: e\n  over: valves\n  {}\n  steps:\n  - do: one\n    {}\n"
    assert small(each.format("say: Oil all.", "say: Oil it.")).asked.why == "Oil all."
    assert small(each.format("why: They dry.", "say: Oil it.")).asked.why == "They dry."
    assert small(each.format("why: They dry.", "why: It squeals.")).asked.why == "It squeals."
