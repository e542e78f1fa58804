"""Number one: proven, known on the builder's word, or not; and what stands in the way."""

from datetime import timedelta

from driving import small
from guide.test_valves import FOUR, PROVE, lash
from snugset.guide.address import Address

CRANK = "- crank: points\n  over: cylinders\n  steps: [{do: set}, {do: look}]\n- do: last\n"


def test_the_proof_cannot_be_skipped_and_a_reason_stands_as_an_override() -> None:
    found = small(PROVE + CRANK, engine=FOUR)
    refusal = found.refused("skip no time")
    assert refusal.code == "no-skip"
    assert "known ! how you know" in refusal.words
    assert str(found.state.condition.crank) == "None"
    assert found.refused("known").code == "not-proven"
    found.taken("known ! marked it with a positive stop yesterday")
    assert str(found.state.condition.crank) == "0"
    assert [o.code for o in found.state.overrides] == ["not-proven"]


def test_where_no_step_proves_number_one_the_first_turn_is_stopped() -> None:
    prove = PROVE.rstrip() + "\n  if: rockers are bridged\n"
    found = small(prove + CRANK, engine=FOUR)
    found.taken("")
    assert found.at.startswith("points.turn")
    assert found.refused("").code == "not-proven"
    found.taken(" ! a stop and two marks")
    assert found.at.startswith("set@")


def test_a_point_skipped_with_the_crank_unknown_leaves_it_unknown() -> None:
    prove = PROVE.rstrip() + "\n  if: rockers are bridged\n"
    found = small(prove + CRANK, engine=FOUR)
    found.taken("")
    found.taken("skip turned already")
    assert found.state.condition.crank is None


def test_going_on_against_needs_is_an_override() -> None:
    steps = "- do: look\n- do: shut\n  needs: look\n- do: last\n"
    found = small(steps, engine=FOUR)
    found.taken("skip too dark")
    assert found.refused("").code == "needs"
    found.taken(" ! looked with a mirror")
    assert [(o.code, o.reason) for o in found.state.overrides] == [
        ("needs", "looked with a mirror")
    ]
    assert not found.state.notes


def test_an_answer_must_agree_with_the_spec_sheet_where_it_says_so() -> None:
    steps = "- do: press\n  choices: [dry, filled]\n  wants-figure: state\n- do: last\n"
    found = small(
        steps,
        figures="state: {kind: choice, choices: [dry, filled], ask: Which?}\n",
        specs="state: {value: dry, source: me}\n",
        engine=FOUR,
    )
    refusal = found.refused("filled")
    assert refusal.code == "not-right"
    assert "the spec sheet says dry" in refusal.words
    found.taken("again filled; pressed one", at="spec.state")
    found.taken("filled")
    assert found.at == "last"


def test_a_place_whose_last_steps_are_not_in_this_build_is_not_begun() -> None:
    steps = (
        PROVE
        + """\
- crank: points
  over: cylinders
  steps:
    - do: set
    - hold: bled
      for: bleeding down
      if: figure state is filled
    - choose: way
      figure: state
      options:
        dry: [{do: dry-look}]
        filled: [{do: full-look}, {do: full-again}]
"""
    )
    found = small(
        steps,
        figures="state: {kind: choice, choices: [dry, filled], ask: Which?}\n",
        specs="state: {value: dry, source: me}\n",
        engine=FOUR,
    )
    while found.at != "dry-look@3":
        found.taken("")
    found.away(timedelta(hours=2))
    facts = " ".join(found.asked.facts)
    assert "Cylinder 3 was begun: it is done again from the start." in facts
    assert "Cylinder 1 was begun" not in facts
    assert "Loose: rockers not set yet: 3, 4, 2." in facts
    found.taken("")
    assert Address("dry-look", "1") in found.state.facts
    assert Address("set", "3") not in found.state.facts


def test_a_hot_lash_after_the_engine_has_stood_says_that_it_has_cooled() -> None:
    found = lash("hot@1I")
    found.away(timedelta(hours=3))
    assert any("The engine has cooled" in fact for fact in found.asked.facts)
    cold = lash("cold@1I")
    cold.away(timedelta(hours=3))
    assert not any("The engine has cooled" in fact for fact in cold.asked.facts)
