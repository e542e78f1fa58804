"""Answers files: what is typed, when, by whom."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest

from snugset.files.answers import Person, Say, Wait, read_answers
from snugset.units import Quantity

from .reading import ANSWERS, changed, told, value


def test_answers_are_read_in_order() -> None:
    answers = value(ANSWERS, read_answers)
    assert (answers.procedure, answers.engine, answers.specs) == ("p.yaml", "e.yaml", "")
    assert answers.start == datetime(2026, 11, 2, 18, 4, tzinfo=UTC)
    assert (answers.name, answers.person) == ("Barn pump", "Ada")
    assert answers.pace == Quantity(Decimal(1), "min")
    tick, refused, wait, person, pick = answers.answers
    assert isinstance(tick, Say)
    assert (tick.at, tick.text, tick.refused, str(tick.mark)) == ("lay-gasket", "", "", "f:9:5")
    assert isinstance(refused, Say)
    assert (refused.at, refused.text, refused.refused) == ("gap@1I#2", "17+18", "unit")
    assert isinstance(wait, Wait)
    assert wait.time == Quantity(Decimal(9), "d")
    assert isinstance(person, Person)
    assert person.name == "Bea"
    assert isinstance(pick, Say)
    assert (pick.text, pick.pick) == ("No", True)


def test_the_pace_has_a_default() -> None:
    assert value(changed(ANSWERS, "pace: 1 min\n", ""), read_answers).pace == Quantity(
        Decimal(40), "s"
    )


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (
            "2026-11-02T19:04:00+01:00",
            "2026-11-02 19:04",
            [
                (
                    "5:8: this is not a time such as 2026-11-02T18:04:00Z; give the "
                    "date, the time and a Z for UTC"
                ),
            ],
        ),
        (
            "2026-11-02T19:04:00+01:00",
            "2026-11-32T19:04:00Z",
            [
                (
                    "5:8: this is not a time such as 2026-11-02T18:04:00Z; give the "
                    "date, the time and a Z for UTC"
                ),
            ],
        ),
        (
            '{at: lay-gasket, say: ""}',
            "{at: lay-gasket}",
            [
                '9:5: an answer has either “say” or “pick”; write one, say: "" for Enter alone',
            ],
        ),
        (
            '{at: lay-gasket, say: ""}',
            "{at: lay-gasket, say: }",
            [
                "9:27: nothing stands here; a text belongs here",
            ],
        ),
        (
            "at: lay-gasket",
            "at: Lay gasket",
            [
                "9:10: “Lay gasket” is not an address such as gap@1I#2: step, place, round",
            ],
        ),
        (
            "expect: refused unit",
            "expect: unit",
            [
                "10:42: “unit” is not an expectation such as refused unit",
            ],
        ),
        (
            "{wait: 9 d}",
            "{wait: 9 d, person: Bea}",
            [
                "11:5: an entry has one of “at”, “wait” and “person”; this has “wait” and “person”",
            ],
        ),
        (
            "{wait: 9 d}",
            "{say: x}",
            [
                "11:5: an entry has one of “at”, “wait” and “person”; this has neither",
            ],
        ),
        (
            "{wait: 9 d}",
            "{wait: 9 d, say: x}",
            [
                "11:22: “say” belongs to an entry with “at”; add the address",
            ],
        ),
        (
            "{person: Bea}",
            "{persn: Bea}",
            ["12:6: “persn” is no field here (did you mean “person”?)"],
        ),
    ],
)
def test_a_mistake_is_told_with_place_and_fix(old: str, new: str, expected: list[str]) -> None:
    assert told(changed(ANSWERS, old, new), read_answers) == [f"f:{line}" for line in expected]
