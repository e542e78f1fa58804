"""Orders made where the maker gives none, and the maker's own.

Common practice: no source gives an order for every pattern, so what must hold of all is tested.
"""

import math
import random
from decimal import Decimal
from itertools import groupby, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.sequence import (
    OrderFaults,
    Pattern,
    Spot,
    centre_out,
    order_faults,
    removal,
)

Places = dict[str, Spot]
PATTERNS = st.sampled_from(["criss-cross", "spiral"])
ways = pytest.mark.parametrize("pattern", ["criss-cross", "spiral"])


@st.composite
def heads(draw: st.DrawFn) -> Places:
    """Two or three rows at an uneven pitch, some places missing, named in any order."""
    pitches = draw(st.lists(st.integers(1, 40), min_size=0, max_size=11))
    columns = [sum(pitches[:count]) for count in range(len(pitches) + 1)]
    if draw(st.booleans()):
        columns += [2 * columns[-1] + 7 - column for column in columns]
    levels = draw(st.lists(st.integers(-20, 20), min_size=2, max_size=3, unique=True))
    spots = [(Decimal(x) / 8, Decimal(y) / 4) for x in columns for y in levels]
    kept = draw(st.lists(st.sampled_from(spots), min_size=1, unique=True))
    return {str(name): spot for name, spot in enumerate(kept, 1)}


def rings(places: Places) -> dict[str, Decimal]:
    """How far each place's column lies from the middle of the length."""
    along = [x for x, _ in places.values()]
    return {key: abs(x - (min(along) + max(along)) / 2) for key, (x, _) in places.items()}


@given(heads(), PATTERNS)
def test_every_place_comes_once(places: Places, pattern: Pattern) -> None:
    assert sorted(centre_out(places, pattern)) == sorted(places)


@given(heads(), PATTERNS)
def test_from_a_column_nearest_the_centre_the_ring_never_decreases(
    places: Places, pattern: Pattern
) -> None:
    ring = rings(places)
    order = [ring[key] for key in centre_out(places, pattern)]
    assert order[0] == min(ring.values())
    assert order == sorted(order)


@given(heads(), PATTERNS)
def test_removal_is_the_reverse(places: Places, pattern: Pattern) -> None:
    order = centre_out(places, pattern)
    assert removal(order) == tuple(reversed(order))
    assert removal(removal(order)) == order


@given(heads(), PATTERNS, st.integers(0, 1000))
def test_names_place_and_unit_change_nothing(places: Places, pattern: Pattern, seed: int) -> None:
    order = centre_out(places, pattern)
    keys = random.Random(seed).sample(sorted(places), len(places))  # noqa: S311  # no secret
    assert centre_out({key: places[key] for key in keys}, pattern) == order
    metric = {
        key: (x * Decimal("25.4") + 300, y * Decimal("25.4") - 11) for key, (x, y) in places.items()
    }
    assert centre_out(metric, pattern) == order


@given(heads())
def test_criss_cross_goes_on_with_the_farthest_of_the_ring(places: Places) -> None:
    ring, order = rings(places), centre_out(places)
    for number in range(1, len(order)):
        rest = [key for key in order[number:] if ring[key] == ring[order[number]]]
        far = [math.dist(places[key], places[order[number - 1]]) for key in rest]
        assert far[0] == pytest.approx(max(far))


@given(heads())
def test_a_spiral_goes_once_round_every_ring(places: Places) -> None:
    """Clockwise from one place to the next, it never turns past where it entered the ring.

    Two places of the middle column may lie the same way from the centre: then it comes round to it.
    """
    ring = rings(places)
    centre = [(min(parts) + max(parts)) / 2 for parts in zip(*places.values(), strict=True)]
    order = [key for key in centre_out(places, "spiral") if places[key] != tuple(centre)]
    bearing = {
        key: math.atan2(places[key][1] - centre[1], places[key][0] - centre[0]) for key in order
    }
    for _, keys in groupby(order, key=ring.__getitem__):
        turns = [(bearing[one] - bearing[two]) % math.tau for one, two in pairwise(keys)]
        assert sum(turns) < math.tau + 1e-9


