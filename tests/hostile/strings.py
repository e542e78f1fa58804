"""Typed figures by the thousand: well-formed ones with their meaning, and spoiled ones."""

import random
from fractions import Fraction

from .grammar import WORDS

KINDS = sorted({kind for kind, _ in WORDS.values()})
_BY_KIND = {kind: sorted(w for w, (of, _) in WORDS.items() if of == kind) for kind in KINDS}
_MINUS = "-−–‐"
_JOINTS = ["·", "-", " ", "*", "×", ".", " · ", "⋅", ". ", "∙"]
_PIECES = [
    *("+", "-", "−", "–", ".", ",", ";", "/", "..", "…", " to ", "e5", "E-3", "e", "^2", "²", "'"),
    *(
        " ",
        "\u00a0",
        "\u202f",
        "\t",
        "\n",
        "½",
        "⅓",
        "٣",
        "１",
        "５",
        "०",
        "½½",
        "1/2",
        "1/0",
        "(",
        ")",
    ),
    *(
        "\x00",
        "\x1b[31m",
        "\u202e",
        "\u200b",
        "\ud800",
        "\ufeff",
        "🔧",
        "inf",
        "nan",
        "0x1F",
        "1_0",
    ),
    *(
        "9**9**9",
        "9" * 13,
        "0" * 13,
        "9" * 400,
        "1e999999999",
        "[b]",
        "%s",
        "{x}",
        "\\",
        "K",
        "ſ",
        "ﬁ",
    ),
    *(
        "mm",
        "in",
        "thou",
        '"',
        "Nm",
        "lb-ft",
        "ft/lb",
        "kNm",
        "°C",
        "cm",
        "m",
        "deg",
        "h",
        "kN",
        "1.000,5",
    ),
]


def _digits(random_: random.Random, most: int) -> str:
    return "".join(random_.choice("0123456789") for _ in range(random_.randint(1, most)))


def number(rng: random.Random) -> tuple[str, Fraction]:
    """Write a number in one of the ways people do; its value."""
    match rng.randrange(8):
        case 0:
            text = _digits(rng, 12)
            return text, Fraction(text)
        case 1:
            whole, part = _digits(rng, 4), _digits(rng, 6)
            return f"{whole}.{part}", Fraction(f"{whole}.{part}")
        case 2:
            part = _digits(rng, 12)
            return f".{part}", Fraction(f"0.{part}")
        case 3:
            whole = _digits(rng, 5)
            return f"{whole}.", Fraction(whole)
        case 4:
            sign, value = rng.choice([("½", 2), ("¼", 4), ("⅓", 3), ("⅛", 8)])
            whole = rng.choice(["", _digits(rng, 3), _digits(rng, 3) + " "])
            return whole + sign, Fraction(whole or 0) + Fraction(1, value)
        case 5 | 6:
            bottom = rng.randint(2, 9999)
            top = rng.randint(1, bottom - 1)
            slash = rng.choice(["/", " / ", "⁄", "∕"])
            whole = rng.choice(["", _digits(rng, 3)])
            joint = rng.choice([" ", "-", "  "]) if whole else ""
            return f"{whole}{joint}{top}{slash}{bottom}", Fraction(whole or 0) + Fraction(
                top, bottom
            )
    text = str(rng.randint(0, 200))
    return text, Fraction(text)


def unit(rng: random.Random, kind: str) -> tuple[str, Fraction]:
    """Write a unit of a kind in one of the ways people do; its size."""
    word = rng.choice(_BY_KIND[kind])
    size = WORDS[word][1]
    if " " in word:
        word = rng.choice(_JOINTS).join(word.split(" ")) if rng.random() < 0.9 else word
    if word[-1] in "23":
        word = word[:-1] + rng.choice({"2": ["2", "²", "^2"], "3": ["3", "³", "^3"]}[word[-1]])
    match rng.randrange(4):
        case 0:
            word = word.upper()
        case 1:
            word = word.title()
    return word + ("." if word[-1].isalpha() and rng.random() < 0.1 else ""), size


def figure(
    rng: random.Random, kind: str, bare: Fraction | None
) -> tuple[str, tuple[Fraction, ...]]:
    """Write a sum of one to four terms, each with its unit or all bare; the value of each."""
    alone = bare is not None and rng.random() < 0.4
    parts, values = [], []
    for _ in range(rng.choice([1, 1, 1, 2, 2, 3, 4])):
        text, value = number(rng)
        if alone:
            parts.append(text)
            values.append(value * (bare or 1))
            continue
        word, size = unit(rng, kind)
        parts.append(f"{text}{rng.choice(['', ' ', ' ', '  '])}{word}")
        values.append(value * size)
    text = rng.choice(["+", " + ", "+ "]).join(parts)
    pad = rng.choice(["", "", " ", "\u00a0"])
    return f"{pad}{text}{pad}", tuple(values)


def spoiled(rng: random.Random, text: str) -> str:
    """Cut, double, or put something strange into a text, one to three times."""
    for _ in range(rng.randint(1, 3)):
        at = rng.randint(0, len(text))
        end = min(len(text), at + rng.randint(0, 3))
        match rng.randrange(4):
            case 0:
                text = text[:at] + text[end:]
            case 1:
                text = text[:end] + text[at:]
            case _:
                text = text[:at] + rng.choice(_PIECES) + text[at:]
    return text


def noise(rng: random.Random) -> str:
    """Write pieces in a row."""
    return "".join(
        rng.choice(_PIECES) if rng.random() < 0.5 else _digits(rng, 3)
        for _ in range(rng.randint(0, 8))
    )
