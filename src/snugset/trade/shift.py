"""What machining, gaskets, shims and heat do to the preload of a hydraulic lifter.

Whatever brings the rocker nearer to the block presses the plunger further down.
"""

from collections.abc import Mapping
from decimal import Decimal

from snugset.trade.exact import side_by_side, tidy
from snugset.trade.fault import FigureError
from snugset.trade.lever import at_pushrod, check_ratio
from snugset.typed import Literal
from snugset.units import Quantity
from snugset.values import dataclass

Change = Literal[
    "mill",  # cut off the head
    "deck",  # cut off the block
    "gasket_old",  # compressed thickness before
    "gasket_new",  # and after
    "shim",  # put under the rocker's pedestal
    "tip",  # how much higher the valve's tip stands
    "base_radius",  # how much smaller the base circle's radius is: half the change of its diameter
    "growth",  # lash gained at the valve when the head grows hot more than the pushrods do
]
"""What was done; a negative amount is the other way."""

_ACTS: Mapping[Change, tuple[str, str]] = {
    "mill": ("+", "{0}"),
    "deck": ("+", "{0}"),
    "gasket_old": ("+", "{0}"),
    "gasket_new": ("−", "{0}"),
    "shim": ("−", "{0}·(1 + 1/{1})"),
    "tip": ("+", "{0}/{1}"),
    "base_radius": ("−", "{0}"),
    "growth": ("−", "{0}/{1}"),
}
"""Whether each adds to the preload or takes from it, and by how much. Derived here."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """Everything together: in mm where the first change is, else in thou."""

    preload: Quantity
    """Change of preload; positive presses the plunger further down."""
    length: Quantity
    """Change of pushrod length that cancels it; negative is shorter."""
    sum: str
    """How it comes to that, with the numbers: ``40 + 55 − 40 = 55 thou``."""


def shift(changes: Mapping[Change, Quantity], ratio: Decimal | None = None) -> Shift:
    """Add up the changes: mill + deck + old − new − shim·(1 + 1/R) + tip/R − radius − growth/R.

    FigureError (mill, gasket_old, gasket_new, ratio).
    """
    _check(changes, ratio)
    values, unit = side_by_side(*changes.values())
    shown = "mm" if next(iter(changes.values())).unit == "mm" else "thou"
    total, said = Decimal(0), ""
    for change, value in zip(changes, values, strict=True):
        sign, how = _ACTS[change]
        moved = _moved(how, value, ratio)
        total += moved if sign == "+" else -moved
        number = _shown(value, unit, shown).value
        told = how.format(number if number >= 0 else f"({number})", ratio)
        said += f" {sign} {told}" if said or sign == "−" else told
    whole, said = _shown(total, unit, shown), said.strip()
    return Shift(
        preload=whole,
        length=_shown(-total, unit, shown),
        sum=f"{whole}" if said == f"{whole.value}" else f"{said} = {whole}",
    )


def _check(changes: Mapping[Change, Quantity], ratio: Decimal | None) -> None:
    if not changes:
        raise FigureError("mill", "nothing has changed; give what has, such as mill=0.040 in")
    if ratio is not None:
        check_ratio(ratio)
    for change in changes:
        if "{1}" in _ACTS[change][1] and ratio is None:
            raise FigureError(
                "ratio", f"needed with {change}, which acts through the rocker; such as 1.6"
            )
    gaskets: tuple[tuple[Change, Change], ...] = (
        ("gasket_old", "gasket_new"),
        ("gasket_new", "gasket_old"),
    )
    for one, other in gaskets:
        if one in changes and other not in changes:
            raise FigureError(other, f"needed with {one}: it is their difference that counts")


def _moved(how: str, value: Decimal, ratio: Decimal | None) -> Decimal:
    if ratio is None or how == "{0}":
        return value
    return value / ratio if how == "{0}/{1}" else at_pushrod(value, ratio)


def _shown(value: Decimal, unit: str, shown: str) -> Quantity:
    return Quantity(tidy(Quantity(value, unit).in_(shown), 5, short=8), shown)
