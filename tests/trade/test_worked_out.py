"""Figures worked out from what is typed, with their working."""

from decimal import Decimal

import pytest

from snugset.trade.calculator import Figure
from snugset.trade.calculators import CALCULATORS, figure, shown
from snugset.units import Quantity

from .amounts import q

PLACE = {"readings": "1I=18 1E=40 thou", "length": "9.64", "window": "20..60", "uncertainty": "4"}
PISTON = {"stroke": "4.25", "connecting_rod": "7.5"}


def test_the_bridged_eight_as_it_is_typed() -> None:
    """A change of +16 to +40 proves every place; the formula has the numbers put in."""
    result = figure(
        "pushrods",
        {
            "readings": "1I=11 1E=14 2I=9 2E=13 3I=12 3E=15 4I=10 4E=8 5I=13 5E=16 6I=12 6E=11"
            " 7I=14 7E=13 8I=10 8E=12 thou",
            "window": "0.020..0.060 in",
            "uncertainty": "4 thou",
            "step": "25 thou",
        },
    )
    assert shown(result.outputs["lengths"].value) == "25 thou"
    assert result.working[:2] == (
        "one length for all, from: 20 + 4 + 0 − 8 = 16 thou",
        "one length for all, to: 60 − 4 − 0 − 16 = 40 thou",
    )
    assert "lengths are counted from the pushrods in hand: negative is shorter" in result.working


def test_a_round_read_again_place_by_place() -> None:
    result = figure(
        "reread",
        {
            "before": "1I=11 1E=14 2I=16 thou",
            "change": "25 thou",
            "after": "1I=36 1E=40 2I=16 thou",
            "uncertainty": "4 thou",
        },
    )
    assert result.outputs["flag"].value == "old"
    assert result.outputs["flags"].value == {"1I": "agrees", "1E": "agrees", "2I": "old"}
    assert "old pushrod" in shown(result.outputs["look_first"].value)


def test_the_working_gives_the_verdict_of_the_unrounded_mean() -> None:
    """A mean of 36.7333 is shown as 36.7 but is not proved below 39.4 − 2.7 = 36.7."""
    result = figure(
        "preload", {"takes": "36.7; 36.7; 36.8", "window": "30 to 39.4", "repeatability": "4"}
    )
    assert result.outputs["verdict"].value == "inside"
    assert result.working[-1].endswith("36.7 thou is inside, not proved")


def test_a_loose_lifter_has_no_doubt_to_show() -> None:
    outputs = figure("preload", {"takes": "0", "target": "35"}).outputs
    assert outputs["verdict"].value == "loose"
    assert outputs["preload"].uncertainty is None
    assert "change" not in outputs


def test_a_gauge_for_a_window() -> None:
    outputs = figure("stack", {"leaves": "20, 25, 35 thou", "window": "20 to 60 thou"}).outputs
    assert shown(outputs["go"].value) == "20 thou"
    assert shown(outputs["no_go"].value) == "35, 25 thou"


def test_short_travel_lifters_are_bottomed_by_six_tenths_of_a_turn() -> None:
    """Stud 7/16-20, R 1.6, travel .045 in: 0.6 turn is .049 in."""
    texts = {"thread": "7/16-20", "mount": "pivot", "ratio": "1.6", "turns": "0.6"}
    result = figure("turns", {**texts, "lifter_travel": ".045 in"})
    assert result.outputs["share"].value == Quantity(Decimal("1.08"), "")
    assert result.working[-1] == "1.08 of the lifter's 0.045 in: bottomed"
    other = figure("turns", {"thread": "7/16-20", "mount": "rod-end", "ratio": "1.6", "turns": "1"})
    assert other.outputs["plunger"].value == q("0.05 in")


def test_a_rim_both_ways() -> None:
    """An eighth of a turn on 8 in is π in."""
    there = figure("rim", {"diameter": "8 in", "angle": "45 deg"}).outputs["distance"]
    assert there.value == q("3.1416 in")
    back = figure("rim", {"diameter": "8 in", "distance": "79.796 mm"}).outputs["angle"]
    assert back.value == q("45 deg")


def test_a_reading_that_never_ends_is_reckoned_with() -> None:
    """Five sixths of a thou have no last decimal."""
    asked = {"readings": "1I=5/6 1E=2 thou", "window": "20..60", "uncertainty": "4"}
    result = figure("pushrods", {**asked, "step": ".01"})
    assert shown(result.outputs["lengths"].value) == "40 thou"
    assert shown(result.outputs["predicted_low"].value) == "40.83333 thou"


def test_a_pushrod_that_stands_where_it_serves_stays() -> None:
    result = figure("place", {**PLACE, "spare": "A=9.66 B=9.7 in", "target": "40"})
    assert shown(result.outputs["places"].value) == "1I=A 1E=1E"
    assert result.outputs["predicted"].uncertainty == q("4 thou")
    assert result.working[0] == "1I gets A's, 9.66 in: 38 thou expected, in"


