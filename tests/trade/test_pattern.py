import random
from collections.abc import Mapping
from decimal import Decimal

import pytest

from snugset.trade.fault import FigureError
from snugset.trade.pattern import Finding, pattern
from snugset.units import Quantity

from .amounts import EIGHT, EIGHT_BANKS, MILLED_SIX, by_place, q

FLAT = by_place("35 36 34 35 36 35", "34 35 36 35 35 34")
FLAT_EIGHT = by_place("35 36 34 35 36 35 34 36", "34 35 36 35 35 34 35 35")


def but(readings: Mapping[str, Quantity], **changes: int) -> dict[str, Quantity]:
    """Change some readings: but(FLAT, _3I=12) adds 12 thou to 3I's."""
    moved = {key.removeprefix("_"): change for key, change in changes.items()}
    return {
        place: Quantity(reading.value + moved.get(place, 0), "thou")
        for place, reading in readings.items()
    }


def told(findings: tuple[Finding, ...]) -> list[tuple[str, tuple[str, ...]]]:
    return [(finding.kind, finding.places) for finding in findings]


def test_the_bridged_eight_shows_nothing() -> None:
    assert pattern(EIGHT, banks=EIGHT_BANKS) == ()


def test_the_milled_six_has_one_slope_and_no_outliers() -> None:
    """About .018 in end to end: its cause before anything is ordered."""
    (slope,) = pattern(MILLED_SIX)
    assert slope.kind == "slope"
    assert slope.places == tuple(MILLED_SIX)
    assert slope.size.number("thou") == pytest.approx(18.5, abs=0.6)
    assert slope.words == f"the readings rise {slope.size} from front to back"
    assert "out of parallel" in slope.look_first


@pytest.mark.parametrize(("off", "kinds"), [(8, []), (9, ["outlier"]), (-20, ["outlier"])])
def test_one_valve_off(off: int, kinds: list[str]) -> None:
    """More than .008 in off the median: common practice."""
    flat = by_place("35 35 35 35", "35 35 35 35")
    found = pattern(but(flat, _3I=off))
    assert [finding.kind for finding in found] == kinds
    assert all(finding.places == ("3I",) for finding in found)


def test_a_scattered_engine_has_a_wider_limit() -> None:
    """Three times the median deviation, where that is more than .008 in."""
    scattered = by_place("25 45 31 39 28 42", "44 26 40 30 43 28")
    assert pattern(scattered) == ()
    assert told(pattern(but(scattered, _4E=50))) == [("outlier", ("4E",))]


def test_both_of_a_bridge_off_are_one_finding() -> None:
    (bridge,) = pattern(but(FLAT, _4I=15, _4E=9))
    assert told((bridge,)) == [("bridge", ("4I", "4E"))]
    assert bridge.look_first == "the bridge not drawn down, or dirt under it"


def test_two_valves_of_a_cylinder_off_opposite_ways_are_two_findings() -> None:
    found = pattern(but(FLAT, _4I=15, _4E=-15))
    assert sorted(told(found)) == [("outlier", ("4E",)), ("outlier", ("4I",))]


@pytest.mark.parametrize("cylinder", range(1, 7))
def test_a_bridge_off_anywhere_is_no_slope(cylinder: int) -> None:
    found = pattern(but(FLAT, **{f"_{cylinder}I": 40, f"_{cylinder}E": 40}))
    assert told(found) == [("bridge", (f"{cylinder}I", f"{cylinder}E"))]


def test_intakes_against_exhausts() -> None:
    intakes = {f"_{cylinder}I": -14 for cylinder in range(1, 7)}
    (found,) = pattern(but(FLAT, **intakes))
    assert found.kind == "intake-exhaust"
    assert found.size.number("thou") == pytest.approx(-14, abs=1.5)
    assert "less than the exhausts" in found.words


def test_one_bank_against_the_other() -> None:
    right = {f"_{cylinder}{valve}": 12 for cylinder in (2, 4, 6, 8) for valve in "IE"}
    (found,) = pattern(but(FLAT_EIGHT, **right), banks=EIGHT_BANKS)
    assert told((found,)) == [("bank", tuple(p for p in FLAT_EIGHT if int(p[0]) % 2 == 0))]
    assert found.words.startswith("the readings of the right bank read 12")


def test_a_shared_cause_does_not_hide_a_single_one() -> None:
    readings = but(MILLED_SIX, _3E=14)
    assert told(pattern(readings)) == [("slope", tuple(readings)), ("outlier", ("3E",))]


def test_a_falling_slope_on_one_bank_only() -> None:
    readings = but(
        FLAT_EIGHT, _1I=9, _1E=9, _3I=3, _3E=3, _5I=-3, _5E=-3, _7I=-9, _7E=-9,
    )  # fmt: skip
    (slope,) = pattern(readings, banks=EIGHT_BANKS)
    assert (slope.kind, slope.places[0]) == ("slope", "1I")
    assert slope.size.value < -15
    assert "left bank fall" in slope.words


def test_readings_within_their_doubt_show_nothing() -> None:
    """Readings that scatter by a U of 4 thou about one value seldom cry wolf."""
    draw = random.Random(11)  # noqa: S311  # cases, no secrets
    cried = 0
    for _ in range(300):
        cried += bool(
            pattern(
                {place: q(f"{draw.gauss(40, 2):.1f} thou") for place in EIGHT}, banks=EIGHT_BANKS
            )
        )
    assert cried <= 6


def test_the_findings_are_the_same_in_millimetres() -> None:
    metric = {place: reading.to("mm") for place, reading in but(MILLED_SIX, _3E=14).items()}
    assert [finding.kind for finding in pattern(metric)] == ["slope", "outlier"]
    assert pattern(metric)[0].size.unit == "mm"


@pytest.mark.parametrize(
    ("readings", "banks", "message"),
    [
        ({"4": q("35 thou")}, None,
         "readings: “4” is no place; write 1I and 1E for cylinder 1's valves"),
        ({"9I": q("35 thou")}, EIGHT_BANKS,
         "banks: cylinder 9 is in none; list each bank's cylinders from the front"),
    ],
)  # fmt: skip
def test_places_that_are_none_are_refused(
    readings: dict[str, Quantity], banks: dict[str, tuple[int, ...]] | None, message: str
) -> None:
    with pytest.raises(FigureError) as refused:
        pattern(readings, banks=banks)
    assert str(refused.value) == message


def test_few_readings_say_nothing() -> None:
    assert pattern({}) == ()
    assert pattern({"1I": q("35 thou"), "1E": Quantity(Decimal(90), "thou")}) == ()
