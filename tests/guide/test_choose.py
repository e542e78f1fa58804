"""choose: the steps that an answer leads to; hold: a time that counts from a step."""

from datetime import timedelta

import pytest

from driving import Table, small
from snugset.bench import BuildError

FIGURES = """\
retorque: {kind: choice, choices: [hot, cold, never], ask: Again?, none: It is asked later.}
bleed: {kind: time, unit: min, ask: How long?}
"""
STEPS = """\
- choose: nuts-again
  figure: retorque
  say: Again, hot, cold or never?
  options:
    hot: [{do: again-hot}]
    cold:
      - do: again-cold
      - do: wiped
    never: []
- each: cylinders
  over: cylinders
  steps:
    - do: drawn
    - hold: bled
      time: bleed
      since: drawn
- do: other
  meanwhile: yes
- do: last
"""


def bench(retorque: str) -> Table:
    found = small(STEPS, figures=FIGURES)
    found.taken(retorque)
    found.taken("20 min; card")
    return found


def test_an_answer_leads_to_its_steps_and_no_others() -> None:
    found = bench("none")
    assert (found.at, found.asked.choices) == ("nuts-again", ("hot", "cold", "never"))
    assert found.refused("warm").code == "choice"
    found.taken("2")
    assert found.at == "again-cold"
    found.taken("back")
    assert found.at == "nuts-again"
    found.taken("never")
    assert found.at == "drawn@1"


def test_a_figure_settles_it_without_a_question() -> None:
    assert bench("hot; sheet").at == "again-hot"
    assert bench("never; sheet").at == "drawn@1"


def test_a_time_counts_from_its_step_at_the_same_place() -> None:
    found = bench("never; sheet")
    found.taken("")
    assert found.at == "other"
    found.taken("")
    assert (found.at, found.asked.asks) == ("bled@1", "wait")
    assert found.refused("").code == "waiting"
    assert found.refused("arrived").code == "early"
    found.now += timedelta(minutes=20)
    found.taken("")
    assert found.at == "drawn@5"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("never: []", "nevr: []", "option “nevr” is no choice of “retorque” (did you mean"),
        ("hot: [{do: again-hot}]", "skip: []", "skip is a word of its own at every prompt"),
        ("      time: bleed\n", "", "“since” counts a time"),
        ("since: drawn", "since: drawm", "“drawm”, is not there (did you mean “drawn”?)"),
        ("  options:", "  option:", "“option” is no field here"),
    ],
)
def test_a_mistake_is_told(old: str, new: str, said: str) -> None:
    assert old in STEPS
    with pytest.raises(BuildError) as raised:
        small(STEPS.replace(old, new, 1), figures=FIGURES)
    assert said in str(raised.value)
