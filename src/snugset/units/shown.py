"""Quantities as they are shown: rounded sensibly, in both systems."""

from decimal import ROUND_HALF_UP, Decimal

from snugset.units.factors import EXACT, plain
from snugset.units.quantity import Quantity

# The finest step worth showing; kinds without an entry keep three significant digits.
_STEP = {
    "in": Decimal("0.0001"), "thou": Decimal("0.1"), "mm": Decimal("0.001"),
    "deg": Decimal("0.1"), "turn": Decimal("0.001"),
    "s": Decimal("0.1"), "min": Decimal("0.1"), "h": Decimal("0.01"), "d": Decimal("0.01"),
    "": Decimal("0.0001"),
}  # fmt: skip
_TYPED_DIGITS = 9

_SMALL_LENGTH = Decimal("6.35")  # mm: a quarter of an inch; below it the trade speaks in thou
_SMALL_TORQUE = Decimal(20)  # N·m: below it the trade speaks in lbf·in
_SMALL_FORCE = Decimal(1000)  # N
_SMALL_PRESSURE = Decimal(1000)  # kPa


def rounded(quantity: Quantity) -> Quantity:
    """Round a computed quantity for showing.

    Lengths to 0.1 thou or 0.001 mm, torques and most others to three significant digits, but
    never coarser than the unit and never to fewer than two significant digits.
    """
    value, unit = quantity.value, quantity.unit
    if not value:
        return Quantity(Decimal(0), unit)
    leading = value.adjusted()
    step = _STEP.get(unit)
    place = min(leading - 2, 0) if step is None else min(step.adjusted(), leading - 1)
    return Quantity(
        plain(value.quantize(Decimal(1).scaleb(place), rounding=ROUND_HALF_UP, context=EXACT)),
        unit,
    )


def short(quantity: Quantity) -> Quantity:
    """Leave what can have been typed as it is; round a computed value of many digits."""
    long = len(quantity.value.as_tuple().digits) > _TYPED_DIGITS
    return rounded(quantity) if long else quantity


def _other(quantity: Quantity) -> str | None:
    """Give the unit of the other system that is said for a quantity of this size."""
    size = quantity.value.copy_abs()
    match quantity.unit:
        case "in" | "thou":
            return "mm"
        case "mm":
            return "thou" if size < _SMALL_LENGTH else "in"
        case "lbf·ft" | "lbf·in":
            return "N·m"
        case "N·m":
            return "lbf·in" if size < _SMALL_TORQUE else "lbf·ft"
        case "kgf·m":
            return "lbf·ft"
        case "lbf":
            return "N" if size * 4 < _SMALL_FORCE else "kN"
        case "N" | "kN":
            return "lbf"
        case "psi":
            return "kPa" if size * 7 < _SMALL_PRESSURE else "MPa"
        case "kPa":
            return "psi"
        case "ksi":
            return "MPa"
        case "MPa":
            return "ksi"
        case "in²":
            return "mm²"
        case "mm²":
            return "in²"
        case "in³":
            return "cc"
        case "cc":
            return "in³"
    return None


_LINE = 80
"""Cells of the narrowest screen; figures far outside the trade are said in one system."""


def echo(quantity: Quantity) -> str:
    """Say a quantity in both systems in one line: ``35 thou = 0.889 mm``.

    An angle, a time and a number have one system and are said alone.
    What was typed is repeated as it was typed; only a computed value of many digits is rounded.
    """
    unit = _other(quantity)
    said = str(short(quantity))
    if unit is None:
        return said
    both = f"{said} = {rounded(quantity.to(unit))}"
    return both if len(both) < _LINE else said
