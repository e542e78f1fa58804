"""Factors between units, written out: two dozen, each exact, held against a library by a test."""

from collections.abc import Mapping
from decimal import Context, Decimal

EXACT = Context(prec=90)
"""Wide enough that a product of typed figures and factors is exact."""
_RESULT = Context(prec=28)

_M = Decimal(1)
_MM = Decimal("0.001")
_IN = Decimal("0.0254")
_FT = 12 * _IN
_KGF = Decimal("9.80665")
_LBF = EXACT.multiply(Decimal("0.45359237"), _KGF)
_PSI = EXACT.divide(_LBF, _IN * _IN)

SIZES: Mapping[str, Decimal] = {
    "in": _IN, "thou": _IN / 1000, "mm": _MM,
    "lbf·ft": EXACT.multiply(_LBF, _FT), "lbf·in": EXACT.multiply(_LBF, _IN),
    "N·m": _M, "kgf·m": _KGF,
    "deg": Decimal(1), "turn": Decimal(360),
    "s": Decimal(1), "min": Decimal(60), "h": Decimal(3600), "d": Decimal(86400),
    "lbf": _LBF, "N": Decimal(1), "kN": Decimal(1000),
    "psi": _PSI, "ksi": EXACT.multiply(_PSI, Decimal(1000)),
    "kPa": Decimal(1000), "MPa": Decimal(1_000_000),
    "in²": _IN * _IN, "mm²": _MM * _MM,
    "cc": (10 * _MM) ** 3, "in³": _IN**3,
}  # fmt: skip
"""In metres, newtons, seconds and degrees. Exact by definition: inch and pound (NIST SP 811,
App. B.6), standard gravity (CGPM 1901); pound-force and psi follow from them, psi to 90 digits."""


def convert(value: Decimal, old: str, new: str) -> Decimal:
    """Convert between two written forms of one kind.

    Exact where the result has an end within 28 digits (always from in or thou to mm), else rounded
    there; no trailing zeros are left.
    """
    return plain(_RESULT.divide(EXACT.multiply(value, SIZES[old]), SIZES[new]))


def plain(value: Decimal) -> Decimal:
    """Drop trailing zeros, without an exponent above zero and without a negative zero."""
    if not value:
        return Decimal(0)
    value = value.normalize(EXACT)
    exponent = value.as_tuple().exponent
    return value.quantize(Decimal(1), context=EXACT) if int(exponent) > 0 else value
