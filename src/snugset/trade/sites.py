"""Where on the engine a place is, from its key: 3E is cylinder 3's exhaust."""

import re
from collections.abc import Iterable, Mapping, Sequence

from snugset.trade.fault import FigureError
from snugset.typed import Literal
from snugset.values import dataclass

_PLACE = re.compile(r"(?P<cylinder>[1-9]\d?)(?P<valve>[IE])")


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """One valve's place."""

    cylinder: int
    valve: Literal["I", "E"]
    bank: str
    """Name of the bank; empty with one row."""
    position: int
    """Along its bank from the front, from 0."""

    @property
    def partner(self) -> str:
        """The other valve of the cylinder."""
        return f"{self.cylinder}{'E' if self.valve == 'I' else 'I'}"


def sites(
    places: Iterable[str], banks: Mapping[str, Sequence[int]] | None = None
) -> dict[str, Site]:
    """Find where each place is; FigureError (readings, banks) for one that is nowhere."""
    found: dict[str, tuple[int, Literal["I", "E"]]] = {}
    for place in places:
        match = _PLACE.fullmatch(place)
        if match is None:
            raise FigureError(
                "readings", f"“{place[:20]}” is no place; write 1I and 1E for cylinder 1's valves"
            )
        found[place] = (int(match["cylinder"]), "I" if match["valve"] == "I" else "E")
    rows = banks or {"": sorted({cylinder for cylinder, _ in found.values()})}
    spots = {
        cylinder: (bank, position)
        for bank, cylinders in rows.items()
        for position, cylinder in enumerate(cylinders)
    }
    for cylinder, _ in found.values():
        if cylinder not in spots:
            raise FigureError(
                "banks",
                f"cylinder {cylinder} is in none; list each bank's cylinders from the front",
            )
    return {
        place: Site(
            cylinder=cylinder, valve=valve, bank=spots[cylinder][0], position=spots[cylinder][1]
        )
        for place, (cylinder, valve) in found.items()
    }
