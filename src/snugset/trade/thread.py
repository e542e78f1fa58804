"""Screw threads as they are written on the box, their stress areas and proof loads."""

import math
import re
from collections.abc import Mapping
from decimal import Decimal

from snugset.trade.exact import nearest, plain, tidy
from snugset.trade.fault import FigureError
from snugset.typed import Literal
from snugset.units import Quantity
from snugset.values import dataclass

_INCH = (
    r"(?:(?:(?P<whole>[1-4])\s+)?(?P<top>\d{1,2})/(?P<bottom>\d{1,2})|(?P<inches>\d?\.\d{1,4})|#?(?P<number>\d{1,2}))"
    r"(?:\s*(?:in|\"))?(?:\s*[-x×]\s*(?P<count>\d{1,2}))?(?:\s*-?\s*UN[A-Z]*)?"
)
_METRIC = r"M\s*(?P<diameter>\d{1,2}(?:\.\d)?)(?:\s*[-x×]\s*(?P<pitch>\d(?:\.\d{1,2})?))?"

_COARSE = {
    "3": "0.5", "4": "0.7", "5": "0.8", "6": "1", "7": "1", "8": "1.25", "10": "1.5",
    "12": "1.75", "14": "2", "16": "2", "18": "2.5", "20": "2.5", "22": "2.5", "24": "3",
}  # fmt: skip
"""Coarse pitch by diameter, mm, where the designation gives none. ISO 261 (from memory)."""

_WHOLE = frozenset("1234")
_FINEST_WHOLE = 20
"""Whole inches have fewer threads to the inch than this; #1 to #4 have 40 and more: ASME B1.1 (from
memory).
"""

Grade = Literal["2", "5", "8", "8.8", "10.9", "12.9"]
"""SAE J429 grades, then ISO 898-1 property classes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread:
    """A thread in its own system: inch or metric."""

    name: str
    diameter: Quantity
    pitch: Quantity

    @property
    def metric(self) -> bool:
        """Whether it is a metric thread."""
        return self.diameter.unit == "mm"

    @property
    def turns_per_inch(self) -> Decimal:
        """Threads to the inch."""
        return tidy(1 / self.pitch.in_("in"), 4, short=6)

    @property
    def stress_area(self) -> Quantity:
        """Tensile stress area, in² or mm².

        π/4·(d − 0.9743/n)²: ASME B1.1. π/4·(d − 0.9382·P)²: ISO 898-1.
        """
        d, pitch = self.diameter.number(self.diameter.unit), self.pitch.number(self.pitch.unit)
        less = 0.9382 if self.metric else 0.9743
        return nearest(math.pi / 4 * (d - less * pitch) ** 2, "mm²" if self.metric else "in²")


def read_thread(text: str, key: str = "thread") -> Thread:
    """Read 7/16-20, 3/8-16 UNC, 1-8, 1 1/8-7, #10-24, .375-24, M10x1.5 or M10 (coarse).

    FigureError with the key given for anything else.
    """
    bare = " ".join(text.split())[:60]
    if found := re.fullmatch(_METRIC, bare, re.IGNORECASE):
        return _metric(bare, found, key)
    found = re.fullmatch(_INCH, bare, re.IGNORECASE)
    if found is None:
        raise FigureError(key, f"“{bare}” is no thread; write it as 7/16-20, #10-24 or M10x1.5")
    if found["count"] is None:
        raise FigureError(
            key, f"“{bare}” lacks its threads to the inch; write it as 3/8-16 or 3/8-24"
        )
    return _inch(bare, found, key)


def proof_strength(grade: Grade, diameter: Quantity) -> Quantity:
    """Give the stress that a fastener of a grade bears without setting.

    SAE J429 in ksi, ISO 898-1 in MPa; both fall for thick fasteners of some grades.
    """
    inches, mm = diameter.in_("in"), diameter.in_("mm")
    ksi: Mapping[str, int] = {
        "2": 55 if inches <= Decimal("0.75") else 33,
        "5": 85 if inches <= 1 else 74,
        "8": 120,
    }
    mpa: Mapping[str, int] = {"8.8": 580 if mm <= 16 else 600, "10.9": 830, "12.9": 970}
    if grade in ksi:
        return Quantity(Decimal(ksi[grade]), "ksi")
    return Quantity(Decimal(mpa[grade]), "MPa")


def load_at(stress: Quantity, area: Quantity) -> Quantity:
    """Give the load on an area at a stress: lbf for an area in in², N for one in mm²."""
    if area.unit == "mm²":
        return nearest(stress.number("MPa") * area.number("mm²"), "N")
    return nearest(stress.number("psi") * area.number("in²"), "lbf")


def _metric(name: str, found: re.Match[str], key: str) -> Thread:
    diameter = plain(Decimal(found["diameter"]))
    pitch = found["pitch"] or _COARSE.get(str(diameter))
    if pitch is None:
        raise FigureError(
            key, f"“{name}” has no usual pitch; write it with one, such as M{diameter}x1"
        )
    return _sound(name, diameter, Decimal(pitch), "mm", key)


def _inch(name: str, found: re.Match[str], key: str) -> Thread:
    if found["top"] is not None:
        if int(found["bottom"]) == 0:
            raise FigureError(key, f"“{name}” divides by nothing; write it as 7/16-20")
        diameter = Decimal(found["whole"] or 0) + Decimal(found["top"]) / Decimal(found["bottom"])
    elif found["inches"] is not None:
        diameter = Decimal(found["inches"])
    elif found["number"] in _WHOLE and int(found["count"]) < _FINEST_WHOLE and name[0] != "#":
        diameter = Decimal(found["number"])
    else:
        # Numbered sizes: 0.060 in and 0.013 in for each number, ASME B1.1 (from memory).
        diameter = Decimal("0.060") + Decimal("0.013") * int(found["number"])
        if int(found["number"]) > 12:
            raise FigureError(
                key, f"“{name}”: numbered threads end at #12; write it as 7/16-20 or M10x1.5"
            )
    count = int(found["count"])
    if count == 0:
        raise FigureError(key, f"“{name}” has no threads to the inch; write it as 7/16-20")
    return _sound(name, diameter, 1 / Decimal(count), "in", key)


def _sound(name: str, diameter: Decimal, pitch: Decimal, unit: str, key: str) -> Thread:
    """Refuse a pitch that cannot belong to the diameter."""
    if not diameter / 32 <= pitch <= diameter / Decimal("2.5"):
        raise FigureError(key, f"“{name}”: that pitch is not of that diameter; check both figures")
    return Thread(name=name, diameter=Quantity(diameter, unit), pitch=Quantity(pitch, unit))
