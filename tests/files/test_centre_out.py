"""The order made where the maker gives none (common practice; see the function)."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.sequence import centre_out, removal

COORDINATE = st.integers(-40, 40).map(lambda n: Decimal(n) / 4)
PLACES = st.lists(st.tuples(COORDINATE, COORDINATE), unique=True, min_size=1, max_size=40).map(
    lambda spots: {str(n): spot for n, spot in enumerate(spots, 1)}
)
Spots = dict[str, tuple[Decimal, Decimal]]


def rings(places: Spots) -> dict[str, Decimal]:
    along = [x for x, _ in places.values()]
    centre = (min(along) + max(along)) / 2
    return {key: abs(x - centre) for key, (x, _) in places.items()}


def apart(a: tuple[Decimal, Decimal], b: tuple[Decimal, Decimal]) -> Decimal:
    return (a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2


@given(PLACES)
def test_every_place_comes_once(places: Spots) -> None:
    assert sorted(centre_out(places)) == sorted(places)


@given(PLACES)
def test_it_starts_in_a_column_nearest_the_centre_and_the_ring_never_decreases(
    places: Spots,
) -> None:
    ring = rings(places)
    order = [ring[key] for key in centre_out(places)]
    assert order[0] == min(ring.values())
    assert order == sorted(order)


@given(PLACES)
def test_within_a_ring_the_next_is_the_farthest_from_the_last(places: Spots) -> None:
    ring, order = rings(places), centre_out(places)
    for number in range(1, len(order)):
        rest = [key for key in order[number:] if ring[key] == ring[order[number]]]
        last = places[order[number - 1]]
        assert apart(places[order[number]], last) == max(apart(places[key], last) for key in rest)


@given(PLACES)
def test_removal_is_the_reverse(places: Spots) -> None:
    assert list(removal(centre_out(places))) == list(reversed(centre_out(places)))


@given(PLACES, st.randoms())
def test_names_and_their_order_in_the_file_change_nothing(places: Spots, random: object) -> None:
    keys = list(places)
    random.shuffle(keys)  # type: ignore[attr-defined]
    assert centre_out({key: places[key] for key in keys}) == centre_out(places)


def test_fourteen_studs_in_two_rows() -> None:
    # Columns 1 to 7 from the front; upper row 1 to 7, lower row 8 to 14.
    places = {
        str(row * 7 + column): (Decimal(column), Decimal(3 * (1 - row)))
        for row in range(2)
        for column in range(1, 8)
    }
    assert " ".join(centre_out(places)) == "11 4 10 5 12 3 13 2 6 9 7 8 14 1"


def test_no_places_have_no_order() -> None:
    assert centre_out({}) == ()
