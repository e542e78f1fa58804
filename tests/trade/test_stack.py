from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.fault import FigureError
from snugset.trade.stack import closest, go_no_go
from snugset.units import read_list

from .amounts import q

SET = read_list("10, 12, 15, 17, 18, 20, 25, 30, 32 thou", unit="thou")
SETS = st.lists(st.integers(1, 40), min_size=1, max_size=7, unique=True)


def test_17_and_18_make_35_and_30_and_32_make_62() -> None:
    """Common practice; three leaves at most."""
    assert closest(SET, q("35 thou")).leaves == (q("18 thou"), q("17 thou"))
    assert closest(SET, q("62 thou")).leaves == (q("32 thou"), q("30 thou"))
    assert closest(SET, q("62 thou")).total == q("62 thou")


def test_one_leaf_is_better_than_two_and_a_thinner_sum_than_a_thicker() -> None:
    assert closest(SET, q("30 thou")).leaves == (q("30 thou"),)
    assert closest(read_list("10, 20 thou", unit="thou"), q("15 thou")).total == q("10 thou")


def test_a_metric_gap_from_inch_leaves() -> None:
    assert closest(SET, q("0.889 mm")).total == q("35 thou")


@given(SETS, st.integers(1, 130), st.integers(1, 3))
def test_no_stack_comes_closer_with_as_few(owned: list[int], want: int, most: int) -> None:
    found = closest([q(f"{leaf} thou") for leaf in owned], q(f"{want} thou"), most=most)
    every = (some for count in range(1, most + 1) for some in combinations(owned, count))
    off, count = min((abs(sum(some) - want), len(some)) for some in every)
    assert abs(found.total.value - want) == off
    assert len(found.leaves) == count


def test_go_and_no_go_prove_a_gap_inside_the_window() -> None:
    pair = go_no_go(SET, q("20 thou"), q("60 thou"))
    assert (pair.go.total, pair.no_go.total) == (q("20 thou"), q("60 thou"))
    between = go_no_go(read_list("21, 37 thou", unit="thou"), q("20 thou"), q("60 thou"))
    assert (between.go.total, between.no_go.total) == (q("21 thou"), q("58 thou"))


@pytest.mark.parametrize(
    ("leaves", "most", "message"),
    [
        ("10, 12 thou", 5, "most: 5 leaves to a stack; 1 to 4 can be handled, 3 is usual"),
        ("0, 12 thou", 3, "leaves: a leaf has a thickness; leave out the zero"),
    ],
)
def test_what_cannot_be_is_refused(leaves: str, most: int, message: str) -> None:
    with pytest.raises(FigureError) as refused:
        closest(read_list(leaves, unit="thou"), q("35 thou"), most=most)
    assert str(refused.value) == message


def test_a_window_that_the_set_cannot_gauge() -> None:
    with pytest.raises(FigureError, match="no stack of these leaves lies between"):
        go_no_go(SET, q("1 thou"), q("2 thou"))
    with pytest.raises(FigureError, match="only one stack lies between"):
        go_no_go(SET, q("10 thou"), q("11 thou"))
