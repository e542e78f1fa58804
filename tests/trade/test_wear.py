"""Lash read again: one valve growing looser or tighter, all of them together (from memory)."""

from decimal import Decimal

import pytest

from snugset.trade.wear import wear
from snugset.units import Quantity

BEFORE = dict.fromkeys(("1I", "1E", "2I", "2E", "3I", "3E"), 14)


def thou(values: dict[str, int]) -> dict[str, Quantity]:
    return {place: Quantity(Decimal(value), "thou") for place, value in values.items()}


def found(**changes: int) -> list[tuple[str, tuple[str, ...], Decimal]]:
    now = {place: 14 + changes.get(f"v{place}", 0) for place in BEFORE}
    return [(w.kind, w.places, w.size.value) for w in wear(thou(now), thou(BEFORE))]


def test_what_agrees_shows_nothing() -> None:
    assert found(v1I=1, v2E=-1, v3I=2) == []


@pytest.mark.parametrize(("change", "kind"), [(5, "looser"), (-4, "tighter")])
def test_one_valve_that_changed_is_named(change: int, kind: str) -> None:
    assert found(v2E=change) == [(kind, ("2E",), Decimal(change))]


def test_tighter_comes_before_looser() -> None:
    assert [kind for kind, _, _ in found(v1I=6, v3E=-5)] == ["tighter", "looser"]


def test_all_together_is_the_difference_and_no_valve() -> None:
    everyone = {f"v{place}": -5 for place in BEFORE}
    assert found(**everyone) == [("all", tuple(BEFORE), Decimal(-5))]
    one = everyone | {"v1E": -11}
    kinds = found(**one)
    assert [kind for kind, _, _ in kinds] == ["tighter", "all"]
    assert kinds[0][1:] == (("1E",), Decimal(-6))


def test_with_two_valves_nothing_is_said_of_all() -> None:
    now, before = thou({"1I": 9, "1E": 14}), thou({"1I": 14, "1E": 14})
    assert [w.kind for w in wear(now, before)] == ["tighter"]
    assert wear({}, {}) == ()
    assert wear(now, {}) == ()


def test_it_is_said_in_the_unit_of_the_readings_and_where_to_look() -> None:
    now = {"1I": Quantity(Decimal("0.30"), "mm")}
    (only,) = wear(now, {"1I": Quantity(Decimal("0.40"), "mm")})
    assert only.size.unit == "mm"
    assert "0.1 mm tighter" in only.words
    assert "look at once" in only.look_first
