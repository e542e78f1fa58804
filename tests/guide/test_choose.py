"""choose: the steps that an answer leads to; hold: a time that counts from a step."""

from datetime import timedelta

import pytest

from driving import Table, small
from snugset.shipped import engines
from snugset.stored import BuildError

STUD = engines()["ferry-eight"]

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


CARD = """\
card: {kind: camshaft, ask: Which?, none: Each alone.}
least: {kind: angle, unit: deg, ask: Margin?, none: 20 degrees.}
"""
LIST = """\
- turn: n1
  prove: yes
- choose: how
  options:
    two positions:
      - crank: quick
        over: valves
        method: two-positions
        events: card
        margin: least
        steps: [{do: quickly}]
    own points:
      - crank: slow
        over: cylinders
        method: firing-order
        steps: [{do: slowly}]
"""


def at_the_list(card: str, least: str = "none") -> Table:
    found = small(LIST, figures=CARD, engine=STUD.read_text("utf-8"))
    found.taken(card)
    found.taken(least)
    found.taken("")
    return found


MILD = "IVO 8 IVC 40 EVO 44 EVC 6 at seat; card"


def test_a_list_whose_margin_holds_is_offered() -> None:
    found = at_the_list(MILD)
    assert (found.at, found.asked.choices) == ("how", ("two positions", "own points"))
    assert found.asked.facts == ()
    found.taken("two")
    assert found.at == "quick.plan"


@pytest.mark.parametrize(
    ("card", "least", "why"),
    [
        (
            "IVO 62 IVC 112 EVO 112 EVC 72 at seat; card",
            "none",
            "of margin in two positions, under",
        ),
        (MILD, "85 deg; shop", "of margin in two positions, under 85°"),
        ("none", "none", "cannot be judged without a camshaft card"),
    ],
)
def test_a_list_whose_margin_does_not_hold_is_not_offered(card: str, least: str, why: str) -> None:
    found = at_the_list(card, least)
    assert found.asked.choices == ("own points",)
    (fact,) = found.asked.facts
    assert why in fact
    refused = found.refused("two positions")
    assert (refused.code, refused.suggest) == ("margin", ("own points",))
    assert why in refused.words
    assert not refused.overridable
    found.taken("own points")
    assert found.at == "slow.plan"
