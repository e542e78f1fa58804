"""How far a reading can be wrong, and what that makes of a mean.

U is the half-width at about 95 %: two standard uncertainties, or Student's t of them where they
come from few repeats. Combination by root sum of squares: JCGM 100 (from memory).
"""

import math
from bisect import bisect_right
from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

from snugset.trade.exact import plain
from snugset.units import Quantity
from snugset.values import dataclass

STUDENT: dict[int, float] = {
    1: 12.706, 2: 4.303, 3: 3.182, 4: 2.776, 5: 2.571, 6: 2.447, 7: 2.365, 8: 2.306, 9: 2.262,
    10: 2.228, 11: 2.201, 12: 2.179, 13: 2.160, 14: 2.145, 15: 2.131, 16: 2.120, 17: 2.110,
    18: 2.101, 19: 2.093, 20: 2.086, 21: 2.080, 22: 2.074, 23: 2.069, 24: 2.064, 25: 2.060,
    26: 2.056, 27: 2.052, 28: 2.048, 29: 2.045, 30: 2.042, 40: 2.021, 50: 2.009, 60: 2.000,
    80: 1.990, 100: 1.984,
}  # fmt: skip
"""Student's t, two-sided 95 %, by degrees of freedom. NIST/SEMATECH e-Handbook 1.3.6.7.2."""

ENOUGH_PAIRS = 6
"""Pairs of takes from which a round's own repeatability is worth more than the stated one."""

_GRID = Decimal("0.1")
"""U of a length is given to a tenth of a thou: shown and used alike."""


def student(freedom: float) -> float:
    """Return Student's t for 95 % at so many degrees of freedom.

    Between the rows of the table the lower row holds, which errs on the wide side; past 100, the
    last row. ValueError below one.
    """
    if freedom < 1:
        raise ValueError("Student's t needs at least one degree of freedom: two readings")
    rows = list(STUDENT)
    return STUDENT[rows[bisect_right(rows, freedom) - 1]]


def rectangular(half_width: float) -> float:
    """Give the standard uncertainty of an error that lies anywhere within ± half_width."""
    return half_width / math.sqrt(3)


def triangular(half_width: float) -> float:
    """Give the standard uncertainty of an error within ± half_width, likelier small."""
    return half_width / math.sqrt(6)


def combine(*parts: float) -> float:
    """Root sum of squares of independent parts."""
    return math.hypot(*parts)


def leaves_term(tolerance: float, leaves: int) -> float:
    """Give the standard uncertainty of a stack: each leaf within ± tolerance, its own way.

    The same leaves serve every take, so a mean of takes does not make it smaller.
    """
    return rectangular(tolerance) * math.sqrt(leaves)


def as_doubt(thou: float, unit: str) -> Quantity:
    """Give U, a number of thou, to a tenth of a thou and in the unit of its reading."""
    rounded = Decimal(repr(thou)).quantize(_GRID, rounding=ROUND_HALF_UP)
    return Quantity(plain(Quantity(rounded, "thou").in_(unit)), unit)


def of_mean(
    takes: Sequence[Quantity],
    *,
    repeatability: Quantity,
    leaf_tolerance: Quantity | None = None,
    leaves: int = 1,
) -> Quantity:
    """U of the mean of takes of one gap, from the stated repeatability of one take.

    The repeatability is a rectangular half-width and shrinks with the root of the number of takes.
    Takes further apart than that allows show that it does not hold here: half their spread is then
    the half-width, and the mean is trusted no better than that.
    """
    thou = [take.number("thou") for take in takes]
    stated = rectangular(repeatability.number("thou")) / math.sqrt(len(thou))
    shown = rectangular((max(thou) - min(thou)) / 2)
    tolerance = leaf_tolerance.number("thou") if leaf_tolerance is not None else 0.0
    u = combine(max(stated, shown), leaves_term(tolerance, leaves))
    return as_doubt(2 * u, takes[0].unit)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pooled:
    """The repeatability that a round's own pairs of takes show."""

    deviation: float
    """Standard deviation of one take, thou: s = √(Σd²/2m)."""
    freedom: int
    """Degrees of freedom: the number of pairs m."""


def pool(pairs: Sequence[tuple[Quantity, Quantity]]) -> Pooled | None:
    """Pool the pairs of takes of a round; None under six pairs, when the stated figure is better.

    One pair alone would say next to nothing: two takes 1 thou apart give t·s/√2 = 6.4 thou.
    """
    if len(pairs) < ENOUGH_PAIRS:
        return None
    squares = sum((one.number("thou") - two.number("thou")) ** 2 for one, two in pairs)
    return Pooled(deviation=math.sqrt(squares / (2 * len(pairs))), freedom=len(pairs))


def of_pair(
    pooled: Pooled,
    *,
    line: Quantity | None = None,
    leaf_tolerance: Quantity | None = None,
    leaves: int = 1,
    unit: str = "thou",
) -> Quantity:
    """U of the mean of two takes from pooled pairs: t·s/√2 with the terms both takes share.

    The line is the rectangular half-width of what is the same in both takes: the scratch's own
    width, the slant of the view.
    """
    repeat = student(pooled.freedom) * pooled.deviation / math.sqrt(2)
    shared = rectangular(line.number("thou")) if line is not None else 0.0
    tolerance = leaf_tolerance.number("thou") if leaf_tolerance is not None else 0.0
    return as_doubt(combine(repeat, 2 * shared, 2 * leaves_term(tolerance, leaves)), unit)
