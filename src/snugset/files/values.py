"""What a figure can be worth: quantities, windows, steps of a catalogue, a camshaft card."""

from collections.abc import Mapping

from snugset.trade.card import Camshaft, read_camshaft
from snugset.typed import Any, TypeAlias
from snugset.units import Quantity, echo
from snugset.values import dataclass

__all__ = [
    "Camshaft",
    "SpecValue",
    "Step",
    "Window",
    "read_camshaft",
    "show_value",
    "value_from_json",
    "value_to_json",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """From low to high, both inside."""

    low: Quantity
    high: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A catalogue given as the step between neighbouring lengths."""

    quantity: Quantity


SpecValue: TypeAlias = Quantity | tuple[Quantity, ...] | Window | Step | Camshaft | str | None
"""A figure's value; a tuple is a rising list or a catalogue, None is “I don't have it”."""


def value_to_json(value: SpecValue) -> Any:  # noqa: ANN401 -- plain JSON
    """Return the value as plain JSON, every number as the text it was."""
    match value:
        case None | str():
            return value
        case Quantity():
            return value.to_json()
        case tuple():
            return {"list": [each.to_json() for each in value]}
        case Window():
            return {"low": value.low.to_json(), "high": value.high.to_json()}
        case Step():
            return {"step": value.quantity.to_json()}
        case Camshaft():
            return {"camshaft": str(value)}


def value_from_json(body: Any) -> SpecValue:  # noqa: ANN401 -- plain JSON
    """Return the value that `value_to_json` wrote; ValueError for anything else."""
    match body:
        case None | str():
            return body
        case {"list": list(each)}:
            return tuple(map(_quantity, each))
        case {"low": low, "high": high}:
            return Window(low=_quantity(low), high=_quantity(high))
        case {"step": step}:
            return Step(quantity=_quantity(step))
        case {"camshaft": str(text)}:
            return read_camshaft(text)
    return _quantity(body)


def _quantity(body: object) -> Quantity:
    if not isinstance(body, Mapping):
        raise ValueError("this is no figure's value")  # noqa: TRY004 -- damaged text, not a fault here
    return Quantity.from_json(body)


def show_value(value: SpecValue) -> str:
    """Return the value in words, lengths and torques in both systems."""
    match value:
        case None:
            return "not had"
        case str():
            return value
        case Quantity():
            return echo(value)
        case tuple():
            return _list(value)
        case Window():
            same = value.low.unit == value.high.unit
            return f"{_bare(value.low) if same else value.low} to {value.high}"
        case Step():
            return f"in steps of {echo(value.quantity)}"
        case Camshaft():
            return str(value)


def _bare(quantity: Quantity) -> str:
    return f"{quantity.value:f}"


def _list(values: tuple[Quantity, ...]) -> str:
    units = {each.unit for each in values}
    if len(units) > 1:
        return ", ".join(map(str, values))
    *most, last = values
    return ", ".join([*map(_bare, most), str(last)])
