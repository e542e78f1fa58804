"""Lash that changed by itself between two times of reading: one valve, or all of them alike."""

from collections.abc import Mapping
from decimal import Decimal

from snugset.trade.exact import median
from snugset.typed import Literal
from snugset.units import Quantity, rounded
from snugset.values import dataclass

Kind = Literal["tighter", "looser", "all"]

ALONE = Decimal(2)
"""Thou off what the others did, or three times their median deviation if more. Common practice."""
TOGETHER = Decimal(3)
"""Thou that all have moved from what was expected: the doubt of the usual difference between cold
and hot. Common practice."""
LEAST = 3
"""Valves below which nothing is told of all of them."""

LOOK_FIRST: Mapping[Kind, str] = {
    "tighter": "the valve or its seat is going: look at once",
    "looser": "follower or rocker may be wearing",
    "all": "the difference between cold and hot is another here: set one pair hot, let it cool and "
    "measure it",
}
"""What to look at, by kind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wear:
    """One thing that the changes show."""

    kind: Kind
    places: tuple[str, ...]
    size: Quantity
    """How far from what was expected, in the unit of the readings; below zero is tighter."""
    words: str

    @property
    def look_first(self) -> str:
        """What to look at."""
        return LOOK_FIRST[self.kind]


def wear(now: Mapping[str, Quantity], expected: Mapping[str, Quantity]) -> tuple[Wear, ...]:
    """Find what stands out in lash read again, by place, against what was expected there.

    What all valves did alike is taken out first: it is the engine's, not a valve's. Tighter ones
    come first. Places without an expectation are left out.
    """
    moved = {
        place: value.in_("thou") - expected[place].in_("thou")
        for place, value in now.items()
        if place in expected
    }
    if not moved:
        return ()
    unit = next(iter(now.values())).unit
    middle = median(moved.values()) if len(moved) >= LEAST else Decimal(0)
    shared = middle if abs(middle) > TOGETHER else Decimal(0)
    found = []
    if shared:
        way = "looser" if shared > 0 else "tighter"
        found.append(_finding("all", tuple(moved), shared, f"all are {{}} {way} together", unit))
    off = {place: change - shared for place, change in moved.items()}
    usual = median(abs(change - middle) for change in moved.values()) if len(moved) >= LEAST else 0
    limit = max(ALONE, 3 * Decimal(usual))
    for place in sorted(off, key=lambda one: off[one]):
        if abs(off[place]) > limit:
            kind: Kind = "looser" if off[place] > 0 else "tighter"
            found.append(
                _finding(kind, (place,), off[place], f"{place} grew {{}} {kind}", unit),
            )
    order = list(LOOK_FIRST)
    return tuple(sorted(found, key=lambda one: order.index(one.kind)))


def _finding(kind: Kind, places: tuple[str, ...], size: Decimal, words: str, unit: str) -> Wear:
    shown = rounded(Quantity(size, "thou").to(unit))
    plain = Quantity(abs(shown.value), shown.unit)
    return Wear(kind=kind, places=places, size=shown, words=words.format(plain))
