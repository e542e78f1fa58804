"""Four invented jobs from end to end, figure by figure, as they are typed."""

from collections.abc import Mapping

import pytest

from snugset.trade.calculator import Result, Value
from snugset.trade.calculators import figure, shown
from snugset.units import Quantity

from .amounts import EIGHT, MILLED_SIX, q


def typed(readings: Mapping[str, Quantity]) -> str:
    return " ".join(f"{place}={one.value}" for place, one in readings.items()) + " thou"


def of(result: Result, key: str) -> str:
    return shown(result.outputs[key].value)


def by_place(value: Value) -> Mapping[str, Quantity | str]:
    assert isinstance(value, Mapping)
    return value


class TestABridgedEightWithItsPushrodsNineDaysInThePost:
    """1-8-4-3-6-5-7-2, R 1.6, window .020 to .060, travel .140, U = 4."""

    asked: Mapping[str, str] = {
        "readings": typed(EIGHT), "window": ".020..0.060 in", "uncertainty": "4 thou",
        "length": "9.600 in", "travel": ".140 in", "tolerance": "0 thou",
    }  # fmt: skip

    def test_plus_16_to_plus_40_is_allowed(self) -> None:
        result = figure("pushrods", {**self.asked, "step": ".005 in"})
        assert (of(result, "allowed_low"), of(result, "allowed_high")) == ("16 thou", "40 thou")
        assert of(result, "proved") == "yes"

    def test_plus_25_passes(self) -> None:
        result = figure("pushrods", {**self.asked, "lengths": "9.625 in"})
        assert (of(result, "predicted_low"), of(result, "predicted_high")) == ("33 thou", "41 thou")
        assert of(result, "proved") == "yes"
        assert of(result, "lengths") == "9.625 in"

    def test_plus_50_fails(self) -> None:
        result = figure("pushrods", {**self.asked, "lengths": "9.650 in"})
        assert (of(result, "predicted_low"), of(result, "predicted_high")) == ("58 thou", "66 thou")
        assert of(result, "proved") == "no"
        high = [place for place, one in EIGHT.items() if one.value > 10]
        assert of(result, "fails").split(", ") == high

    def test_no_shim_is_offered_where_nothing_is_high(self) -> None:
        result = figure("pushrods", {**self.asked, "step": ".005 in", "ratio": "1.6"})
        assert not {"shim_low", "shim_high"} & set(result.outputs)

    def test_placing_those_in_hand_cannot_cure_it(self) -> None:
        asked = {key: text for key, text in self.asked.items() if key != "length"}
        result = figure("place", {**asked, "length": "9.600 in"})
        assert (of(result, "standard"), of(result, "moved")) == ("none", "none")

    def test_reread_as_predicted_with_one_old_pushrod_left_in(self) -> None:
        after = {place: q(f"{one.value + 25} thou") for place, one in EIGHT.items()}
        after["5E"] = q("16 thou")
        result = figure(
            "reread",
            {"before": typed(EIGHT), "change": "25 thou", "after": typed(after),
             "uncertainty": "4 thou"},
        )  # fmt: skip
        assert of(result, "flag") == "old"
        flags = by_place(result.outputs["flags"].value)
        assert [place for place, flag in flags.items() if flag != "agrees"] == ["5E"]

    def test_number_one_on_its_dead_centre_is_safe_to_set_and_its_companion_is_not(self) -> None:
        """1-8-4-3 over 6-5-7-2: six is on overlap."""
        result = figure(
            "valves",
            {"firing_order": "1-8-4-3-6-5-7-2", "angle": "0",
             "camshaft": "IVO 12 IVC 48 EVO 52 EVC 10 at seat"},
        )  # fmt: skip
        state = by_place(result.outputs["state"].value)
        assert (state["1I"], state["1E"]) == ("closed", "closed")
        assert (state["6I"], state["6E"]) == ("open", "open")
        assert "number six: at top on overlap, exhaust just closing, intake just opening" in (
            result.working
        )


