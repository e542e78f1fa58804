"""The builder's own feeler set: the leaves it holds, and which of them make a gap."""

from decimal import Decimal
from functools import lru_cache

from snugset.files.figures import SpecValue
from snugset.guide.ruling import Ruling
from snugset.trade.fault import FigureError
from snugset.trade.stack import closest
from snugset.units import Quantity


def check_owned(takes: tuple[tuple[Quantity, ...], ...], owned: SpecValue, ruling: Ruling) -> None:
    """Stop at a leaf that the set does not hold: a slip of the finger."""
    if not isinstance(owned, tuple):
        return
    have = {leaf.in_("thou") for leaf in owned} | {Decimal(0)}
    strange = [leaf for stack in takes for leaf in stack if leaf.in_("thou") not in have]
    if strange:
        ruling.rule(
            "no-such-leaf",
            f"There is no leaf of {strange[0]} in your set; type the leaves that went in, + "
            f"between them.",
        )


def leaves_for(want: Quantity, owned: SpecValue) -> tuple[str, ...]:
    """Give the leaves of the set that come closest to a gap; nothing without a set."""
    return _leaves_for(want, owned) if isinstance(owned, tuple) else ()


@lru_cache(maxsize=32)
def _leaves_for(want: Quantity, owned: tuple[Quantity, ...]) -> tuple[str, ...]:
    # Of the leaves that are too thick, only the thinnest can be the closest: a set of two wrappers
    # stays small enough to be tried whole.
    wanted = want.in_("thou")
    rising = sorted(owned, key=lambda leaf: leaf.in_("thou"))
    some = rising[: sum(leaf.in_("thou") <= wanted for leaf in rising) + 1]
    try:
        # The fewest leaves count among equals, so that an exact stack of few ends the search.
        for most in (1, 2, 3):
            found = closest(some, want, most=most)
            if found.total.in_("thou") == wanted:
                break
    except FigureError:
        return ()
    leaves = "+".join(f"{leaf.value:f}" for leaf in found.leaves)
    if found.total.in_("thou") == wanted:
        return (f"Leaves for it: {leaves} {found.total.unit}",)
    total = f"{leaves} = {found.total}" if len(found.leaves) > 1 else f"{found.total}"
    return (f"Leaves for it, nearest: {total}",)
