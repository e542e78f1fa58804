"""What a figure can be worth: quantities, windows, steps of a catalogue, a camshaft card."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal, TypeAlias

from snugset.units import Quantity, UnitError, echo

Lift: TypeAlias = Literal["seat", "advertised", "0.050 in"]
"""Where a camshaft card says that a valve is open: off its seat, or lifted so far."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """From low to high, both inside."""

    low: Quantity
    high: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A catalogue given as the step between neighbouring lengths."""

    quantity: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Camshaft:
    """When the valves open and close, in degrees of the crank, and where the card reads them."""

    ivo: Decimal
    """Intake opens, before top dead centre."""
    ivc: Decimal
    """Intake closes, after bottom dead centre."""
    evo: Decimal
    """Exhaust opens, before bottom dead centre."""
    evc: Decimal
    """Exhaust closes, after top dead centre."""
    lift: Lift
    """The checking lift."""

    def __str__(self) -> str:
        return f"IVO {self.ivo} IVC {self.ivc} EVO {self.evo} EVC {self.evc} at {self.lift}"


SpecValue: TypeAlias = Quantity | tuple[Quantity, ...] | Window | Step | Camshaft | str | None
"""A figure's value; a tuple is a rising list or a catalogue, None is “I don't have it”."""

_EVENTS = ("IVO", "IVC", "EVO", "EVC")
_EVENT = re.compile(
    r"(IVO|IVC|EVO|EVC)\s*[:=]?\s*(-?[0-9]{1,3}(?:\.[0-9]{1,3})?)\s*(?:°|deg)?[\s,;]+"
)
_LIFTS: Mapping[str, Lift] = {
    "seat": "seat",
    "the seat": "seat",
    "advertised": "advertised",
    ".050 in": "0.050 in",
    "0.050 in": "0.050 in",
    ".050": "0.050 in",
    "0.050": "0.050 in",
}
_EXAMPLE = "IVO 12 IVC 48 EVO 52 EVC 10 at seat"


def read_camshaft(text: str) -> Camshaft:
    """Read a camshaft card; UnitError says what is missing.

    Degrees: IVO before top, IVC after bottom, EVO before bottom, EVC after top dead centre; then
    ``at`` and the checking lift, which has no default: it decides what is added to each event.
    """
    if len(text) > 120:
        raise UnitError("too-long", f"this is too long for a camshaft card; write it as {_EXAMPLE}")
    events, at, lift = text.strip().partition(" at ")
    found: dict[str, Decimal] = {}
    rest = f"{events} "
    while rest.strip():
        match = _EVENT.match(rest.lstrip(), 0) or _EVENT.match(rest.lstrip().upper(), 0)
        if match is None or match[1] in found:
            word = rest.split(maxsplit=1)[0][:20]
            raise UnitError("camshaft", f"“{word}” does not fit here; write the card as {_EXAMPLE}")
        found[match[1]] = Decimal(match[2])
        rest = rest.lstrip()[match.end() :]
    for name in _EVENTS:
        if name not in found:
            raise UnitError("camshaft", f"{name} is missing; write the card as {_EXAMPLE}")
        if not -60 <= found[name] <= 150:
            raise UnitError(
                "band", f"{name} {found[name]} lies outside -60 to 150 degrees; read the card again"
            )
    lift = " ".join(lift.split()).lower()
    if not at or lift not in _LIFTS:
        raise UnitError(
            "camshaft",
            "the checking lift is missing; end with “at seat”, “at advertised” or “at .050 in”",
        )
    return Camshaft(
        ivo=found["IVO"], ivc=found["IVC"], evo=found["EVO"], evc=found["EVC"], lift=_LIFTS[lift]
    )


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
