"""Conditions: steps and figures that are there only where something is so."""

import pytest

from driving import small
from snugset.stored import BuildError

FIGURES = """\
state: {kind: choice, choices: [dry, filled], ask: State?, none: Nothing follows.}
bleed: {kind: time, unit: min, ask: How long?, none: Twenty minutes., if: figure state is filled}
changes: {kind: changes, ask: What is other than before?, if: lifters are hydraulic}
"""
STEPS = """\
- do: first
- do: bridged
  if: rockers are bridged
- do: not-bridged
  if: rockers are not bridged
- do: dry
  if: figure state is dry
- do: not-dry
  if: figure state is not dry
- do: had
  if: figure bleed is had
- do: not-had
  if: figure bleed is not had
- do: clay
  if: [changed camshaft or head, rockers are bridged]
- do: any
  if: changed anything
- do: same
  if: changed nothing
- each: cylinders
  over: cylinders
  if: figure state is filled
  steps:
    - do: wait
- do: last
"""


def done(specs: str) -> list[str]:
    """Give the steps that are asked, in order, with these answers at the spec sheet."""
    bench = small(STEPS, figures=FIGURES)
    for text in specs.split("|"):
        bench.taken(text)
    found = []
    while bench.at:
        found.append(bench.asked.address.step)
        bench.taken("")
    return list(dict.fromkeys(found))


@pytest.mark.parametrize(
    ("specs", "expected"),
    [
        ("dry; me|nothing", "first bridged dry not-had same last"),
        ("filled; me|9 min; me|head", "first bridged not-dry had clay any wait last"),
        ("filled; me|none|gasket, pistons", "first bridged not-dry not-had any wait last"),
        ("none|camshaft", "first bridged not-had clay any last"),
    ],
)
def test_steps_are_done_where_their_conditions_hold(specs: str, expected: str) -> None:
    assert done(specs) == expected.split()


def test_what_was_changed_is_read_in_any_order_and_said_in_one() -> None:
    bench = small(STEPS, figures=FIGURES, specs="state: {none: yes}")
    assert bench.refused("gaskit").code == "choice"
    bench.taken("Pistons,  camshaft")
    assert bench.state.spec("changes") == "camshaft, pistons"


def test_a_step_that_is_not_there_is_not_waited_for() -> None:
    steps = """\
- do: gone
  if: rockers are stud
- hold: post
- do: meanwhile
  meanwhile: yes
  needs: gone
"""
    bench = small(steps)
    bench.taken("")
    assert bench.at == "meanwhile"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("rockers are bridged", "rockers are bridge", "“bridge” is not bridged, pedestal"),
        ("rockers are bridged", "rocker are bridged", "is no feature of an engine (did you mean"),
        ("rockers are bridged", "when bridged", "“when bridged” is no condition; write it like"),
        ("figure state is dry", "figure stat is dry", "“stat” is no figure here (did you mean"),
        ("figure state is dry", "figure state is wet", "“wet” is not dry or filled"),
        ("figure state is dry", "figure bleed is dry", "“bleed” is a time, no choice"),
        ("changed nothing", "changed valves", "“valves” is not camshaft, head"),
        ("if: figure state is filled}", "if: figure bleed is had}", "wait for each other"),
        ("- do: dry\n", "- do: dry\n  needs: dry\n", "the steps dry → dry need each other"),
    ],
)
def test_a_condition_that_leads_nowhere_is_told(old: str, new: str, said: str) -> None:
    assert old in STEPS + FIGURES
    with pytest.raises(BuildError) as raised:
        small(STEPS.replace(old, new, 1), figures=FIGURES.replace(old, new, 1))
    assert said in str(raised.value)


def test_a_step_that_can_never_be_done_is_told() -> None:
    with pytest.raises(BuildError) as raised:
        small(STEPS, figures=FIGURES, head="expects: {rockers: bridged}")
    assert "not-bridged: it is never done, for the procedure expects rockers: bridged" in str(
        raised.value
    )


def test_what_was_changed_must_be_asked() -> None:
    figures = FIGURES[: FIGURES.index("changes:")]
    with pytest.raises(BuildError) as raised:
        small(STEPS, figures=figures)
    assert "no figure asks what was changed" in str(raised.value)
