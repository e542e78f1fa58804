"""A camshaft card as it is typed: IVO 12 IVC 48 EVO 52 EVC 10 at seat."""

import re
from collections.abc import Mapping
from decimal import Decimal

from snugset.trade.camshaft import Events, Lift
from snugset.units import UnitError
from snugset.values import dataclass

_EXAMPLE = "IVO 12 IVC 48 EVO 52 EVC 10 at seat"
_EVENTS = ("IVO", "IVC", "EVO", "EVC")
_EVENT = r"(IVO|IVC|EVO|EVC)\s*[:=]?\s*(-?[0-9]{1,3}(?:\.[0-9]{1,3})?)\s*(?:°|deg)?[\s,;]+"
_LIFTS: Mapping[str, Lift] = {
    "seat": "seat",
    "the seat": "seat",
    "advertised": "advertised",
    ".050 in": "0.050 in",
    "0.050 in": "0.050 in",
    ".050": "0.050 in",
    "0.050": "0.050 in",
}
_LONGEST = 120


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

    @property
    def events(self) -> Events:
        """The card to reckon with."""
        return Events(ivo=self.ivo, ivc=self.ivc, evo=self.evo, evc=self.evc, lift=self.lift)

    def __str__(self) -> str:
        return f"IVO {self.ivo} IVC {self.ivc} EVO {self.evo} EVC {self.evc} at {self.lift}"


def read_camshaft(text: str) -> Camshaft:
    """Read a camshaft card; UnitError says what is missing.

    Degrees: IVO before top, IVC after bottom, EVO before bottom, EVC after top dead centre; then
    ``at`` and the checking lift, which has no default: it decides what is added to each event.
    """
    if len(text) > _LONGEST:
        raise UnitError("too-long", f"this is too long for a camshaft card; write it as {_EXAMPLE}")
    events, at, lift = text.strip().partition(" at ")
    found: dict[str, Decimal] = {}
    rest = f"{events} "
    while rest.strip():
        match = re.match(_EVENT, rest.lstrip()) or re.match(_EVENT, rest.lstrip().upper())
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
