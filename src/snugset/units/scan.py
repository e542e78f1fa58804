"""From a typed text to terms: a number and, perhaps, the word of a unit."""

import re
from collections.abc import Iterator
from decimal import Context, Decimal

from snugset.units.errors import UnitError, quoted
from snugset.units.faults import fault
from snugset.units.spans import Span
from snugset.values import dataclass

_DIGITS = 12
_FRACTION_DIGITS = 4
_FRACTIONS = Context(prec=28)  # a third has no end

_VULGAR = {
    "½": (1, 2), "¼": (1, 4), "¾": (3, 4), "⅓": (1, 3), "⅔": (2, 3),
    "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8),
}  # fmt: skip

_NUMBER = re.compile(
    r"""(?P<sign>[+-]?)[ ]*
    (?: (?:(?P<whole>[0-9]+)(?:[ ]+|-))? (?P<top>[0-9]+)[ ]*/[ ]*(?P<bottom>[0-9]+)
      | (?P<lead>[0-9]*)[ ]*(?P<vulgar>[½¼¾⅓⅔⅛⅜⅝⅞])
      | (?P<plain>[0-9]+(?:\.[0-9]*)?|\.[0-9]+)
    )""",
    re.VERBOSE,
)
_EXPONENT = re.compile(r"[eE][+-]?[0-9]")

_LETTERS = r"(?:[^\W\d_]+(?:\^?[23](?![0-9./]))?)"
_BETWEEN = r"(?:\.?[ ]*[·⋅•∙*×/-][ ]*|\.?[ ]+|\.)"
_UNIT = re.compile(
    rf"(?:[ ]|-(?=[^\W\d_]))*(?P<word>[\"″”“°]|''|{_LETTERS}(?:{_BETWEEN}{_LETTERS})*\.?)"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One number of a sum."""

    value: Decimal
    number: str
    """The number as it was typed."""
    word: str
    """The unit as it was typed; empty when there is none."""
    column: int
    """Where the number starts in the text, from 1."""
    word_column: int
    """Where the unit starts, or would."""


def terms(text: str, span: Span, *, most: int, example: str) -> Iterator[Term]:
    """Read a span of cleaned text as terms with a plus between them; UnitError at a fault.

    `example` is a figure of the kind that is asked, for the message.
    """
    place, end = span
    count = 0
    while True:
        place = _skip(text, place, end)
        found = _NUMBER.match(text, place, end)
        if found is None or (count and found["sign"] == "+"):
            raise fault(text, span, place, example)
        if count == most:
            raise UnitError(
                "too-long", f"there are more than {most} figures to add", column=place + 1
            )
        count += 1
        after = found.end()
        if _EXPONENT.match(text, after, end):
            raise fault(text, span, after, example)
        unit = _UNIT.match(text, after, end)
        yield Term(
            value=_value(found),
            number=found[0].strip(),
            word=unit["word"] if unit else "",
            column=place + 1,
            word_column=(unit.start("word") if unit else after) + 1,
        )
        place = _skip(text, unit.end() if unit else after, end)
        if place == end:
            return
        if text[place] != "+":
            raise fault(text, span, place, example)
        place += 1


def _skip(text: str, place: int, end: int) -> int:
    while place < end and text[place] == " ":
        place += 1
    return place


def _value(found: re.Match[str]) -> Decimal:
    if found["plain"] is not None:
        _bounded(found, _DIGITS, *found["plain"].split("."))
        value = Decimal(found["plain"])
    else:
        whole = found["whole"] or found["lead"] or "0"
        _bounded(found, _DIGITS, whole)
        top, bottom = _VULGAR[found["vulgar"]] if found["vulgar"] else _fraction(found)
        part = _FRACTIONS.divide(Decimal(top), Decimal(bottom))
        value = _FRACTIONS.add(Decimal(whole), part)
    return value.copy_negate() if found["sign"] == "-" and value else value


def _fraction(found: re.Match[str]) -> tuple[int, int]:
    _bounded(found, _FRACTION_DIGITS, found["top"], found["bottom"])
    top, bottom = int(found["top"]), int(found["bottom"])
    if not 0 < top < bottom:  # 11/2 may be one and a half
        raise UnitError(
            "not-a-number",
            f"{quoted(found[0])} is not a fraction below one; write it like 3/16 or 1 1/2",
            column=found.start() + 1,
        )
    return top, bottom


def _bounded(found: re.Match[str], most: int, *digits: str) -> None:
    if any(len(run) > most for run in digits):
        raise UnitError(
            "too-long",
            f"{quoted(found[0])} has more than {most} digits in a row; write fewer",
            column=found.start() + 1,
        )