def test_a_collapsed_lifter_against_a_window() -> None:
    """A doubt of 2 at the valve is 1.3 at the plunger; a gap of none is no measurement."""
    asked = {"ratio": "1.6", "travel": "140", "window": "20 to 60 thou"}
    found = figure("collapsed", {**asked, "gap": "168"})
    assert found.outputs["preload"] == Figure(value=q("35 thou"), uncertainty=q("1.3 thou"))
    assert found.working[-1] == "in"
    none = figure("collapsed", {"gap": "0", "ratio": "1.6", "travel": "140"})
    assert none.working[-1] == "bottomed: not a measurement"


def test_dead_centre_from_two_stops() -> None:
    outputs = figure("piston", {"stops": "38, 342 deg"}).outputs
    assert outputs["dead_centre"].value == q("10 deg")
    assert outputs["each_way"].value == q("28 deg")
    back = figure("piston", {**PISTON, "travel": "1.2918"}).outputs["angle"].value
    assert isinstance(back, Quantity)
    assert back.number("deg") == pytest.approx(60, abs=0.01)


def test_a_cut_and_another_gasket_told_beside_what_is() -> None:
    texts = {**CALCULATORS["compression"].example.inputs, "deck": "-0.005", "piston": "-4"}
    texts |= {"mill": "0.010", "face": "11", "deck_cut": "0"}
    result = figure("compression", texts)
    assert result.outputs["quench"].value == q("0.035 in")
    assert result.outputs["quench_new"].value == q("0.050 in")
    assert "+ (−4 cc) = " in result.working[1]
    assert result.working[4].startswith("with gasket_new 0.055 in, mill 0.010 in, deck_cut 0 in:")


def test_lash_hot_from_cold_by_a_measured_pair() -> None:
    found = figure("lash", {"cold": "14", "pair_hot": "18", "pair_cold": "13"})
    assert found.outputs["hot"] == Figure(value=q("19 thou"), uncertainty=q("1.4 thou"))
    assert found.working[:2] == (
        "measured: cold 13 thou − hot 18 thou = −5 thou ± 1.4 thou",
        "hot: 14 thou − (−5 thou) = 19 thou ± 1.4 thou",
    )
    alloy = figure("lash", {"hot": "18", "block": "aluminum", "head": "aluminum"})
    assert alloy.outputs["cold"].value == q("6 thou")


def test_a_cover_with_the_doubt_of_its_clay() -> None:
    result = figure("cover", {**CALCULATORS["cover"].example.inputs, "uncertainty": ".03"})
    assert result.outputs["verdict"].value == "inside"
    assert "with U = 0.03 in: inside, not proved" in result.working


def test_pushrods_or_shims_of_their_own() -> None:
    result = figure(
        "pushrods",
        {"readings": "1I=30 1E=90 thou", "window": "20..60", "uncertainty": "4", "step": ".01",
         "ratio": "1.6"},
    )  # fmt: skip
    assert shown(result.outputs["shim_low"].value) == "1E=21 thou"
    assert result.working[-1].endswith("1E 21 to 40.6 thou")


def test_inch_pounds_typed_for_a_head_wrench() -> None:
    texts = {"torque": "55 lbf·in", "range": "20 to 150 lbf·ft"}
    result = figure("wrench", texts)
    assert result.outputs["in_range"].value is False
    assert "this wrench serves from 30 lbf·ft to 150 lbf·ft: out of range" in result.working


def test_a_torque_in_every_unit() -> None:
    outputs = figure("convert", {"value": "22 ft-lb"}).outputs
    assert outputs["lbf·in"] == Figure(value=q("264 lbf·in"))
    assert set(outputs) == {"lbf·ft", "lbf·in", "N·m", "kgf·m"}


@pytest.mark.parametrize(
    ("value", "window", "low", "verdict"),
    [
        ("40", "30 to 40", "", "inside"), ("22 lbf·ft", "20 to 24", "", "in"),
        ("35", "", "", "no-limit"), ("35", "", "42", "low"),
    ],
)  # fmt: skip
def test_a_decision_on_any_kind_of_value(value: str, window: str, low: str, verdict: str) -> None:
    texts = {"value": value, "uncertainty": "2", "window": window, "low": low}
    assert figure("decide", texts).outputs["verdict"].value == verdict


def test_no_distance_round_the_rim_is_no_angle() -> None:
    found = figure("rim", {"diameter": "7.5 in", "distance": "0 thou"}).outputs
    assert shown(found["angle"].value) == "0 deg"
    assert shown(found["distance"].value) == "0 thou"


@pytest.mark.parametrize(("name", "more"), [("pushrods", {"step": "10 thou"}), ("place", {})])
def test_the_ends_of_what_is_expected_have_the_doubt_of_their_own_places(
    name: str, more: dict[str, str]
) -> None:
    texts = {
        "readings": "1I=35 1E=40 2I=45 2E=45 thou",
        "window": "20 to 60 thou",
        "uncertainty": "1I=2 1E=3 2I=4 2E=5 thou",
        "length": "9.641 in",
        "tolerance": "1 thou",
        **more,
    }
    found = figure(name, texts).outputs
    added = 0 if name == "place" else 1  # the pushrods in hand stay where they are
    assert found["predicted"].uncertainty is None
    low, high = found["predicted_low"].uncertainty, found["predicted_high"].uncertainty
    assert low is not None
    assert high is not None
    assert (low.number("thou"), high.number("thou")) == (2 + added, 5 + added)
