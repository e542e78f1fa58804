"""A shim under the rocker's pedestal in place of a shorter pushrod: it lowers the preload only."""

from collections.abc import Mapping
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from snugset.trade.exact import plain, side_by_side
from snugset.trade.lever import at_pushrod, check_ratio
from snugset.units import Quantity
from snugset.values import dataclass

_GRID = Decimal("0.1")
"""Thicknesses are given to a tenth of a thou, always inside the span that was worked out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """The thicknesses that prove a place inside the window, in thou."""

    low: Quantity
    high: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Shims:
    """The alternative, where it is one."""

    one: Span | None
    """One thickness under every pedestal; None where none proves every place."""
    each: Mapping[str, Span]
    """For each place that is high, a thickness of its own; without those that none proves."""


def shims(
    readings: Mapping[str, Quantity],
    window: tuple[Quantity, Quantity],
    *,
    uncertainty: Quantity | Mapping[str, Quantity],
    ratio: Decimal,
) -> Shims | None:
    """Find the shims that prove high places inside; None where no place is high.

    A place is high where its reading and its U go over the upper limit. A shim s lowers the
    preload by s·(1 + 1/R), so s runs from (reading + U − high)/(1 + 1/R) to
    (reading − U − low)/(1 + 1/R). FigureError (ratio).
    """
    check_ratio(ratio)
    spans: dict[str, tuple[Decimal, Decimal]] = {}
    for place, reading in readings.items():
        doubt = uncertainty if isinstance(uncertainty, Quantity) else uncertainty[place]
        (x, u, low, high), unit = side_by_side(reading, doubt, *window)
        thou = [Quantity(end, unit).in_("thou") for end in (x + u - high, x - u - low)]
        least, most = (end / at_pushrod(Decimal(1), ratio) for end in thou)
        spans[place] = least, most
    high_ones = [place for place, (least, _) in spans.items() if least > 0]
    if not high_ones:
        return None
    common = _span(max(one for one, _ in spans.values()), min(two for _, two in spans.values()))
    each = {place: _span(*spans[place]) for place in high_ones}
    return Shims(one=common, each={place: span for place, span in each.items() if span})


def _span(least: Decimal, most: Decimal) -> Span | None:
    low = least.quantize(_GRID, rounding=ROUND_CEILING)
    high = most.quantize(_GRID, rounding=ROUND_FLOOR)
    if not 0 < low <= high:
        return None
    return Span(low=Quantity(plain(low), "thou"), high=Quantity(plain(high), "thou"))
