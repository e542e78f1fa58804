"""What a reading with its doubt says about a limit.

The zones are those of a decision rule with guard bands on both sides of each limit: proved inside
when the value lies within the limits by U or more; past a limit when it lies beyond it by more
than U; between those, inside or outside but not proved. ILAC-G8:09/2019 §4.2.3; ISO 14253-1 (from
memory).
"""

import math
from enum import StrEnum

from snugset.trade.exact import side_by_side
from snugset.units import Quantity


class Verdict(StrEnum):
    """The code kept with a reading."""

    IN = "in"
    INSIDE = "inside"
    OUTSIDE = "outside"
    LOW = "low"
    HIGH = "high"
    NO_LIMIT = "no-limit"
    LOOSE = "loose"
    BOTTOMED = "bottomed"

    @property
    def words(self) -> str:
        """The verdict as it is read out."""
        return _WORDS[self]

    @property
    def measured(self) -> bool:
        """Whether the reading is a measurement at all: loose and bottomed say only a bound."""
        return self not in {Verdict.LOOSE, Verdict.BOTTOMED}


_WORDS = {
    Verdict.IN: "in",
    Verdict.INSIDE: "inside, not proved",
    Verdict.OUTSIDE: "outside, not proved",
    Verdict.LOW: "low",
    Verdict.HIGH: "high",
    Verdict.NO_LIMIT: "no limit given",
    Verdict.LOOSE: "loose: not a measurement",
    Verdict.BOTTOMED: "bottomed: not a measurement",
}


def decide(
    value: Quantity,
    uncertainty: Quantity,
    low: Quantity | None = None,
    high: Quantity | None = None,
) -> Verdict:
    """Judge a value with its U (half-width at about 95 %) against one limit, two or none.

    ValueError if the limits cross or U is negative.
    """
    limits = [limit for limit in (low, high) if limit is not None]
    (x, doubt, *numbers), _ = side_by_side(value, uncertainty, *limits)
    if doubt < 0:
        raise ValueError("an uncertainty is never negative")
    bottom = numbers[0] if low is not None else None
    top = numbers[-1] if high is not None else None
    if bottom is not None and top is not None and bottom > top:
        raise ValueError("the lower limit is above the upper one")
    if bottom is None and top is None:
        return Verdict.NO_LIMIT
    if bottom is not None and x < bottom - doubt:
        return Verdict.LOW
    if top is not None and x > top + doubt:
        return Verdict.HIGH
    if (bottom is not None and x < bottom) or (top is not None and x > top):
        return Verdict.OUTSIDE
    proved = (bottom is None or bottom + doubt <= x) and (top is None or x <= top - doubt)
    return Verdict.IN if proved else Verdict.INSIDE


def chance_inside(
    value: Quantity,
    uncertainty: Quantity,
    low: Quantity | None = None,
    high: Quantity | None = None,
) -> float:
    """Return how likely the true value lies within the limits, from 0 to 1.

    Normal about the value with standard uncertainty U/2, nothing known beforehand: JCGM 106
    (from memory).
    """
    limits = [limit for limit in (low, high) if limit is not None]
    (x, doubt, *numbers), _ = side_by_side(value, uncertainty, *limits)
    below = _below(float(numbers[0] - x), float(doubt)) if low is not None else 0.0
    upto = _below(float(numbers[-1] - x), float(doubt), at_limit=1.0) if high is not None else 1.0
    return upto - below


def _below(distance: float, doubt: float, *, at_limit: float = 0.0) -> float:
    """Chance that the true value lies below a limit so far above the value."""
    if doubt == 0:
        return at_limit if distance == 0 else float(distance > 0)
    return 0.5 * (1 + math.erf(distance / (doubt / 2) / math.sqrt(2)))
