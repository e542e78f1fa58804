"""Results in inches or in metric, whatever they were worked out in."""

from collections.abc import Mapping
from decimal import Decimal

from snugset.trade.calculator import Figure, Result, Value
from snugset.units import Quantity, rounded
from snugset.values import replace

_INCH = {
    "mm": "in",
    "N·m": "lbf·ft",
    "kgf·m": "lbf·ft",
    "N": "lbf",
    "kN": "lbf",
    "kPa": "psi",
    "MPa": "psi",
    "mm²": "in²",
    "cc": "in³",
}
_METRIC = {
    "in": "mm",
    "thou": "mm",
    "lbf·ft": "N·m",
    "lbf·in": "N·m",
    "lbf": "kN",
    "psi": "MPa",
    "ksi": "MPa",
    "in²": "mm²",
    "in³": "cc",
}
_SMALL = Decimal("6.35")
"""Millimetres, a quarter of an inch: under it the trade speaks in thou."""


def in_system(result: Result, system: str) -> Result:
    """Give a result with every quantity in ``inch`` or ``metric``; as it is for no system.

    What is converted is rounded as it is shown everywhere.
    """
    if not system:
        return result
    other = _INCH if system == "inch" else _METRIC
    outputs = {
        key: _figure(one, system)
        for key, one in result.outputs.items()
        if key not in other  # an output that is called by its unit stays in it, or goes
    }
    return replace(result, outputs=outputs)


def _figure(one: Figure, system: str) -> Figure:
    doubt = None if one.uncertainty is None else _quantity(one.uncertainty, system)
    return Figure(value=_value(one.value, system), uncertainty=doubt)


def _value(value: Value, system: str) -> Value:
    """Convert the quantities in an output, and leave words as they are."""
    match value:
        case Quantity():
            return _quantity(value, system)
        case tuple():
            return (
                tuple(_quantity(one, system) for one in value if isinstance(one, Quantity)) or value
            )
        case Mapping():
            return {
                place: _quantity(one, system)
                for place, one in value.items()
                if isinstance(one, Quantity)
            } or value
    return value


def _quantity(quantity: Quantity, system: str) -> Quantity:
    unit = (_INCH if system == "inch" else _METRIC).get(quantity.unit)
    if unit is None:
        return quantity
    if unit == "in" and 0 < abs(quantity.value) < _SMALL:
        unit = "thou"
    return rounded(quantity.to(unit))
