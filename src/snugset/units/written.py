"""The written forms of units, and the many ways people type them."""

import re
from collections.abc import Iterator, Mapping
from functools import cache
from itertools import product
from types import MappingProxyType

from snugset.units.errors import UnitError, either, quoted

UNITS: Mapping[str, str] = MappingProxyType(
    {
        "in": "length", "thou": "length", "mm": "length",
        "lbf·ft": "torque", "lbf·in": "torque", "N·m": "torque", "kgf·m": "torque",
        "deg": "angle", "turn": "angle",
        "s": "time", "min": "time", "h": "time", "d": "time",
        "lbf": "force", "N": "force", "kN": "force",
        "psi": "pressure", "ksi": "pressure", "kPa": "pressure", "MPa": "pressure",
        "in²": "area", "mm²": "area",
        "cc": "volume", "in³": "volume",
        "": "number",
    }
)  # fmt: skip
"""Each written form and its kind; the empty form is a pure number."""

EXAMPLES: Mapping[str, str] = MappingProxyType(
    {
        "length": "35 thou", "torque": "22 lbf·ft", "angle": "90 deg", "time": "20 min",
        "force": "1275 lbf", "pressure": "85 ksi", "area": "0.0878 in²", "volume": "45 cc",
        "number": "1.6",
    }
)  # fmt: skip
"""A figure of each kind as it is typed, for messages."""

# Words in small letters, joined by one dot where they are typed with anything between them.
_PLAIN = {
    "in": "in inch inches \" '' ″ ” “",
    "thou": "thou thous thousandth thousandths mil mils thousandth·of·an·inch "
    "thousandths·of·an·inch",
    "mm": "mm millimetre millimetres millimeter millimeters",
    "deg": "deg degs degree degrees ° º",
    "turn": "turn turns rev revs revolution revolutions",
    "s": "s sec secs second seconds",
    "min": "min mins minute minutes",
    "h": "h hr hrs hour hours",
    "d": "d day days",
    "lbf": "lbf lb lbs lbsf pound pounds pound·force pounds·force",
    "N": "n newton newtons",
    "kN": "kn kilonewton kilonewtons",
    "psi": "psi lbf/in² lb/in² lbs/in²",
    "ksi": "ksi",
    "kPa": "kpa kilopascal kilopascals",
    "MPa": "mpa megapascal megapascals n/mm²",
    "in²": "in² sq·in sq·inch sq·inches square·inch square·inches",
    "mm²": "mm² sq·mm square·mm square·millimetres square·millimeters",
    "cc": "cc ccs ccm cm³ ml cubic·centimetres cubic·centimeters millilitres milliliters",
    "in³": "in³ cu·in cu·inch cu·inches cubic·inch cubic·inches ci cid",
}
_POUND = "lbf lb lbs lbsf pound pounds pound·force pounds·force"
_TORQUE = {
    "lbf·ft": (_POUND, "ft foot feet"),
    "lbf·in": (_POUND, "in inch inches"),
    "N·m": ("n newton newtons", "m metre metres meter meters"),
    "kgf·m": ("kgf kg kgs kp kilogram kilograms kilogram·force", "m metre metres meter meters"),
}
# Typed as one word, the metre first, a newton reads as the prefix milli: mN.
_TWO_MEANINGS = {"mn"}


def _spellings() -> Iterator[tuple[str, str]]:
    for form, words in _PLAIN.items():
        yield from ((word, form) for word in words.split())
    for form, (forces, arms) in _TORQUE.items():
        for force, arm in product(forces.split(), arms.split()):
            for first, second in ((force, arm), (arm, force)):
                yield f"{first}·{second}", form
                yield f"{first}{second}", form


@cache
def _meanings() -> Mapping[str, str]:
    """Give the form that each spelling stands for; made when the first is asked for."""
    return {word: form for word, form in _spellings() if word not in _TWO_MEANINGS}


# Texts, for the library keeps what it compiled: a file with written forms alone needs none.
_BETWEEN = r"\.?\s*([·⋅•∙*×/-])\s*|\.?\s+|\.(?!$)"
_POWER = r"\^?([23])"


def _key(word: str) -> str:
    word = re.sub(_BETWEEN, lambda found: "/" if found[1] == "/" else "·", word.strip().rstrip("."))
    return re.sub(_POWER, lambda found: "²" if found[1] == "2" else "³", word.casefold())


def form_of(word: str) -> str | None:
    """Give the written form of a unit as somebody typed it; None when it is not known."""
    return word if word in UNITS else _meanings().get(_key(word))


def forms_of(kind: str) -> tuple[str, ...]:
    """Give the written forms of one kind."""
    return tuple(form for form, of in UNITS.items() if of == kind)


def expected(kind: str) -> str:
    """Say what is to be written: ``write in, thou or mm``."""
    return "write a number alone" if kind == "number" else f"write {either(forms_of(kind))}"


def with_article(kind: str) -> str:
    """Say a kind with its article: ``a torque``, ``an angle``."""
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"


def checked(unit: str) -> str:
    """Pass a written form on; UnitError ``unit`` when it is none."""
    if unit not in UNITS:
        raise UnitError("unit", f"{quoted(unit)} is not a written form of a unit known here")
    return unit


def meant(word: str, kind: str) -> tuple[str, ...]:
    """Give the forms of this kind that a word of another kind, or of none, surely stands for."""
    key = _key(word)
    if kind == "torque" and _meanings().get(key) == "lbf":
        return ("lbf·ft", "lbf·in")
    if kind == "time" and key == "m":
        return ("min",)
    form = _meanings().get(key.replace("/", "·"))
    if form is not None and UNITS[form] == kind:
        return (form,)
    return ("",) if kind == "number" else ()
