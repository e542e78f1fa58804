"""The rocker as a lever: what happens at one end, seen at the other."""

from decimal import Decimal

from snugset.trade.fault import FigureError

_LEAST, _MOST = Decimal("0.5"), Decimal(3)


def check_ratio(ratio: Decimal) -> None:
    """Refuse what no rocker has; FigureError (ratio)."""
    if not _LEAST <= ratio <= _MOST:
        raise FigureError(
            "ratio", f"{ratio} is no rocker ratio; they run from about 1 to 2, such as 1.6"
        )


def at_pushrod(pivot: Decimal, ratio: Decimal) -> Decimal:
    """How far the pushrod's end moves when the pivot does: pivot·(1 + 1/R).

    The rocker swings on the closed valve's tip. Derived from the rocker as a lever.
    """
    return pivot + pivot / ratio
