"""The gap over a collapsed lifter: a second way to the preload, beside the scratch line.

With the plunger held at the end of its travel, the gap left at the valve's tip is what the rocker
makes of the travel that is left.
"""

import math
from decimal import Decimal

from snugset.trade.exact import side_by_side, tidy
from snugset.trade.fault import FigureError
from snugset.trade.lever import check_ratio
from snugset.trade.reread import THRESHOLD
from snugset.trade.uncertainty import as_doubt
from snugset.trade.verdict import Verdict, decide
from snugset.units import Quantity
from snugset.values import dataclass

GAP_DOUBT = Quantity(Decimal(2), "thou")
"""U of a gap at the valve's tip with the plunger held down. Common practice."""

SCRATCH_DOUBT = Quantity(Decimal("4.6"), "thou")
"""U of one take from a scratch line: ± 4 thou, rectangular. Common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Against:
    """The same valve read from its scratch line."""

    difference: Quantity
    """Scratch reading less this one."""
    doubt: Quantity
    """How far they may differ and still agree."""
    agrees: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Collapsed:
    """One valve, in the unit of the gap."""

    travel_left: Quantity
    preload: Quantity
    """Travel used; negative is the lash over a lifter that is not pressed at all."""
    uncertainty: Quantity
    """U of both."""
    verdict: Verdict
    against: Against | None


def collapsed(
    gap: Quantity,
    ratio: Decimal,
    travel: Quantity,
    *,
    window: tuple[Quantity, Quantity] | None = None,
    uncertainty: Quantity = GAP_DOUBT,
    scratch: Quantity | None = None,
) -> Collapsed:
    """Work out the preload from the gap at the valve's tip: travel − gap/R.

    ``uncertainty`` is U of the gap. The scratch reading agrees within the root sum of squares of
    both doubts, or within .006 in (common practice). No gap is bottomed, by an unknown amount;
    more gap than travel is loose. FigureError (gap, ratio, travel).
    """
    check_ratio(ratio)
    if gap.value < 0:
        raise FigureError("gap", "a gap is never negative; type 0 if no leaf goes in")
    if travel.value <= 0:
        raise FigureError(
            "travel", f"{travel} is no travel; take the plunger's whole travel from its maker"
        )
    (space, whole), shared = side_by_side(gap, travel)
    left, unit = space / ratio, gap.unit
    used = Quantity(whole - left, shared)
    doubt = as_doubt(uncertainty.number("thou") / float(ratio), unit)
    verdict = decide(used, doubt, *(window if window is not None else ()))
    if space == 0:
        verdict = Verdict.BOTTOMED
    elif used.value <= 0:
        verdict = Verdict.LOOSE
    return Collapsed(
        travel_left=_shown(Quantity(left, shared), unit),
        preload=_shown(used, unit),
        uncertainty=doubt,
        verdict=verdict,
        against=_against(scratch, used, doubt, unit) if scratch is not None else None,
    )


def _against(scratch: Quantity, used: Quantity, uncertainty: Quantity, unit: str) -> Against:
    both = math.hypot(uncertainty.number("thou"), SCRATCH_DOUBT.number("thou"))
    doubt = as_doubt(max(both, THRESHOLD.number("thou")), unit)
    (read, reckoned, allowed), shared = side_by_side(scratch, used, doubt)
    return Against(
        difference=_shown(Quantity(read - reckoned, shared), unit),
        doubt=doubt,
        agrees=abs(read - reckoned) <= allowed,
    )


def _shown(quantity: Quantity, unit: str) -> Quantity:
    return Quantity(tidy(quantity.in_(unit), 4, short=8), unit)
