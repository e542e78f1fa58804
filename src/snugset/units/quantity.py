"""A value and its unit."""

import re
from collections.abc import Mapping
from decimal import Decimal

from snugset.typed import Self
from snugset.units.errors import UnitError, quoted
from snugset.units.factors import convert
from snugset.units.written import UNITS, checked, expected, with_article
from snugset.values import dataclass

_STORED = re.compile(r"-?[0-9]{1,41}(?:\.[0-9]{1,400})?")
_MAGNITUDE = 40


def signed(value: Decimal, *, plus: bool = False) -> str:
    """Write a decimal as it is shown: below zero with a minus sign, which is read like a hyphen.

    What is kept or handed to a program has a hyphen. `plus` gives what is above zero its sign too.
    """
    return f"{value:+f}".replace("-", "\u2212") if plus else f"{value:f}".replace("-", "\u2212")


@dataclass(frozen=True, slots=True)
class Quantity:
    """A decimal value in one of the written forms of `UNITS`; UnitError for any other."""

    value: Decimal
    """As typed, trailing zeros too; always finite, and small enough to be written on a line."""
    unit: str

    def __post_init__(self) -> None:
        checked(self.unit)
        if not self.value.is_finite():
            raise UnitError("not-a-number", f"{quoted(str(self.value))} is not a number")
        if abs(self.value.adjusted()) > _MAGNITUDE:
            raise UnitError("too-long", f"{quoted(str(self.value))} is no figure of this trade")

    @property
    def kind(self) -> str:
        """What is measured: ``torque``, ``length``, ``angle`` …; ``number`` without a unit."""
        return UNITS[self.unit]

    def to(self, unit: str) -> Self:
        """Give the same in another unit; UnitError ``kind`` if it measures something else.

        Exact from in and thou to mm and between in and thou, and back wherever the decimal ends.
        """
        return self if unit == self.unit else type(self)(self.in_(unit), unit)

    def in_(self, unit: str) -> Decimal:
        """Give the value in another unit; UnitError ``kind`` if it measures something else."""
        if unit == self.unit:
            return self.value
        if UNITS[checked(unit)] != self.kind:
            asked = UNITS[unit]
            raise UnitError(
                "kind",
                f"{self} is {with_article(self.kind)}, and {with_article(asked)} is asked; "
                f"{expected(asked)}",
            )
        return convert(self.value, self.unit, unit)

    def number(self, unit: str) -> float:
        """Give the value in another unit as a binary number, for formulas with roots and angles."""
        return float(self.in_(unit))

    def __str__(self) -> str:
        return f"{signed(self.value)} {self.unit}".rstrip()

    def to_json(self) -> dict[str, str]:
        """Give it as it is kept: the decimal as text beside the unit."""
        return {"value": f"{self.value:f}", "unit": self.unit}

    @classmethod
    def from_json(cls, stored: Mapping[str, object]) -> Self:
        """Read what `to_json` gave; UnitError if it is anything else."""
        value, unit = stored.get("value"), stored.get("unit")
        if not isinstance(value, str) or not _STORED.fullmatch(value):
            raise UnitError("not-a-number", f"{quoted(str(value))} is not a stored decimal")
        if not isinstance(unit, str):
            raise UnitError("unit", f"{quoted(str(unit))} is not a stored unit")
        return cls(Decimal(value), unit)


Band = tuple[Quantity, Quantity]
"""The lowest and the highest that is plausible."""
