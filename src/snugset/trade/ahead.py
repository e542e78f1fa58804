"""What comes next as the crank is turned on: which valve opens or closes, and how far ahead."""

from collections.abc import Mapping
from decimal import Decimal

from snugset.trade.circle import CYCLE, Arc, wrap
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A valve that opens or closes."""

    place: str
    """``3E``."""
    opens: bool
    """By the card with its allowance: it opens here at the earliest, or is closed from here on."""
    ahead: Decimal
    """Degrees on in the running direction, more than 0 and at most 720."""


def next_change(closed: Mapping[str, Arc], crank: Decimal) -> Change | None:
    """Give the nearest end of a closed arc ahead of where the crank stands.

    At the same angle the first of `closed` counts, and opening over closing. None where no valve
    ever changes.
    """
    found: Change | None = None
    for place, arc in closed.items():
        if arc.full or arc.empty:
            continue
        for opens, end in ((True, arc.high), (False, arc.low)):
            ahead = wrap(end - crank) or CYCLE
            if found is None or ahead < found.ahead:
                found = Change(place=place, opens=opens, ahead=ahead)
    return found
