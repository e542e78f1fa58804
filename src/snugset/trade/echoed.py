"""What a calculator's input was read as, said in both systems in one line."""

from collections.abc import Mapping
from decimal import Decimal

from snugset.printable import counted
from snugset.trade.calculator import Input
from snugset.trade.exact import side_by_side, tidy
from snugset.trade.thread import Thread
from snugset.units import Quantity, echo

_FEW = 4
"""Figures that are said one by one; of more, how many there are and from where to where."""


def echoed(asked: Input, value: object) -> str:
    """Say a value as it was read; empty for a word, which says itself.

    Quantities in the unit typed and in the other system, with the rounding of `echo`.
    """
    match asked.form, value:
        case _, Quantity():
            return echo(value)
        case "takes", tuple():
            return "; ".join(echo(_sum(stack)) for stack in value)
        case "window", (Quantity() as low, Quantity() as high):
            return f"{echo(low)}, to {echo(high)}"
        case "list", tuple():
            return _several([one for one in value if isinstance(one, Quantity)])
        case "places", Mapping():
            return _several([one for one in value.values() if isinstance(one, Quantity)])
        case "banks", Mapping():
            return "; ".join(
                f"{bank}: {', '.join(map(str, of))} from the front" for bank, of in value.items()
            )
        case "share", Decimal():
            return f"{(value * 100).normalize():f} %"
        case "thread", Thread():
            return f"{value.name}, {value.diameter} across, pitch {value.pitch}"
        case "order", tuple():
            return counted(len(value), "cylinder")
    return ""


def _sum(stack: tuple[Quantity, ...]) -> Quantity:
    """Add up the leaves of a stack, in the unit of the first."""
    values, unit = side_by_side(*stack)
    return Quantity(tidy(sum(values, Decimal(0))), unit)


def _several(values: list[Quantity]) -> str:
    if len(values) <= _FEW:
        return ", ".join(map(echo, values))
    ranked = sorted(values, key=lambda one: one.in_(values[0].unit))
    return f"{len(values)} figures, from {echo(ranked[0])} to {echo(ranked[-1])}"
