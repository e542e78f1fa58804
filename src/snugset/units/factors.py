"""Factors between units: our own short list of definitions, read by pint on first use."""

from collections.abc import Mapping
from decimal import Context, Decimal
from functools import cache

# Base: metre, newton, second, degree. Exact by definition: inch and pound (NIST SP 811, App. B.6),
# standard gravity (CGPM 1901); the pound-force and psi follow from them.
_DEFINITIONS = """
metre = [length]
newton = [force]
second = [time]
degree = [angle]
millimetre = 0.001 * metre
inch = 0.0254 * metre
thou = 0.001 * inch
foot = 12 * inch
kilonewton = 1000 * newton
pound_force = 0.45359237 * 9.80665 * newton
kilogram_force = 9.80665 * newton
turn = 360 * degree
minute = 60 * second
hour = 60 * minute
day = 24 * hour
kilopascal = 1000 * newton / metre ** 2
megapascal = 1000 * kilopascal
psi = pound_force / inch ** 2
ksi = 1000 * psi
""".strip().splitlines()

_NAMES = {
    "in": "inch", "thou": "thou", "mm": "millimetre",
    "lbf·ft": "pound_force * foot", "lbf·in": "pound_force * inch",
    "N·m": "newton * metre", "kgf·m": "kilogram_force * metre",
    "deg": "degree", "turn": "turn",
    "s": "second", "min": "minute", "h": "hour", "d": "day",
    "lbf": "pound_force", "N": "newton", "kN": "kilonewton",
    "psi": "psi", "ksi": "ksi", "kPa": "kilopascal", "MPa": "megapascal",
    "in²": "inch ** 2", "mm²": "millimetre ** 2",
    "cc": "1000 * millimetre ** 3", "in³": "inch ** 3",
}  # fmt: skip

_KNOWN: Mapping[str, tuple[str, Decimal]] = {
    "s": ("s", Decimal(1)),
    "min": ("s", Decimal(60)),
    "h": ("s", Decimal(3600)),
    "d": ("s", Decimal(86400)),
    "thou": ("mm", Decimal("0.0254")),
    "in": ("mm", Decimal("25.4")),
    "mm": ("mm", Decimal(1)),
    "deg": ("deg", Decimal(1)),
    "turn": ("deg", Decimal(360)),
    "N·m": ("N·m", Decimal(1)),
    "kgf·m": ("N·m", Decimal("9.80665")),
    "lbf·in": ("N·m", Decimal("0.1129848290276167")),
    "lbf·ft": ("N·m", Decimal("1.3558179483314004")),
}
"""Exact, by the definitions above: of the units that a build is opened with, so that its first
prompt need not wait for the library. A test holds each against it."""

EXACT = Context(prec=90)
"""Wide enough that a product of typed figures and factors is exact."""
_RESULT = Context(prec=28)
_NONE = ("", Decimal(1))


@cache
def _sizes() -> dict[str, Decimal]:
    import pint  # noqa: PLC0415  # a sixth of a second, paid on first use and not at start

    registry: pint.UnitRegistry[Decimal] = pint.UnitRegistry(None, non_int_type=Decimal)
    registry.load_definitions(_DEFINITIONS)
    return {
        form: Decimal(registry.parse_expression(name).to_base_units().magnitude)
        for form, name in _NAMES.items()
    }


def prepare() -> None:
    """Load the factors now, so that no key waits for them; safe in any thread."""
    _sizes()


def convert(value: Decimal, old: str, new: str) -> Decimal:
    """Convert between two written forms of one kind.

    Exact where the result has an end within 28 digits (always from in or thou to mm), else rounded
    there; no trailing zeros are left.
    """
    (one, old_size), (other, new_size) = _KNOWN.get(old, _NONE), _KNOWN.get(new, _NONE)
    if not one or one != other:
        sizes = _sizes()
        old_size, new_size = sizes[old], sizes[new]
    return plain(_RESULT.divide(EXACT.multiply(value, old_size), new_size))


def plain(value: Decimal) -> Decimal:
    """Drop trailing zeros, without an exponent above zero and without a negative zero."""
    if not value:
        return Decimal(0)
    value = value.normalize(EXACT)
    exponent = value.as_tuple().exponent
    return value.quantize(Decimal(1), context=EXACT) if int(exponent) > 0 else value
