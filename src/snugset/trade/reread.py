"""A reading after new pushrods against what was predicted."""

import math
from collections.abc import Mapping
from decimal import Decimal

from snugset.trade.exact import median, shown_as, side_by_side
from snugset.trade.uncertainty import as_doubt
from snugset.typed import Literal
from snugset.units import Quantity
from snugset.values import dataclass

Flag = Literal["agrees", "off", "old"]
"""old: the reading is the one from before, so the old pushrod is still in."""
RoundFlag = Literal["agrees", "off", "old", "all-off-alike"]

THRESHOLD = Quantity(Decimal(6), "thou")
"""A re-reading further than this off its prediction is looked into. Common practice."""

FEWEST_ALIKE = 3
"""Places from which "all alike" means anything."""

LOOK_FIRST: Mapping[RoundFlag, str] = {
    "agrees": "",
    "off": "take it again; then the pushrod's length, and whether it sits in lifter and rocker",
    "old": "the old pushrod is still in: pull it and measure its length",
    "all-off-alike": "one cause for all: the new length and how it is measured (overall, over the "
    "oil-hole ends, gauge length), then the gasket's thickness",
}
"""What to look at first, by flag."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reread:
    """One place measured again, in the unit it was read in before."""

    predicted: Quantity
    """Reading before plus change of length."""
    difference: Quantity
    """Reading after less predicted."""
    doubt: Quantity
    """How far it may differ and still agree."""
    flag: Flag


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """Every place measured again."""

    places: Mapping[str, Reread]
    flag: RoundFlag
    """The worst of the places, or the one cause that they share."""


def reread(
    before: Quantity,
    change: Quantity,
    after: Quantity,
    uncertainty: Quantity,
    *,
    tolerance: Quantity | None = None,
) -> Reread:
    """Compare one re-reading with its prediction.

    Both readings carry U and the new pushrod its tolerance; what is within their root sum of
    squares, or within .006 in, agrees. Where the reading is nearer to the old one than to the
    prediction, and agrees with the old one, the old pushrod is still in.
    """
    unit, each = before.unit, uncertainty.number("thou")
    slack = tolerance.number("thou") if tolerance is not None else 0.0
    doubt = as_doubt(max(math.hypot(each, each, slack), THRESHOLD.number("thou")), unit)
    (was, by, now, allowed), shared = side_by_side(before, change, after, doubt)
    predicted = was + by
    off, still = abs(now - predicted), abs(now - was)
    flag: Flag = "agrees" if off <= allowed else "off"
    if abs(by) > allowed and still <= allowed and still < off:
        flag = "old"
    return Reread(
        predicted=shown_as(Quantity(predicted, shared), unit),
        difference=shown_as(Quantity(now - predicted, shared), unit),
        doubt=doubt,
        flag=flag,
    )


def reread_round(
    readings: Mapping[str, tuple[Quantity, Quantity, Quantity]],
    uncertainty: Quantity,
    *,
    tolerance: Quantity | None = None,
) -> Round:
    """Compare a round, place by place: (before, change, after) of each.

    Places all off by the same amount, within the doubt, have one cause; a place with its old
    pushrod still in is told apart from them.
    """
    places = {
        place: reread(before, change, after, uncertainty, tolerance=tolerance)
        for place, (before, change, after) in readings.items()
    }
    fresh = [found for found in places.values() if found.flag != "old"]
    flag: RoundFlag = "agrees"
    if len(fresh) >= FEWEST_ALIKE and _alike(fresh):
        flag = "all-off-alike"
    elif any(found.flag == "old" for found in places.values()):
        flag = "old"
    elif any(found.flag == "off" for found in places.values()):
        flag = "off"
    return Round(places=places, flag=flag)


def _alike(found: list[Reread]) -> bool:
    """Whether every place is off the same way by nearly the same."""
    differences = [one.difference.in_("thou") for one in found]
    middle = median(differences)
    return abs(middle) > THRESHOLD.value and all(
        abs(difference - middle) <= one.doubt.in_("thou")
        for difference, one in zip(differences, found, strict=True)
    )
