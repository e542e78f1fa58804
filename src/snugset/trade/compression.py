"""Compression ratio and quench, and what a gasket or a cut does to them.

ratio = (V + Vc)/Vc with V = π/4·B²·S and Vc = chamber + gasket + deck + piston. Derived from the
cylinder's geometry.
"""

import math

from snugset.trade.exact import nearest, side_by_side, tidy
from snugset.trade.fault import FigureError
from snugset.units import Quantity
from snugset.values import dataclass, replace


@dataclass(frozen=True, slots=True, kw_only=True)
class Cylinder:
    """One cylinder as it is, or as it would be."""

    bore: Quantity
    stroke: Quantity
    chamber: Quantity
    """Volume of the chamber in the head."""
    gasket_bore: Quantity
    gasket: Quantity
    """Compressed thickness."""
    deck: Quantity
    """From the piston's crown at top dead centre up to the deck; negative stands proud."""
    piston: Quantity
    """Volume of its dish; negative is a dome."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Compression:
    """What a cylinder comes to."""

    swept: Quantity
    clearance: Quantity
    """Volume left at top dead centre."""
    ratio: Quantity
    quench: Quantity
    """Piston to head at top dead centre, in the unit of the gasket."""


def compression(cylinder: Cylinder) -> Compression:
    """Work out volumes in cc, ratio and quench.

    FigureError (bore, stroke, gasket, gasket_bore, deck, piston) for what cannot be.
    """
    _check(cylinder)
    swept = _disc(cylinder.bore, cylinder.stroke)
    left = (
        cylinder.chamber.number("cc")
        + _disc(cylinder.gasket_bore, cylinder.gasket)
        + _disc(cylinder.bore, cylinder.deck)
        + cylinder.piston.number("cc")
    )
    if left <= 0:
        raise FigureError(
            "piston", "nothing is left at top dead centre; a dish is positive, a dome negative"
        )
    (deck, gasket), unit = side_by_side(cylinder.deck, cylinder.gasket)
    quench = Quantity(deck + gasket, unit)
    if quench.value <= 0:
        raise FigureError(
            "deck",
            f"the piston stands {cylinder.deck} from the deck and the gasket is {cylinder.gasket}:"
            " it would touch the head; negative is proud of the deck",
        )
    return Compression(
        swept=nearest(swept, "cc"),
        clearance=nearest(left, "cc"),
        ratio=nearest((swept + left) / left, "", 4),
        quench=Quantity(tidy(quench.in_(cylinder.gasket.unit), 5), cylinder.gasket.unit),
    )


def changed(
    cylinder: Cylinder,
    *,
    gasket: Quantity | None = None,
    mill: Quantity | None = None,
    face: Quantity | None = None,
    deck_cut: Quantity | None = None,
) -> Cylinder:
    """Give the cylinder with another gasket, a cut off the head, a cut off the block.

    ``face`` is the area of the chamber's mouth in the head's face, of which the cut takes a slice.
    FigureError (face, mill) for what cannot be.
    """
    after = cylinder if gasket is None else replace(cylinder, gasket=gasket)
    if deck_cut is not None:
        (deck, cut), unit = side_by_side(after.deck, deck_cut)
        after = replace(after, deck=Quantity(deck - cut, unit))
    if mill is not None:
        if face is None:
            raise FigureError(
                "face", "needed with mill: the area of the chamber's mouth, such as 11 in²"
            )
        less = face.number("mm²") * mill.number("mm") / 1000
        left = cylinder.chamber.number("cc") - less
        if left < 0:
            raise FigureError(
                "mill", f"a cut of {mill} would take more than the chamber; check both units"
            )
        after = replace(after, chamber=nearest(left, "cc", 6))
    return after


def _check(cylinder: Cylinder) -> None:
    for key, size in (
        ("bore", cylinder.bore),
        ("stroke", cylinder.stroke),
        ("gasket", cylinder.gasket),
    ):
        if size.value <= 0:
            raise FigureError(key, f"{size} is no size; give more than 0")
    if cylinder.gasket_bore.in_("mm") < cylinder.bore.in_("mm"):
        raise FigureError(
            "gasket_bore",
            f"{cylinder.gasket_bore} would stand into a bore of {cylinder.bore}; check both",
        )


def _disc(diameter: Quantity, height: Quantity) -> float:
    """Volume in cc of a round slice."""
    return math.pi / 4 * diameter.number("mm") ** 2 * height.number("mm") / 1000
