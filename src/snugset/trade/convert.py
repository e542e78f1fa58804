"""One figure in every unit that the trade uses for its kind."""

from snugset.trade.exact import shown_as
from snugset.units import UNITS, Quantity


def every_unit(quantity: Quantity) -> dict[str, Quantity]:
    """Give a quantity in each written unit of its kind, its own first.

    Inch, thou and millimetre convert exactly (0.001 in = 0.0254 mm); others by the factors of
    NIST SP 811 App. B, to seven digits.
    """
    others = [unit for unit, kind in UNITS.items() if kind == quantity.kind]
    return {quantity.unit: quantity} | {
        unit: shown_as(quantity, unit) for unit in others if unit != quantity.unit
    }
