"""The order of a group: the maker's as a list, or a pattern's name for a generated one."""

import pytest

from snugset.files.engine import read_engine
from snugset.files.fasteners import spots
from snugset.files.groups import GroupShape
from snugset.trade.sequence import Pattern, centre_out

from .reading import ENGINE, changed, told, value

MAKERS = '["2", "5", "4", "3", "6", "1"]'


@pytest.mark.parametrize("pattern", ["criss-cross", "spiral"])
def test_a_pattern_is_named_in_place_of_the_makers_order(pattern: Pattern) -> None:
    head = value(changed(ENGINE, MAKERS, pattern), read_engine).fasteners["head"]
    assert head.generated
    assert head.order == centre_out(spots(head.places), pattern)


def test_without_a_field_it_is_criss_cross() -> None:
    without = value(changed(ENGINE, f"    order: {MAKERS}\n", ""), read_engine)
    named = value(changed(ENGINE, MAKERS, "criss-cross"), read_engine)
    assert without.fasteners["head"].order == named.fasteners["head"].order


def test_another_word_is_refused() -> None:
    assert told(changed(ENGINE, MAKERS, "outside-in"), read_engine) == [
        (
            "f:22:12: “outside-in” stands where a list of the group's places, "
            "criss-cross or spiral belongs"
        ),
    ]


def test_editors_are_told_of_both() -> None:
    order = GroupShape().schema()["properties"]["order"]
    kinds = [one.get("type") or one["enum"] for one in order["anyOf"]]
    assert kinds == ["array", ["criss-cross", "spiral"]]
