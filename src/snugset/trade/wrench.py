"""A torque as it is set on a wrench, and whether that wrench may give it."""

import math
from decimal import Decimal

from snugset.trade.exact import plain, side_by_side, tidy
from snugset.trade.fault import FigureError
from snugset.units import Quantity
from snugset.values import dataclass

FLOOR = Decimal("0.2")
"""Below this part of full scale no accuracy is claimed: TM 1-1500-204-23-9 table 8-1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What to set, in the wrench's own unit where its range is known."""

    setting: Quantity
    usable: tuple[Quantity, Quantity] | None
    """From where to where this wrench may be used; None without a range."""
    in_range: bool | None
    needed: tuple[Quantity, Quantity]
    """A wrench will do whose full scale lies between these."""


def with_adapter(
    torque: Quantity, *, wrench: Quantity, adapter: Quantity, angle: Quantity
) -> Quantity:
    """Work out the setting for a torque given through an adapter: T·L/(L + E·cos α).

    L from the drive to the middle of the grip, E from the drive to the fastener, α from the
    handle's line: 0 straight out, 90° no change, 180° folded back.
    FigureError (adapter) where the fastener would come to lie under or behind the hand.
    """
    (length, offset), _ = side_by_side(wrench, adapter)
    cosine = Decimal(repr(round(math.cos(math.radians(angle.number("deg"))), 12)))
    reach = length + offset * cosine
    if length <= 0:
        raise FigureError(
            "wrench", f"{wrench} is no length; measure from the drive to the middle of the grip"
        )
    if offset < 0:
        raise FigureError(
            "adapter", "an adapter's length is never negative; fold it back by angle=180 deg"
        )
    if reach <= 0:
        raise FigureError(
            "adapter", "it reaches back past the grip; use a shorter one or turn it outward"
        )
    return Quantity(torque.value * length / reach, torque.unit)


def setting(
    torque: Quantity,
    *,
    scale: tuple[Quantity, Quantity] | None = None,
    wrench: Quantity | None = None,
    adapter: Quantity | None = None,
    angle: Quantity | None = None,
    running: Quantity | None = None,
) -> Setting:
    """Work out what to set for a torque and whether the wrench's range allows it.

    ``scale`` is the wrench's range, lowest to highest mark; it may be used from a fifth of full
    scale, and never under its own lowest mark. ``running`` is the torque that a self-locking nut
    takes to run down, added to the torque (AC 43.13-1B §7-40d). A straight extension on the
    drive's axis changes nothing and is no adapter.

    FigureError (torque, wrench, adapter) for what cannot be.
    """
    if torque.value <= 0:
        raise FigureError(
            "torque", f"{torque} is no torque to set; type what the fastener is to get"
        )
    wanted = torque
    if running is not None:
        (base, more), unit = side_by_side(torque, running)
        wanted = Quantity(base + more, unit)
    if adapter is not None and wrench is None:
        raise FigureError(
            "wrench", "an adapter needs the wrench's length, from drive to middle of the grip"
        )
    if adapter is not None and wrench is not None:
        straight = Quantity(Decimal(0), "deg")
        wanted = with_adapter(wanted, wrench=wrench, adapter=adapter, angle=angle or straight)
    unit = scale[1].unit if scale is not None else torque.unit
    usable, fits = None, None
    if scale is not None:
        usable, fits = _usable(scale), _within(wanted, scale)
    shown = _shown(wanted.in_(unit), unit)
    return Setting(
        setting=shown,
        usable=usable,
        in_range=fits,
        needed=(shown, _shown(wanted.in_(unit) / FLOOR, unit)),
    )


def _usable(scale: tuple[Quantity, Quantity]) -> tuple[Quantity, Quantity]:
    (low, high), unit = side_by_side(*scale)
    floor = max(low, plain(high * FLOOR))
    own = scale[1].unit
    return _shown(Quantity(floor, unit).in_(own), own), scale[1]


def _within(wanted: Quantity, scale: tuple[Quantity, Quantity]) -> bool:
    (x, low, high), _ = side_by_side(wanted, *scale)
    return max(low, high * FLOOR) <= x <= high


def _shown(value: Decimal, unit: str) -> Quantity:
    """Keep what was typed; round what a division made to what a scale can be set to."""
    return Quantity(tidy(value, 4, short=6), unit)
