"""What counts as begun at a setting point when the crank is lost."""

from datetime import timedelta

from driving import Table, small
from guide.test_valves import EIGHT

STEPS = """\
- turn: number-one
  prove: yes
- crank: points
  over: cylinders
  steps:
    - do: down
      marks: drawn
    - do: wait
      if: figure state is filled
    - choose: way
      options:
        long:
          - do: more
        short: []
    - each: both
      over: valves
      steps:
        - do: read-it
"""
FIGURES = "state: {kind: choice, choices: [dry, filled], ask: Which?}"


def bench(state: str) -> Table:
    """Give a table whose first cylinder is whole and whose second is begun."""
    specs = f"state: {{value: {state}, source: seen}}"
    found = small(STEPS, figures=FIGURES, specs=specs, engine=EIGHT)
    while not found.at.startswith("read-it@1"):
        found.taken("short" if found.at.startswith("way") else "")
    found.taken("")
    found.taken("")
    while not found.at.startswith("down@"):
        found.taken("")
    found.taken("")
    return found


def test_a_finished_cylinder_stands_though_some_of_its_steps_are_not_there() -> None:
    for state in ("dry", "filled"):
        found = bench(state)
        second = found.at.partition("@")[2]
        found.away(timedelta(hours=3))
        facts = " ".join(found.asked.facts)
        assert f"Cylinder {second} was begun" in facts
        assert "Cylinder 1 was begun" not in facts
        found.taken("")
        assert {a.place for a in found.state.facts if a.step == "down"} == {"1"}


def test_pushrods_are_freed_as_the_rockers_of_this_engine_are() -> None:
    found = bench("dry")
    found.away(timedelta(hours=3))
    facts = " ".join(found.asked.facts)
    assert "slacken its rockers until their pushrods are free" in facts
    assert "screws" not in facts
