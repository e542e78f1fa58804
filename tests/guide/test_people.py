"""Who answers: initials, handing over, and the second look of another person."""

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from driving import Table, small
from snugset.guide.address import Address
from snugset.guide.apply import fold
from snugset.guide.people import folded, initials
from snugset.plan.addresses import Addresses
from snugset.stored import BuildError

LOOK = Address("cover.second-look")
LOOKED = """\
- do: cover
  second-look: yes
  say: Set the cover on.
- do: after
  needs: [cover]
"""


def test_initials_are_short_and_nobody_elses() -> None:
    found = initials(["Wren", "Robin Marsh", "Willow", "wren ", "Rowan Moor", "W", "—"])
    assert dict(found) == {
        "Wren": "W",
        "Robin Marsh": "RM",
        "Willow": "WI",
        "wren ": "W",
        "Rowan Moor": "RMO",
        "W": "W2",
        "—": "P",
    }


@given(st.lists(st.text(max_size=12), max_size=30))
def test_initials_are_unique_and_stay_when_somebody_joins(names: list[str]) -> None:
    found = initials(names)
    people = {folded(name): short for name, short in found.items()}
    assert len(set(people.values())) == len(people)
    half = names[: len(names) // 2]
    assert dict(initials(half)) == {name: found[name] for name in half}


def test_after_a_handover_the_other_person_answers() -> None:
    bench = small("- do: one\n- do: two\n")
    bench.taken("")
    assert bench.taken("person  Robin ").said == ("From here on Robin answers.",)
    assert bench.at == "two"
    bench.taken("")
    assert [r.person for r in bench.records] == ["Wren", "Wren", "Robin", "Robin"]
    assert bench.records[2].body == {"at": "two", "from": "Wren", "to": "Robin"}
    assert bench.state.people == ("Wren", "Robin")
    assert bench.state.last_person == "Robin"


def test_a_handover_is_no_answer_that_is_taken_back() -> None:
    bench = small("- do: one\n- do: two\n")
    bench.taken("")
    bench.taken("person Robin")
    bench.taken("back")
    assert bench.at == "one"
    assert bench.person == "Robin"
    assert bench.state == fold(bench.records)


def test_a_handover_to_nobody_or_to_who_answers_is_refused() -> None:
    bench = small("- do: one\n")
    assert bench.refused("person").code == "empty"
    assert bench.refused("person  wREN").code == "nobody-else"
    assert bench.refused(f"person {'x' * 121}").code == "too-long"
    assert bench.refused("person Rob\u202ein").code == "character"


def test_the_words_of_a_source_are_no_handover() -> None:
    bench = small(
        "- do: one\n  say: '{figure.sheet}'\n",
        figures="sheet: {kind: text, ask: What does the sheet say?}",
    )
    bench.taken("dry")
    assert bench.at == "spec.sheet.source"
    bench.taken("person at the counter")
    assert bench.person == "Wren"
    assert bench.state.specs["sheet"].source == "person at the counter"


def test_at_a_source_it_can_be_said_at_the_handover_itself() -> None:
    bench = small(
        "- do: one\n  say: '{figure.sheet}'\n",
        figures="sheet: {kind: text, ask: What does the sheet say?}",
    )
    bench.taken("dry")
    bench.taken("person Robin", "handover")
    assert (bench.person, bench.at) == ("Robin", "spec.sheet.source")


def test_a_choice_that_begins_with_such_a_word_is_that_choice() -> None:
    bench = small("- do: one\n  choices: [photo taken, none]\n")
    bench.taken("photo taken")
    assert bench.at == ""


def test_after_a_handover_on_coming_back_the_crank_is_not_taken_on_trust() -> None:
    steps = "- turn: first\n  prove: yes\n- crank: points\n  over: bridges\n  steps: [{do: pull}]\n"
    bench = small(steps)
    bench.until_step("pull@1")
    bench.away(timedelta(minutes=40))
    assert bench.asked.choices == ("untouched", "moved")
    bench.taken("person Robin")
    assert len(bench.asked.choices) == 0


def test_a_second_look_is_another_persons() -> None:
    bench = small(LOOKED)
    bench.taken("")
    assert bench.at == "cover.second-look"
    assert "done by Wren" in " ".join(bench.asked.facts)
    assert bench.refused("").code == "same-person"
    assert bench.refused("wren").code == "same-person"
    assert bench.refused("W").code == "same-person"
    assert bench.refused("skip nobody here").code == "no-skip"
    assert bench.taken("Robin").said == ("Looked at by Robin.",)
    assert bench.at == "after"
    assert bench.state.facts[LOOK].value == "Robin"


def test_who_took_over_gives_it_with_enter() -> None:
    bench = small(LOOKED)
    bench.taken("")
    bench.taken("person Robin")
    bench.taken("")
    assert bench.state.facts[LOOK].value == "Robin"


def test_alone_it_goes_on_with_a_reason_that_is_kept() -> None:
    bench = small(LOOKED)
    bench.taken("")
    bench.taken("! alone tonight")
    assert bench.at == "after"
    assert [(o.code, o.reason) for o in bench.state.overrides] == [("same-person", "alone tonight")]
    assert bench.state.facts[LOOK].value == ""


def test_taking_back_asks_for_it_again() -> None:
    bench = small(LOOKED)
    bench.taken("")
    bench.taken("Robin")
    bench.taken("back")
    assert bench.at == "cover.second-look"
    bench.taken("back")
    assert bench.at == "cover"


def test_a_step_that_was_skipped_is_not_looked_at() -> None:
    bench = small("- do: cover\n  second-look: yes\n- do: after\n")
    bench.taken("skip it stays off")
    assert bench.at == "after"


def test_what_needs_the_step_waits_for_its_look_too() -> None:
    bench = small(
        "- do: cover\n  second-look: yes\n"
        "- hold: wait\n  for: parts\n"
        "- do: later\n  meanwhile: yes\n  needs: [cover]\n"
    )
    bench.taken("")
    assert bench.refused("", "later").code == "not-yet"
    bench.taken("! alone")
    bench.taken("")
    assert bench.at == "later"


TIGHT = """\
- tighten: nuts
  group: head
  stages: stages
  second-look: yes
- do: after
"""
STAGES = "stages: {kind: torque, form: rising, unit: lbf·ft, ask: In which stages?}"


def _tight() -> Table:
    bench = small(TIGHT, figures=STAGES, specs='stages: {value: "30, 60 lbf·ft", source: leaflet}')
    bench.taken("stage")
    bench.taken("stage")
    return bench


def test_a_whole_group_is_looked_at_once_by_one_who_pulled_none_of_it() -> None:
    bench = small(TIGHT, figures=STAGES, specs='stages: {value: "30, 60 lbf·ft", source: leaflet}')
    bench.taken("stage")
    bench.taken("person Robin")
    bench.taken("stage")
    assert bench.at == "nuts.second-look"
    assert bench.refused("").code == "same-person"
    assert bench.refused("Wren").code == "same-person"
    bench.taken("Sloe")
    assert bench.at == "after"


def test_what_is_done_again_is_looked_at_again() -> None:
    bench = _tight()
    bench.taken("Robin")
    bench.taken("again 35, 70 lbf·ft; newer leaflet", "spec.stages")
    assert bench.at.startswith("nuts@1.")
    bench.taken("stage")
    bench.taken("stage")
    assert bench.at == "nuts.second-look"


def test_inside_each_every_place_is_looked_at() -> None:
    bench = small(
        "- each: rods\n  over: cylinders\n  steps:\n    - do: seat\n      second-look: yes\n"
    )
    bench.taken("")
    assert bench.at == "seat.second-look@1"
    bench.taken("Robin")
    assert bench.at == "seat@5"


def test_on_a_container_it_is_asked_once_at_its_end() -> None:
    bench = small(
        "- each: rods\n  over: cylinders\n  second-look: yes\n  steps: [{do: seat}]\n- do: after\n"
    )
    bench.until_step("rods.second-look")
    bench.taken("Robin")
    assert bench.at == "after"


def test_the_looks_own_address_is_known_to_the_checker_and_kept_for_it() -> None:
    bench = small(LOOKED)
    known = Addresses(bench.plan.procedure, bench.plan.engine)
    assert known.wrong("cover.second-look") == ("", "")
    assert known.wrong("cover.second-look@1")[0]
    assert known.wrong("after.second-look")[0].startswith("there is no step")
    each = "- each: e\n  over: cylinders\n  steps:\n    - do: seat\n      second-look: yes\n"
    inside = small(each)
    placed = Addresses(inside.plan.procedure, inside.plan.engine)
    assert placed.wrong("seat.second-look@5") == ("", "")
    assert placed.wrong("seat.second-look")[0].endswith("there are 1, 5, 3, 6, 2 and 4")
    with pytest.raises(BuildError, match="is its second look's own"):
        small("- do: cover\n  second-look: yes\n- do: cover.second-look\n")
