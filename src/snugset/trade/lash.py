"""Solid-lifter lash: the cold setting that comes to the book's hot one, and back."""

import math
from collections.abc import Mapping
from decimal import Decimal

from snugset.trade.exact import side_by_side, tidy
from snugset.trade.fault import FigureError
from snugset.trade.uncertainty import as_doubt
from snugset.typed import Literal
from snugset.units import Quantity
from snugset.values import dataclass

Metal = Literal["iron", "aluminium"]

USUAL: Mapping[tuple[Metal, Metal], Decimal] = {
    ("iron", "iron"): Decimal(2),
    ("iron", "aluminium"): Decimal(-6),
    ("aluminium", "aluminium"): Decimal(-12),
}
"""Thou that a cold setting is more than the hot one, by block and head. Trade press; common
practice: a starting point."""

USUAL_DOUBT = Quantity(Decimal(3), "thou")
"""U of the usual difference: half the step of 6 thou between its rows. Common practice."""

READING = Quantity(Decimal(1), "thou")
"""U of one lash read go and no-go: the leaf that drags and the next that refuses. Common
practice."""

LOCKNUT = Quantity(Decimal(1), "thou")
"""What tightening the locknut opens a lash by, about. Common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """Cold less hot."""

    size: Quantity
    uncertainty: Quantity


def usual(block: Metal, head: Metal) -> Difference:
    """Give the usual difference for the metals; FigureError (head) where there is none."""
    if (block, head) not in USUAL:
        raise FigureError(
            "head",
            f"there is no usual difference for {head} on {block}; measure a pair hot and cold and"
            " give pair_hot and pair_cold",
        )
    return Difference(size=Quantity(USUAL[block, head], "thou"), uncertainty=USUAL_DOUBT)


def measured(hot: Quantity, cold: Quantity, *, uncertainty: Quantity = READING) -> Difference:
    """Give the difference that one valve showed, read hot and then cold: U·√2."""
    (before, after), unit = side_by_side(hot, cold)
    return Difference(
        size=Quantity(tidy(Quantity(after - before, unit).in_(hot.unit)), hot.unit),
        uncertainty=as_doubt(uncertainty.number("thou") * math.sqrt(2), hot.unit),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Lash:
    """The setting asked for, in the unit of the one given."""

    setting: Quantity
    uncertainty: Quantity


def cold_for(hot: Quantity, difference: Difference) -> Lash:
    """Give the cold setting: hot + difference. FigureError (hot) where none is left."""
    return _moved("hot", hot, difference, 1)


def hot_for(cold: Quantity, difference: Difference) -> Lash:
    """Give the hot lash that a cold setting comes to. FigureError (cold) where none is left."""
    return _moved("cold", cold, difference, -1)


def _moved(key: str, given: Quantity, difference: Difference, sign: int) -> Lash:
    (start, by), unit = side_by_side(given, difference.size)
    found = start + sign * by
    if found <= 0:
        raise FigureError(
            key,
            f"{given} would leave no lash: the valve would be held open; read the figure again, or"
            " measure a pair hot and cold",
        )
    return Lash(
        setting=Quantity(tidy(Quantity(found, unit).in_(given.unit)), given.unit),
        uncertainty=as_doubt(difference.uncertainty.number("thou"), given.unit),
    )
