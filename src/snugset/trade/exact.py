"""Quantities side by side in one unit, without a rounding that could move a limit.

A thou, an inch and a millimetre are whole multiples of one another only one way round: inch into
millimetre is exact, millimetre into inch is not. So what is compared is compared in the unit in
which everything given is a finite decimal.
"""

from collections.abc import Iterable
from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal

from snugset.units import Quantity
from snugset.units.factors import plain

__all__ = [
    "decimals",
    "nearest",
    "padded",
    "plain",
    "shared_unit",
    "shown_as",
    "side_by_side",
    "tidy",
]

_FINEST: tuple[tuple[frozenset[str], str], ...] = (
    (frozenset({"in", "thou", "mm"}), "mm"),
    (frozenset({"lbf·ft", "lbf·in"}), "lbf·in"),
    (frozenset({"deg", "turn"}), "deg"),
    (frozenset({"ksi", "psi"}), "psi"),
    (frozenset({"N", "kN"}), "N"),
    (frozenset({"kPa", "MPa"}), "kPa"),
    (frozenset({"s", "min", "h", "d"}), "s"),
)
"""For units typed together, the one into which all of them convert exactly."""


def shared_unit(quantities: Iterable[Quantity]) -> str:
    """Return the unit in which quantities of one kind can be compared exactly."""
    units = list(dict.fromkeys(quantity.unit for quantity in quantities))
    if len(units) == 1 or set(units) <= {"in", "thou"}:
        return units[0]
    return next((unit for group, unit in _FINEST if group.issuperset(units)), units[0])


def side_by_side(*quantities: Quantity) -> tuple[tuple[Decimal, ...], str]:
    """Give the values of quantities of one kind in one unit, and that unit."""
    unit = shared_unit(quantities)
    return tuple(quantity.in_(unit) for quantity in quantities), unit


def tidy(value: Decimal, digits: int = 7, *, short: int = 10) -> Decimal:
    """Round a value that does not end soon to so many significant digits; leave a short one alone.

    What was typed keeps its digits; a quotient loses the twenty that say nothing.
    """
    if not value and int(value.as_tuple().exponent) > 0:
        return Decimal(0)  # what nothing divided by something leaves
    if not value or len(value.as_tuple().digits) <= short:
        return value
    place = value.adjusted() - digits + 1
    return plain(value.quantize(Decimal(1).scaleb(place), rounding=ROUND_HALF_EVEN))


def decimals(value: Decimal) -> int:
    """Count the digits after the decimal point."""
    return max(0, -int(value.as_tuple().exponent))


def padded(quantity: Quantity, places: int) -> Quantity:
    """Write a value with no fewer decimals than its like: 9.630 beside 9.641."""
    if decimals(quantity.value) >= places:
        return quantity
    return Quantity(quantity.value.quantize(Decimal(1).scaleb(-places)), quantity.unit)


def nearest(number: float, unit: str, digits: int = 4) -> Quantity:
    """Give a computed number as a quantity of so many significant digits."""
    value = Decimal(repr(number))
    if not value:
        return Quantity(Decimal(0), unit)
    step = Decimal(1).scaleb(value.adjusted() - digits + 1)
    return Quantity(plain(value.quantize(step, rounding=ROUND_HALF_UP)), unit)


def shown_as(quantity: Quantity, unit: str) -> Quantity:
    """Convert, and drop digits that the conversion made up."""
    return Quantity(tidy(quantity.in_(unit)), unit)


def median(values: Iterable[Decimal]) -> Decimal:
    """Give the middle of some decimals, of an even number the mean of the two; ValueError of none.

    The library's, which brings much with it, so it is loaded on first use.
    """
    import statistics  # noqa: PLC0415

    return statistics.median(values)
