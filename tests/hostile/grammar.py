"""A second reader of typed figures, to hold the program's against; it shares no code with it.

It says what docs/files.md says under Quantities, with whole fractions, one cut at a time. It gives
every meaning that a text can have; a text without one must be refused.
"""

import re
from collections.abc import Iterator
from fractions import Fraction
from itertools import product
from typing import NamedTuple

LONGEST, LONGEST_LIST, TERMS, FIGURES, DIGITS = 120, 600, 12, 60, 12

_INCH = Fraction(254, 10_000)
_POUND = Fraction(45_359_237, 10**8) * Fraction(980_665, 10**5)
_KILOGRAM = Fraction(980_665, 10**5)
_PSI = _POUND / _INCH**2

# In metres, newtons, degrees, seconds (NIST SP 811, App. B).
_LENGTHS = {
    _INCH: ["in", "inch", "inches", '"', "''", "″", "”", "“"],
    _INCH / 1000: [
        *("thou", "thous", "thousandth", "thousandths", "mil", "mils"),
        *("thousandth of an inch", "thousandths of an inch"),
    ],
    Fraction(1, 1000): ["mm", "millimetre", "millimetres", "millimeter", "millimeters"],
}
_FORCES = {
    _POUND: ["lbf", "lb", "lbs", "lbsf", "pound", "pounds", "pound force", "pounds force"],
    Fraction(1): ["n", "newton", "newtons"],
    Fraction(1000): ["kn", "kilonewton", "kilonewtons"],
}
_TIMES = {
    Fraction(1): ["s", "sec", "secs", "second", "seconds"],
    Fraction(60): ["min", "mins", "minute", "minutes"],
    Fraction(3600): ["h", "hr", "hrs", "hour", "hours"],
    Fraction(86_400): ["d", "day", "days"],
}
_ANGLES = {
    Fraction(1): ["deg", "degs", "degree", "degrees", "°", "º"],
    Fraction(360): ["turn", "turns", "rev", "revs", "revolution", "revolutions"],
}
_PRESSURES = {
    _PSI: ["psi", "lbf/in2", "lb/in2", "lbs/in2"],
    _PSI * 1000: ["ksi"],
    Fraction(1000): ["kpa", "kilopascal", "kilopascals"],
    Fraction(10**6): ["mpa", "megapascal", "megapascals", "n/mm2"],
}
_AREAS = {
    _INCH**2: ["in2", "sq in", *(f"{a} {b}" for a in ("sq", "square") for b in ("inch", "inches"))],
    Fraction(1, 10**6): [
        *("mm2", "sq mm"),
        *(f"square {b}" for b in ("mm", "millimetres", "millimeters")),
    ],
}
_VOLUMES = {
    _INCH**3: [
        *("in3", "ci", "cid", "cu in"),
        *(f"{a} {b}" for a in ("cu", "cubic") for b in ("inch", "inches")),
    ],
    Fraction(1, 10**6): [
        *("cc", "ccs", "ccm", "cm3", "ml", "cubic centimetres", "cubic centimeters"),
        *("millilitres", "milliliters"),
    ],
}
_METRES = ["m", "metre", "metres", "meter", "meters"]
_ARMS = [
    (_POUND, _FORCES[_POUND], _INCH * 12, ["ft", "foot", "feet"]),
    (_POUND, _FORCES[_POUND], _INCH, ["in", "inch", "inches"]),
    (Fraction(1), _FORCES[Fraction(1)], Fraction(1), _METRES),
    (
        _KILOGRAM,
        ["kgf", "kg", "kgs", "kp", "kilogram", "kilograms", "kilogram force"],
        Fraction(1),
        _METRES,
    ),
]


def _table() -> dict[str, tuple[str, Fraction]]:
    found = {
        word: (kind, size)
        for kind, sizes in {
            "length": _LENGTHS, "force": _FORCES, "time": _TIMES, "angle": _ANGLES,
            "pressure": _PRESSURES, "area": _AREAS, "volume": _VOLUMES,
        }.items()
        for size, words in sizes.items()
        for word in words
    }  # fmt: skip
    for force, forces, arm, arms in _ARMS:
        for one, other in product(forces, arms):
            for word in (f"{one} {other}", f"{other} {one}", f"{one}{other}", f"{other}{one}"):
                found[word] = ("torque", force * arm)
    del found["mn"]  # milli or metre: nobody knows
    return found


WORDS = _table()
"""Every unit as it is said, in small letters, words parted by one space: its kind and size."""

_LETTERS = re.compile(r"[^\W\d_]+(?:\^?[23](?![\d./]))?|[\"″”“°]|''")
_POWERS = str.maketrans("²³", "23")


def unit(word: str) -> tuple[str, Fraction] | None:
    """Read a unit; None for what is none."""
    for fold in (str.lower, str.casefold):
        said = fold(word).removesuffix(".").replace("^", "").translate(_POWERS)
        said = re.sub(r"\s*/\s*", "/", said)
        said = re.sub(r"\.?\s*[·⋅•∙*×-]\s*|\.?\s+|\.", " ", said)
        if said in WORDS:
            return WORDS[said]
    return None


class Term(NamedTuple):
    """One number and what it is in; no unit where it is bare."""

    value: Fraction
    unit: tuple[str, Fraction] | None


_VULGAR = {
    "½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4),
    "⅓": Fraction(1, 3), "⅔": Fraction(2, 3),
    "⅛": Fraction(1, 8), "⅜": Fraction(3, 8), "⅝": Fraction(5, 8), "⅞": Fraction(7, 8),
}  # fmt: skip
_SAME = {**dict.fromkeys("\t\n\r\u00a0\u2007\u2009\u200a\u202f", " "),
         **dict.fromkeys("‐‑‒–—−", "-"), **dict.fromkeys("⁄∕", "/")}  # fmt: skip


