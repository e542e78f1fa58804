"""Hydraulic-lifter preload read as a gap with feeler leaves: its mean, its doubt, its verdict."""

from collections.abc import Sequence
from decimal import Decimal

from snugset.trade import uncertainty
from snugset.trade.exact import plain, side_by_side, tidy
from snugset.trade.fault import FigureError
from snugset.trade.verdict import Verdict, decide
from snugset.typed import Literal
from snugset.units import Quantity
from snugset.values import dataclass

Lifter = Literal["dry", "filled", "bled"]
"""Dry reads at once; filled is provisional until it has bled down; bled has."""

REPEATABILITY = Quantity(Decimal(4), "thou")
"""Scratch width, straightedge not put back in place, slanted view: ± this, rectangular.

Common practice.
"""

SATURATION = Quantity(Decimal(10), "thou")
"""A plunger this near the end of its travel counts as bottomed. Common practice."""

MOST_LEAVES = 3
"""Leaves in a stack; more trap oil and air and read thick. Common practice."""

ENOUGH_TAKES = 3
"""After so many takes no further one is asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Preload:
    """One valve's preload, in the unit of its first take."""

    takes: tuple[Quantity, ...]
    """Each take: the sum of its leaves."""
    mean: Quantity
    uncertainty: Quantity
    """U of the mean; says nothing of a loose or bottomed lifter."""
    verdict: Verdict
    share: Decimal | None
    """The mean as a part of the plunger's whole travel, 0 to 1; None without a travel."""
    change: Quantity | None
    """What a pushrod must be longer by to come to the target; negative is shorter."""
    spread: Quantity
    """Largest take less smallest."""
    another_take: bool
    """Whether the takes disagree by more than the repeatability and a third would settle it."""
    most_leaves: int
    """Leaves in the tallest stack."""
    provisional: bool
    """Whether the lifter is still full of oil: the plunger may yet sink."""

    @property
    def too_many_leaves(self) -> bool:
        """Whether a stack is of more leaves than read true."""
        return self.most_leaves > MOST_LEAVES


def preload(
    takes: Sequence[Sequence[Quantity]],
    *,
    window: tuple[Quantity, Quantity] | None = None,
    target: Quantity | None = None,
    travel: Quantity | None = None,
    repeatability: Quantity = REPEATABILITY,
    leaf_tolerance: Quantity | None = None,
    lifter: Lifter = "dry",
    doubt: Quantity | None = None,
) -> Preload:
    """Work out one valve's preload from its takes, each a stack of feeler leaves.

    ``doubt`` is U of the mean where it is known better than from the stated repeatability (from
    the round's own pairs). No gap at all in any take is loose, a gap within .010 in of the whole
    travel is bottomed: neither is a measurement.

    FigureError (takes, window, travel) for what cannot be.
    """
    _check(takes, window, travel)
    unit = takes[0][0].unit
    exact, shared = side_by_side(*(leaf for stack in takes for leaf in stack))
    leaves = iter(exact)
    sums = [sum((next(leaves) for _ in stack), Decimal(0)) for stack in takes]
    mean = Quantity(sum(sums, Decimal(0)) / len(sums), shared)
    spread = Quantity(max(sums) - min(sums), shared)
    (apart, allowed), _ = side_by_side(spread, repeatability)
    most = max(len(stack) for stack in takes)
    totals = tuple(_in_unit(Quantity(total, shared), unit) for total in sums)
    if doubt is None:
        doubt = uncertainty.of_mean(
            totals, repeatability=repeatability, leaf_tolerance=leaf_tolerance, leaves=most
        )
    low, high = window if window is not None else (None, None)
    return Preload(
        takes=totals,
        mean=_in_unit(mean, unit),
        uncertainty=doubt,
        verdict=_saturated(sums, shared, travel) or decide(mean, doubt, low, high),
        share=_share(mean, travel),
        change=_change(mean, target, unit),
        spread=_in_unit(spread, unit),
        another_take=apart > allowed and len(takes) < ENOUGH_TAKES,
        most_leaves=most,
        provisional=lifter == "filled",
    )


def _check(
    takes: Sequence[Sequence[Quantity]],
    window: tuple[Quantity, Quantity] | None,
    travel: Quantity | None,
) -> None:
    if not takes or not all(takes):
        raise FigureError(
            "takes", "no leaf given; type the leaves that fitted, such as 17+18, or 0 for none"
        )
    if any(leaf.value < 0 for stack in takes for leaf in stack):
        raise FigureError("takes", "a gap is never negative; type 0 if no leaf goes in")
    if travel is None:
        return
    if travel.value <= 0:
        raise FigureError(
            "travel", f"{travel} is no travel; type the lifter's whole plunger travel"
        )
    if window is not None:
        (high, whole), _ = side_by_side(window[1], travel)
        if high > whole:
            raise FigureError(
                "window",
                f"its upper limit of {window[1]} is beyond the lifter's whole travel of {travel};"
                " check both figures",
            )


def _saturated(sums: list[Decimal], unit: str, travel: Quantity | None) -> Verdict | None:
    """Tell a lifter at either end of its travel: then the gap is only a bound."""
    if min(sums) == 0:
        return Verdict.LOOSE
    if travel is None:
        return None
    (highest, whole, margin), _ = side_by_side(Quantity(max(sums), unit), travel, SATURATION)
    return Verdict.BOTTOMED if highest >= whole - margin else None


def _share(mean: Quantity, travel: Quantity | None) -> Decimal | None:
    if travel is None:
        return None
    (x, whole), _ = side_by_side(mean, travel)
    return plain((x / whole).quantize(Decimal("0.01")))


def _change(mean: Quantity, target: Quantity | None, unit: str) -> Quantity | None:
    if target is None:
        return None
    (wanted, x), shared = side_by_side(target, mean)
    return _in_unit(Quantity(wanted - x, shared), unit)


def _in_unit(quantity: Quantity, unit: str) -> Quantity:
    return Quantity(tidy(quantity.in_(unit)), unit)
