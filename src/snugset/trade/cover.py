"""Room under the valve cover, from clay on the rockers and the gasket that goes on."""

from decimal import ROUND_CEILING, Decimal

from snugset.trade.exact import plain, side_by_side, tidy
from snugset.trade.fault import FigureError
from snugset.trade.verdict import Verdict, decide
from snugset.typed import Literal
from snugset.units import Quantity
from snugset.values import dataclass

Under = Literal["bare", "laid", "drawn"]
"""How the cover stood when the clay was pressed: on the bare head, on the old gasket laid loose,
or drawn down on it."""

WANT = Quantity(Decimal(60), "thou")
"""Room that is left over the rockers, about. Common practice."""

_ZERO = Decimal(0)
_GRID = Decimal("0.1")


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """Room between rockers and cover, in the unit of the clay."""

    clearance: Quantity | None
    """With the new gasket drawn down; None without one."""
    enough: bool | None
    """Whether that is what is wanted, its doubt aside; None without a new gasket."""
    verdict: Verdict | None
    """Of the clearance against what is wanted; None without U of the clay."""
    gasket: Quantity
    """The thinnest that will do, before it is crushed; 0 if any will."""


def cover(
    clay: Quantity,
    *,
    crush: Decimal,
    under: Under,
    gasket_old: Quantity | None = None,
    gasket_new: Quantity | None = None,
    crush_old: Decimal | None = None,
    want: Quantity = WANT,
    uncertainty: Quantity | None = None,
) -> Cover:
    """Work out clearance = clay + new·(1 − crush) − under, and the gasket that will do.

    ``under`` is nothing if the cover stood bare, the old gasket if it was laid on it, the old
    gasket less its crush if it was drawn down. ``uncertainty`` is U of the clay; the gasket that
    will do proves the clearance with it. FigureError (gasket_old, crush).
    """
    if not 0 <= crush < 1:
        raise FigureError(
            "crush", f"{crush} is no crush; write a part of the thickness, such as 30 %"
        )
    if under != "bare" and gasket_old is None:
        raise FigureError("gasket_old", f"needed with under={under}: the gasket that was under it")
    zero = Quantity(_ZERO, clay.unit)
    old, new = gasket_old or zero, gasket_new or zero
    (pressed, was, fresh, wanted, doubt), unit = side_by_side(
        clay, old, new, want, uncertainty or zero
    )
    lost = crush if crush_old is None else crush_old
    stood = {"bare": _ZERO, "laid": was, "drawn": was * (1 - lost)}[under]
    fitted = gasket_new is not None
    room = pressed + fresh * (1 - crush) - stood
    need = max(_ZERO, (wanted + doubt - pressed + stood) / (1 - crush))
    clearance = Quantity(tidy(Quantity(room, unit).in_(clay.unit), 5), clay.unit)
    verdict = decide(Quantity(room, unit), Quantity(doubt, unit), low=Quantity(wanted, unit))
    return Cover(
        clearance=clearance if fitted else None,
        enough=room >= wanted if fitted else None,
        verdict=verdict if fitted and uncertainty is not None else None,
        gasket=_up(Quantity(need, unit), clay.unit),
    )


def _up(quantity: Quantity, unit: str) -> Quantity:
    """Round up to a tenth of a thou, so that what is given will do."""
    thou = quantity.in_("thou").quantize(_GRID, rounding=ROUND_CEILING)
    return Quantity(plain(Quantity(thou, "thou").in_(unit)), unit)
