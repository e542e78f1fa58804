"""Feeler leaves put together from the set that is owned."""

from collections.abc import Sequence
from decimal import Decimal
from itertools import combinations

from snugset.trade.exact import shown_as, side_by_side
from snugset.trade.fault import FigureError
from snugset.units import Quantity
from snugset.values import dataclass

LARGEST_SET = 60
"""Leaves that a set may hold."""
_FOUR_OF = 40
"""Leaves of a set of which stacks of four are still tried: of more they are too many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """Leaves to put together, thickest first, in the unit of the leaf set."""

    leaves: tuple[Quantity, ...]
    total: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class GoNoGo:
    """Two stacks that prove a gap inside a window: one must go in, the other must refuse."""

    go: Stack
    """The thinnest stack not under the lower limit."""
    no_go: Stack
    """The thickest stack not over the upper limit."""


def closest(leaves: Sequence[Quantity], want: Quantity, *, most: int = 3) -> Stack:
    """Find the leaves whose sum comes closest to what is wanted.

    Among equals the fewest, then the thinner sum, then the stack whose thinnest leaf is thickest:
    a thin leaf kinks.

    FigureError (leaves, most) for no leaves, too many, or a stack of none.
    """
    choices, wanted, unit = _choices(leaves, (want,), most)
    chosen = min(
        choices, key=lambda some: (abs(sum(some) - wanted[0]), len(some), sum(some), -min(some))
    )
    return _stack(chosen, unit, leaves[0].unit)


def go_no_go(leaves: Sequence[Quantity], low: Quantity, high: Quantity, *, most: int = 3) -> GoNoGo:
    """Find the stacks that gauge a window; FigureError (window) if the set has none between."""
    choices, (bottom, top), unit = _choices(leaves, (low, high), most)
    between = [some for some in choices if bottom <= sum(some) <= top]
    if not between:
        raise FigureError(
            "window", f"no stack of these leaves lies between {low} and {high}; add leaves"
        )
    go = min(between, key=lambda some: (sum(some), len(some), -min(some)))
    no_go = min(between, key=lambda some: (-sum(some), len(some), -min(some)))
    if sum(go) == sum(no_go):
        raise FigureError(
            "window", f"only one stack lies between {low} and {high}; add leaves to gauge both"
        )
    owned = leaves[0].unit
    return GoNoGo(go=_stack(go, unit, owned), no_go=_stack(no_go, unit, owned))


def _choices(
    leaves: Sequence[Quantity], wanted: tuple[Quantity, ...], most: int
) -> tuple[list[tuple[Decimal, ...]], tuple[Decimal, ...], str]:
    """Every stack that the set can make, with what is wanted, in one unit."""
    if not 1 <= len(leaves) <= LARGEST_SET:
        raise FigureError(
            "leaves", f"{len(leaves)} leaves; give the set you own, 1 to {LARGEST_SET} leaves"
        )
    if any(leaf.value <= 0 for leaf in leaves):
        raise FigureError("leaves", "a leaf has a thickness; leave out the zero")
    if not 1 <= most <= 4:
        raise FigureError("most", f"{most} leaves to a stack; 1 to 4 can be handled, 3 is usual")
    if most > 3 and len(leaves) > _FOUR_OF:
        raise FigureError("most", f"{most} of {len(leaves)} leaves are too many stacks; 3 is usual")
    values, unit = side_by_side(*leaves, *wanted)
    owned = sorted(values[: len(leaves)], reverse=True)
    choices = [some for count in range(1, most + 1) for some in combinations(owned, count)]
    return choices, values[len(leaves) :], unit


def _stack(chosen: tuple[Decimal, ...], unit: str, owned: str) -> Stack:
    return Stack(
        leaves=tuple(shown_as(Quantity(leaf, unit), owned) for leaf in chosen),
        total=shown_as(Quantity(sum(chosen, Decimal(0)), unit), owned),
    )
