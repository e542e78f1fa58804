"""Figures that belong together, and what another answer to one brings in or takes out."""

import pytest

from driving import Table, small
from guide.test_stages import ENGINE, FIGURES
from snugset.guide.address import Address

RISING = """\
- stages: head
  group: head
  steps:
    - torque-to: one
      figure: first
    - torque-to: fronts
      group: {group}
      figure: outer
    - torque-to: two
      figure: second
- do: last
"""
TORQUES = "".join(
    f"{line}\n"
    for line in FIGURES.splitlines()
    if line.partition(":")[0] in ("first", "second", "outer")
)


def torques(group: str) -> Table:
    found = small(RISING.format(group=group), figures=TORQUES, engine=ENGINE)
    found.taken("30 lbf·ft; leaflet", at="spec.first")
    found.taken("45 lbf·ft; leaflet", at="spec.second")
    return found


def test_torques_rise_within_a_group_and_not_across_groups() -> None:
    torques("front").taken("20 lbf·ft; leaflet", at="spec.outer")
    refusal = torques("head").refused("20 lbf·ft; leaflet", at="spec.outer")
    assert refusal.code == "rising"
    assert "outer 20 lbf·ft comes after first 30 lbf·ft" in refusal.words
    assert "“falls: yes”" in refusal.words


LEAST = """\
- stages: head
  group: head
  steps:
    - torque-to: one
      figure: first
    - accept: reached
      if: figure least is had
      figure: least
- do: last
"""
LEAST_FIGURES = """\
first: {kind: torque, unit: lbf·ft, ask: First?}
least: {kind: torque, unit: lbf·ft, ask: At least?, none: As it comes.}
"""


def test_a_last_stage_that_falls_away_leaves_the_group_at_its_last() -> None:
    found = small(LEAST, figures=LEAST_FIGURES, engine=ENGINE)
    found.taken("30 lbf·ft; leaflet")
    found.taken("40 lbf·ft; leaflet")
    while found.at != "reached@2":
        found.taken("stage")
    assert found.state.condition.mark("stage", "head") == "1 of 2"
    said = found.taken("again none", at="spec.least").said
    assert found.state.condition.mark("stage", "head") == "1 of 1"
    assert "With it these are left out: reached." in said
    assert found.at == "last"
    said = found.taken("again 40 lbf·ft; leaflet", at="spec.least").said
    assert "With it these come in: reached." in said
    assert found.state.condition.mark("stage", "head") == "1 of 2"


def test_what_was_changed_given_again_says_which_steps_come_and_go() -> None:
    steps = (
        "- do: shim\n  if: changed head\n- do: bare\n  if: changed nothing\n"
        "- do: wipe\n  if: [changed camshaft or head]\n- do: last\n"
    )
    found = small(steps, figures="changes: {kind: changes, ask: What was changed?}")
    found.taken("head")
    found.taken("")
    said = found.taken("again nothing", at="spec.changes").said
    assert "With it these come in: bare." in said
    assert "With it these are left out: wipe." in said
    assert any("do not belong to the build any more: shim" in line for line in said)


YIELD = """\
- stages: head
  group: head
  yield: yield
  steps:
    - torque-to: one
      figure: first
- do: last
"""


def test_another_answer_on_yield_after_renewing_says_that_the_new_ones_stay() -> None:
    figures = LEAST_FIGURES.split("\n", maxsplit=1)[0] + "\n"
    figures += "yield: {kind: choice, choices: ['yes', 'no'], ask: Yield?, none: Later.}\n"
    found = small(YIELD, figures=figures, engine=ENGINE)
    found.taken("30 lbf·ft; leaflet")
    found.taken("yes; leaflet")
    found.taken("")
    found.taken("restart ! wrong bolts")
    while not found.at.startswith("head.renew"):
        found.taken("stage")
    found.taken("renewed" if "renewed" in found.asked.choices else "")
    said = found.taken("again no; leaflet", at="spec.yield").said
    assert any("what was renewed stays in" in line for line in said)


@pytest.mark.parametrize(
    ("hole", "reads"),
    [
        ("wet through", "wet through"),
        ("unknown blind", "unknown blind"),
        ("dry unknown", "dry unknown"),
        ("unknown unknown", "unknown"),
    ],
)
def test_a_hole_reads_unknown_where_the_map_does_not_say(hole: str, reads: str) -> None:
    engine = ENGINE.replace('"1": {x: 0 in, y: 3 in}', f'"1": {{x: 0 in, y: 3 in, hole: {hole}}}')
    step = "- each: e\n  over: fasteners\n  group: head\n  steps:\n"
    step += "  - do: look\n    say: 'The map says {hole}.'\n"
    assert small(step, engine=engine).asked.words == f"The map says {reads}."


def test_the_head_waits_for_holes_that_nobody_knows() -> None:
    step = "- {do: on, guards: [studs]}\n"
    engine = ENGINE.replace('"1": {x: 0 in, y: 3 in}', '"1": {x: 0 in, y: 3 in, hole: dry through}')
    refusal = small(step, engine=engine).refused("")
    assert refusal.code == "guard-studs"
    assert "holes not known to be wet or dry, blind or through: 2, 3, 4;" in refusal.words


def test_a_build_whose_preload_was_declared_in_another_unit_still_opens() -> None:
    steps = """\
- rounds: r
  figure: f
  steps:
  - each: v
    over: valves
    steps: [{preload: gap, figure: f, unit: cc}]
  judge: [{judge: j, pushrod: long, catalogue: lengths}]
  again: [{do: n}]
"""
    figures = "long: {kind: length, unit: in, ask: How long?}\n"
    figures += "lengths: {kind: length, form: catalogue, unit: in, ask: Which?}\n"
    found = small(steps, figures=figures)
    assert Address("spec.long") == found.asked.address