@given(heads())
def test_a_spiral_begins_nearest_the_very_centre(places: Places) -> None:
    ring, first = rings(places), centre_out(places, "spiral")[0]
    nearest = [key for key in places if ring[key] == min(ring.values())]
    across = [y for _, y in places.values()]
    middle = (min(across) + max(across)) / 2
    off = {key: abs(places[key][1] - middle) for key in nearest}
    assert off[first] == min(off.values())


def drawn(rows: int, columns: list[int], pattern: Pattern) -> list[str]:
    """Number the map's places in the order of tightening, the uppermost row first."""
    places = {f"{x} {y}": (Decimal(x), Decimal(y)) for x in columns for y in range(rows)}
    number = {key: n for n, key in enumerate(centre_out(places, pattern), 1)}
    return [" ".join(str(number[f"{x} {y}"]) for x in columns) for y in reversed(range(rows))]


@pytest.mark.parametrize(
    ("rows", "columns", "pattern", "expected"),
    [
        (2, [0, 1, 2, 3, 4], "criss-cross", ["7 5 2 4 10", "9 3 1 6 8"]),
        (2, [0, 1, 2, 3, 4], "spiral", ["10 6 2 3 7", "9 5 1 4 8"]),
        (2, [0, 1, 2, 3], "spiral", ["6 2 3 7", "5 1 4 8"]),
        (3, [0, 1, 2, 3], "criss-cross", ["8 4 2 11", "12 6 5 9", "10 1 3 7"]),
        (3, [0, 1, 2, 3], "spiral", ["9 2 3 10", "8 1 4 11", "7 6 5 12"]),
        (3, [0, 1, 2, 3, 4], "spiral", ["15 9 3 4 10", "14 8 1 5 11", "13 7 2 6 12"]),
        (1, [0, 1, 2, 3, 4], "spiral", ["4 2 1 3 5"]),
        # The column at 5 lies nearer the middle, 6, than the one at 9.
        (2, [0, 5, 9, 12], "criss-cross", ["7 2 4 6", "5 1 3 8"]),
        (2, [0, 5, 9, 12], "spiral", ["6 2 3 7", "5 1 4 8"]),
    ],
)
def test_maps_by_hand(rows: int, columns: list[int], pattern: Pattern, expected: list[str]) -> None:
    assert drawn(rows, columns, pattern) == expected


@ways
@pytest.mark.parametrize("rows", [2, 3])
@pytest.mark.parametrize("count", range(1, 24))
def test_any_count_of_columns(count: int, rows: int, pattern: Pattern) -> None:
    columns = [x * x for x in range(count)]
    numbers = " ".join(drawn(rows, columns, pattern)).split()
    assert sorted(map(int, numbers)) == list(range(1, rows * count + 1))


@ways
def test_no_places_have_no_order(pattern: Pattern) -> None:
    assert centre_out({}, pattern) == ()


# --- the maker's own ------------------------------------------------------------------------------


@given(heads(), PATTERNS)
def test_a_generated_order_has_no_faults(places: Places, pattern: Pattern) -> None:
    assert order_faults(centre_out(places, pattern), places) == OrderFaults(
        unknown=(), repeated=(), missing=()
    )


def test_what_a_makers_order_can_have_wrong() -> None:
    assert order_faults(["3", "9", "1", "3", "9"], ["1", "2", "3", "4"]) == OrderFaults(
        unknown=(1, 4), repeated=(3,), missing=("2", "4")
    )


@given(st.lists(st.sampled_from("abcdef")), st.sets(st.sampled_from("abcde")))
def test_an_order_without_faults_is_a_permutation(order: list[str], places: set[str]) -> None:
    faults = order_faults(order, sorted(places))
    clean = not (faults.unknown or faults.repeated or faults.missing)
    assert clean == (sorted(order) == sorted(places))
    at_fault = {*faults.unknown, *faults.repeated}
    left = [key for at, key in enumerate(order) if at not in at_fault]
    assert sorted([*left, *faults.missing]) == sorted(places)