def _number(text: str) -> Fraction | None:
    """Read a number without a sign, the whole text; None for what is none."""
    if found := re.fullmatch(r"([0-9]*)(?:\.([0-9]*))?", text):
        whole, part = found[1], found[2] or ""
        if not whole + part or (not whole and not part) or max(len(whole), len(part)) > DIGITS:
            return None
        return Fraction(int(whole + part), 10 ** len(part))
    if text[-1:] in _VULGAR:
        whole = text[:-1].rstrip(" ")
        if re.fullmatch(rf"[0-9]{{0,{DIGITS}}}", whole):
            return int(whole or 0) + _VULGAR[text[-1]]
        return None
    found = re.fullmatch(r"(?:([0-9]{1,12})(?:-| +))?([0-9]{1,4}) */ *([0-9]{1,4})", text)
    if found is None or not 0 < int(found[2]) < int(found[3]):
        return None
    return int(found[1] or 0) + Fraction(int(found[2]), int(found[3]))


def _term(text: str) -> Iterator[Term]:
    """Give the meanings of one term: where the number ends may be told in one way only."""
    text = text.strip(" ")
    sign = -1 if text[:1] == "-" else 1
    if text[:1] in {"-", "+"}:
        text = text[1:].lstrip(" ")
    for end in range(1, len(text) + 1):
        value = _number(text[:end].rstrip(" "))
        if value is None or text[end - 1] == " ":
            continue
        rest = text[end:]
        if re.match(r"[eE][+-]?[0-9]", rest):
            continue
        word = re.sub(r"^(?: |-(?=[^\W\d_]))*", "", rest)
        if not word:
            yield Term(sign * value, None)
        elif (known := unit(word)) is not None and not re.match(r"[.0-9/]", rest):
            yield Term(sign * value, known)


def _sums(text: str) -> Iterator[tuple[Term, ...]]:
    """Cut a sum at its plus signs; a leading one is a sign."""
    parts = re.split(r"(?<!^)\+", text.strip(" "))
    if len(parts) <= TERMS and not any(part.lstrip(" ").startswith("+") for part in parts[1:]):
        yield from product(*(tuple(_term(part)) for part in parts))


class Asked(NamedTuple):
    """What a field asks for."""

    kind: str
    bare: tuple[str, Fraction] | None
    """What a bare figure is taken in; None where a unit must be typed."""
    negative: bool = False


Stacks = tuple[tuple[Fraction, ...], ...]
"""Sums, each as its terms, in metres, newtons, degrees, seconds."""


def _weighed(stacks: tuple[tuple[Term, ...], ...], asked: Asked) -> Stacks | None:
    """Give every term its unit; None where one has none, another kind's, or is below zero."""
    flat = [term for stack in stacks for term in stack]
    typed = {term.unit for term in flat if term.unit is not None}
    if any(each[0] != asked.kind for each in typed):
        return None
    if any(term.value < 0 for term in flat) and not asked.negative:
        return None
    bare = asked.bare
    if typed and any(term.unit is None for term in flat):
        if len(typed) > 1 or (flat[-1].unit is None and typed != {bare}):
            return None
        (bare,) = typed
    sizes = [[(term.unit or bare) for term in stack] for stack in stacks]
    if any(size is None for stack in sizes for size in stack):
        return None
    return tuple(
        tuple(term.value * size[1] for term, size in zip(stack, sized, strict=True) if size)
        for stack, sized in zip(stacks, sizes, strict=True)
    )


def _plain(text: str, longest: int) -> str | None:
    return "".join(_SAME.get(c, c) for c in text) if len(text) <= longest else None


def _meanings(parts: list[str], asked: Asked) -> Iterator[Stacks]:
    for stacks in product(*(tuple(_sums(part)) for part in parts)):
        if (found := _weighed(stacks, asked)) is not None:
            yield found


def one(text: str, asked: Asked) -> set[Fraction]:
    """Give the meanings of one figure."""
    plain = _plain(text, LONGEST)
    return (
        set()
        if plain is None
        else {sum(found[0], Fraction()) for found in _meanings([plain], asked)}
    )


def takes(text: str, asked: Asked) -> set[Stacks]:
    """Give the meanings of takes of a reading."""
    plain = _plain(text, LONGEST)
    return set() if plain is None else set(_meanings(plain.split(";"), asked))


def listed(text: str, asked: Asked) -> set[tuple[Fraction, ...]]:
    """Give the meanings of a list."""
    plain = _plain(text, LONGEST_LIST)
    parts = [] if plain is None else re.split("[,;]", plain)
    if not 0 < len(parts) <= FIGURES:
        return set()
    return {tuple(sum(each, Fraction()) for each in found) for found in _meanings(parts, asked)}


def window(text: str, asked: Asked) -> set[tuple[Fraction, Fraction]]:
    """Give the meanings of a window: wherever it can be cut in two that rise."""
    plain = _plain(text, LONGEST)
    found = set()
    for cut in re.finditer(r"(?=(\.\.\.|\.\.|…|to|-))", plain or ""):
        before, after = plain[: cut.start()], plain[cut.start() + len(cut[1]) :]  # type: ignore[index]
        for low, high in _meanings([before, after], asked):
            if sum(low) < sum(high):
                found.add((Fraction(sum(low)), Fraction(sum(high))))
    return found
