from decimal import Decimal

import pytest

from snugset.trade.exact import nearest, padded, shared_unit, side_by_side, tidy
from snugset.trade.grid import Grid

from .amounts import q


@pytest.mark.parametrize(
    ("units", "shared"),
    [
        (("1 in", "1 thou"), "in"), (("1 in", "1 mm"), "mm"), (("1 mm", "1 thou"), "mm"),
        (("1 lbf·ft", "1 lbf·in"), "lbf·in"), (("1 N·m", "1 lbf·ft"), "N·m"), (("1 mm",), "mm"),
    ],
)  # fmt: skip
def test_what_is_compared_is_compared_where_it_is_exact(
    units: tuple[str, ...], shared: str
) -> None:
    """Inch into millimetre is exact, millimetre into inch is not."""
    assert shared_unit([q(unit) for unit in units]) == shared


def test_side_by_side_loses_nothing() -> None:
    (inch, metric), unit = side_by_side(q("0.001 in"), q("0.0254 mm"))
    assert (inch, unit) == (metric, "mm")


@pytest.mark.parametrize(
    ("value", "shown"),
    [("38.18897637795275590551181102", "38.18898"), ("9.6410", "9.6410"), ("0", "0"),
     ("123456789012", "123456800000"), ("-0.333333333333", "-0.3333333")],
)  # fmt: skip
def test_digits_that_say_nothing_are_dropped_and_typed_ones_kept(value: str, shown: str) -> None:
    assert str(tidy(Decimal(value))) == shown


def test_numbers_and_lengths_as_they_are_written() -> None:
    assert str(nearest(14243.9, "lbf")) == "14240 lbf"
    assert str(nearest(0.0, "in")) == "0 in"
    assert str(padded(q("9.63 in"), 3)) == "9.630 in"
    assert str(padded(q("9.6415 in"), 3)) == "9.6415 in"


def test_a_grid_holds_every_quantity_and_their_middles() -> None:
    grid = Grid(q("9.641 in"), q("35.5 thou"), q("0.1 mm"))
    for quantity in (q("9.641 in"), q("35.5 thou"), q("0.1 mm")):
        assert grid.exact(grid.whole(quantity)).in_("mm") == quantity.in_("mm")
    odd = grid.whole(q("9.641 in")) + grid.whole(q("0.1 mm"))
    assert grid.exact(odd // 2).value * 2 == q("9.641 in").in_("mm") + Decimal("0.1")
