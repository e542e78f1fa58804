"""Every calculator by name, and a figure worked out from typed texts."""

from collections.abc import Mapping
from decimal import Decimal

from snugset.trade.calculator import Calculator, Figure, FigureError, Result, Value
from snugset.trade.declared.adjuster import TURNS
from snugset.trade.declared.closing import COVER, LASH
from snugset.trade.declared.cylinder import COMPRESSION, PISTON
from snugset.trade.declared.everyday import CONVERT, RIM
from snugset.trade.declared.gaps import DECIDE, PRELOAD, STACK
from snugset.trade.declared.heights import COLLAPSED, SHIFT
from snugset.trade.declared.inhand import PLACE
from snugset.trade.declared.ordering import PUSHRODS
from snugset.trade.declared.places import PATTERN, REREAD
from snugset.trade.declared.screws import CLAMP, THREAD, WRENCH
from snugset.trade.declared.valve import VALVES
from snugset.trade.typed import Engines, did_you_mean, read_inputs
from snugset.units import Quantity

__all__ = [
    "CALCULATORS",
    "GROUPS",
    "FigureError",
    "figure",
    "shown",
    "shown_with_doubt",
    "to_json",
]

GROUPS: Mapping[str, tuple[Calculator, ...]] = {
    "Preload and pushrods": (PRELOAD, PUSHRODS, PLACE, REREAD, PATTERN, TURNS, COLLAPSED, SHIFT),
    "Feeler leaves, lash, limits": (STACK, LASH, DECIDE),
    "Torque and threads": (CLAMP, WRENCH, THREAD),
    "Crank and valves": (VALVES, PISTON, RIM),
    "Volumes and room": (COMPRESSION, COVER),
    "Units": (CONVERT,),
}
"""The calculators by what they are for, in the order in which they are offered."""
CALCULATORS: Mapping[str, Calculator] = {
    calculator.name: calculator for group in GROUPS.values() for calculator in group
}
"""The calculators by name, in that order."""


def figure(name: str, texts: Mapping[str, str], *, engines: Engines | None = None) -> Result:
    """Work out a calculator from texts by key, as they are typed.

    ``engines`` looks up an engine by what was typed for it, and gives what it knows as texts by
    key; what was typed beside it comes first.

    FigureError, its key ``figure`` for a name that is none, else the key at fault.
    """
    calculator = CALCULATORS.get(name)
    if calculator is None:
        names = tuple(CALCULATORS)
        raise FigureError(
            "figure",
            f"“{name[:40]}” is none{did_you_mean(name, names)}; there are {', '.join(names)}",
        )
    return calculator.compute(read_inputs(calculator, texts, engines))


def shown(value: Value) -> str:
    """Write an output's value as it is read: ``35.5 thou``, ``yes``, ``20, 15 thou``."""
    match value:
        case bool():
            return "yes" if value else "no"
        case str():
            return value
        case Quantity():
            return f"{value}"
        case tuple():
            if not value:
                return "none"
            *before, last = value
            return ", ".join(
                [f"{one.value:f}" if isinstance(one, Quantity) else one for one in before]
                + [str(last)]
            )
        case _:
            return " ".join(f"{place}={one}" for place, one in value.items())


def shown_with_doubt(one: Figure) -> str:
    """Write an output as it is read, with its U where there is one: ``35.5 thou ± 3.3 thou``."""
    doubt = f" ± {one.uncertainty}" if one.uncertainty is not None else ""
    return f"{shown(one.value)}{doubt}"


def to_json(name: str, texts: Mapping[str, str], result: Result) -> dict[str, object]:
    """Give a result for a program: numbers as numbers, each with its written unit.

    ``{"figure", "inputs", "outputs": {key: {"value", "unit", "uncertainty"}}, "working",
    "source"}``; several values are a list, a value for each place is an object.
    """
    return {
        "figure": name,
        "inputs": dict(texts),
        "outputs": {key: _output(one) for key, one in result.outputs.items()},
        "working": list(result.working),
        "source": result.source,
    }


def _output(one: Figure) -> dict[str, object]:
    value, unit = _bare(one.value)
    doubt = one.uncertainty
    return {
        "value": value,
        "unit": unit,
        "uncertainty": _number(doubt.in_(unit)) if doubt is not None else None,
    }


def _bare(value: Value) -> tuple[object, str]:
    """Give a value without its unit, and the unit."""
    match value:
        case Quantity():
            return _number(value.value), value.unit
        case bool() | str():
            return value, ""
        case tuple():
            parts = [_bare(part) for part in value]
            return [part for part, _ in parts], parts[0][1] if parts else ""
        case _:
            each = {place: _bare(part) for place, part in value.items()}
            return {place: part for place, (part, _) in each.items()}, next(
                (unit for _, unit in each.values()), ""
            )


def _number(value: Decimal) -> int | float:
    return int(value) if value == value.to_integral_value() else float(value)
