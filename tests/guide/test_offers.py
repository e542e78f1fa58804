"""What a build has of what a calculator asks, and where it comes from."""

import pytest

from driving import table
from snugset.guide.offers import offers
from snugset.trade.calculators import CALCULATORS
from snugset.trade.typed import read_fields


@pytest.mark.parametrize("address", ["manual", "gap@4E#1", "check-new-lengths#1"])
def test_whatever_is_offered_can_be_read_by_its_input(address: str) -> None:
    told = table().until(address)
    for name, calculator in CALCULATORS.items():
        offered = offers(told.plan, told.state, told.asked, name)
        assert set(offered) <= {one.key for one in calculator.inputs}
        assert all(offer.origin for offer in offered.values())
        found = read_fields(calculator, {key: one.text for key, one in offered.items()})
        assert found.faults == {}, name


def test_the_step_comes_before_the_spec_sheet_and_the_newest_reading_is_named() -> None:
    told = table().until("gap@4E#1")
    mine = offers(told.plan, told.state, told.asked, "preload")
    assert mine["window"].origin == "the step gap@4E#1"
    assert offers(told.plan, told.state, None, "preload")["window"].origin == (
        "preload-window on the spec sheet"
    )
    told.taken("again 40+31; 40+32", "gap@1I#1")
    newest = offers(told.plan, told.state, told.asked, "decide")
    assert (newest["value"].text, newest["value"].origin) == (
        "71.5 thou",
        "the reading at gap@1I#1",
    )


def test_without_readings_or_crank_nothing_is_made_up() -> None:
    told = table().until("manual")
    assert "readings" not in offers(told.plan, told.state, told.asked, "pushrods")
    assert "angle" not in offers(told.plan, told.state, told.asked, "valves")
    assert offers(told.plan, told.state, told.asked, "decide") == {}
