"""Figures for tests, written as they are read."""

from snugset.units import UNITS, Quantity, read


def q(text: str) -> Quantity:
    """Read a quantity with its unit: ``q("35 thou")``."""
    number, _, unit = text.partition(" ")
    return read(number, unit=unit, kind=UNITS[unit], negative=True)


def by_place(intake: str, exhaust: str) -> dict[str, Quantity]:
    """Give readings in thou by place, from the intakes and the exhausts in cylinder order."""
    pairs = zip(intake.split(), exhaust.split(), strict=True)
    return {
        f"{cylinder}{valve}": q(f"{reading} thou")
        for cylinder, pair in enumerate(pairs, 1)
        for valve, reading in zip("IE", pair, strict=True)
    }


EIGHT = by_place("11 9 12 10 13 12 14 10", "14 13 15 8 16 11 13 12")
"""An invented bridged eight with its first pushrods."""
EIGHT_BANKS = {"left": (1, 3, 5, 7), "right": (2, 4, 6, 8)}
MILLED_SIX = by_place("79 83 86 90 94 98", "81 84 88 91 95 99")
"""An invented six whose head was cut .040 in."""
