"""The guard on a figure: outside the plausible, and whether a slip of unit explains it."""

from decimal import Decimal

from snugset.units.errors import UnitError, either
from snugset.units.factors import EXACT, plain
from snugset.units.quantity import Band, Quantity
from snugset.units.shown import rounded, short
from snugset.units.written import forms_of

_FACTORS = tuple(Decimal(text) for text in ("12", "25.4", "39.37", "8.85", "1.356", "1000"))
_AGREE = Decimal("0.001")  # the factors are the trade's, with two to four digits
_THOUSAND = Decimal(1000)
_THOUSANDTH = Decimal("0.001")


def _slip(old: str, new: str) -> bool:
    """Tell whether two units differ by one of the factors that are slipped by."""
    ratio = Quantity(Decimal(1), old).in_(new)
    ratio = max(ratio, 1 / ratio)
    return any(abs(ratio / factor - 1) < _AGREE for factor in _FACTORS)


def _inside(quantity: Quantity, band: Band) -> bool:
    low, high = band
    return low.in_(quantity.unit) <= quantity.value <= high.in_(quantity.unit)


def _slips(quantity: Quantity, band: Band) -> dict[str, str]:
    """Give what may have been meant: each text to type, and how it came to what was typed."""
    value, own = quantity.value, quantity.unit
    found: dict[str, str] = {}
    near = [unit for unit in forms_of(quantity.kind) if unit != own and _slip(own, unit)]
    for unit in near:
        meant = Quantity(value, unit)
        if _inside(meant, band):
            found[str(meant)] = f"that is {rounded(meant.to(own))}"
    for unit in () if found else near:
        back = short(Quantity(Quantity(value, own).in_(unit), own))
        if _inside(back, band):
            found[str(back)] = "if it was converted the wrong way"
    if not found:
        for factor in (_THOUSANDTH, _THOUSAND):
            moved = Quantity(plain(EXACT.multiply(value, factor)), own)
            if _inside(moved, band):
                found[str(moved)] = "if the point is three places out"
    return found


def _said(band: Band) -> str:
    low, high = band
    return f"{low.value:f} to {high}" if low.unit == high.unit else f"{low} to {high}"


def check_band(quantity: Quantity, band: Band) -> None:
    """Stop a quantity outside the plausible band, both ends of which are inside.

    UnitError ``factor`` when the number would fit in another unit, or else after a conversion the
    wrong way, by a factor of 12, 25.4, 39.37, 8.85, 1.356 or 1000: both readings are said, and the
    texts to type are suggested. UnitError ``band`` when nothing explains it, ``kind`` when the
    band is of another kind.
    """
    if _inside(quantity, band):
        return
    quantity = short(quantity)
    said = f"{quantity} is outside the plausible {_said(band)}"
    slips = _slips(quantity, band)
    if not slips:
        raise UnitError("band", f"{said}; read the figure and its unit again")
    readings = either(tuple(f"{text} ({how})" for text, how in slips.items()))
    raise UnitError("factor", f"{said}, where {readings} would fit", suggest=tuple(slips))