class TestASixWithAMilledHead:
    """1-5-3-6-2-4, head cut .040, gasket .055 to .040, old preload .035, travel .120."""

    asked: Mapping[str, str] = {
        "readings": typed(MILLED_SIX), "window": "20..60 thou", "uncertainty": "4 thou",
        "length": "9.600 in", "travel": "120 thou",
    }  # fmt: skip

    def test_90_is_predicted(self) -> None:
        result = figure(
            "shift",
            {"mill": ".040", "gasket_old": ".055", "gasket_new": ".040", "before": "35 thou"},
        )
        assert of(result, "predicted") == "90 thou"
        assert (of(result, "preload_change"), of(result, "length_change")) == (
            "55 thou", "−55 thou",
        )  # fmt: skip

    def test_a_slope_of_18_end_to_end_is_looked_into_first(self) -> None:
        result = figure("pattern", {"readings": self.asked["readings"]})
        slope = result.outputs["slope"].value
        assert isinstance(slope, Quantity)
        assert slope.number("thou") == pytest.approx(18, abs=1)
        assert "machined out of parallel" in of(result, "look_first")

    def test_minus_50_fits_and_minus_40_fails(self) -> None:
        good = figure("pushrods", {**self.asked, "lengths": "9.550 in"})
        assert (of(good, "predicted_low"), of(good, "predicted_high")) == ("29 thou", "49 thou")
        assert of(good, "proved") == "yes"
        bad = figure("pushrods", {**self.asked, "lengths": "9.560 in"})
        assert (of(bad, "predicted_low"), of(bad, "predicted_high")) == ("39 thou", "59 thou")
        assert of(bad, "proved") == "no"

    def test_the_pedestal_shim_that_would_do_instead(self) -> None:
        """43 to 55 thou over 1.625."""
        result = figure("pushrods", {**self.asked, "lengths": "9.550 in", "ratio": "1.6"})
        assert (of(result, "shim_low"), of(result, "shim_high")) == ("26.5 thou", "33.8 thou")
        assert result.working[-1] == (
            "instead, a shim s under a pedestal lowers by s × (1 + 1/1.6): 26.5 to 33.8 thou under"
            " every one proves every place"
        )


class TestShortTravelLifters:
    """Stud 7/16-20, R 1.6, travel .045, target .020, highest .035."""

    asked: Mapping[str, str] = {
        "thread": "7/16-20", "mount": "pivot", "ratio": "1.6", "lifter_travel": ".045 in",
    }  # fmt: skip

    def test_six_tenths_of_a_turn_bottoms_them(self) -> None:
        result = figure("turns", {**self.asked, "turns": "0.6"})
        plunger = result.outputs["plunger"].value
        assert isinstance(plunger, Quantity)
        assert plunger.number("in") == pytest.approx(0.049, abs=5e-4)
        assert result.working[-1].endswith("bottomed")

    def test_the_target_is_a_quarter_turn(self) -> None:
        result = figure("turns", {**self.asked, "travel": ".020 in"})
        degrees = result.outputs["degrees"].value
        assert isinstance(degrees, Quantity)
        assert degrees.number("deg") == pytest.approx(90, abs=2)
        assert result.outputs["share"].value == q("0.444 ")

    def test_what_a_line_reads_near_the_end_of_the_travel_is_no_measurement(self) -> None:
        asked = {"window": "10..35 thou", "travel": "45 thou", "uncertainty": "4"}
        near = {"takes": "35", "window": "10..35 thou", "travel": "45 thou"}
        assert of(figure("preload", near), "verdict") == "bottomed"
        left = figure("collapsed", {"gap": "40 thou", "ratio": "1.6", **asked})
        assert (of(left, "travel_left"), of(left, "preload")) == ("25 thou", "20 thou")


class TestACover:
    """60 lbf·in wanted; the only wrench reads 20 to 150 lbf·ft. Clay .045 at the baffle."""

    clay: Mapping[str, str] = {
        "clay": ".045 in", "gasket_old": ".125 in", "gasket_new": ".1875 in", "crush": "30 %",
        "want": ".060 in",
    }  # fmt: skip

    def test_the_head_wrench_may_not_give_it(self) -> None:
        result = figure("wrench", {"torque": "60 lbf·in", "range": "20 to 150 lbf·ft"})
        assert of(result, "in_range") == "no"
        typed_wrong = figure("convert", {"value": "60 lbf·ft"})
        assert of(typed_wrong, "lbf·in") == "720 lbf·in"

    @pytest.mark.parametrize(
        ("under", "clearance", "enough"), [("drawn", 0.089, "yes"), ("laid", 0.051, "no")]
    )
    def test_the_gasket_does_if_the_old_one_was_drawn_down(
        self, under: str, clearance: float, enough: str
    ) -> None:
        result = figure("cover", {**self.clay, "under": under})
        found = result.outputs["clearance"].value
        assert isinstance(found, Quantity)
        assert found.number("in") == pytest.approx(clearance, abs=5e-4)
        assert of(result, "enough") == enough
