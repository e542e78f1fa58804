"""Why a text cannot be read on from some place, with the likely fix."""

import re
from collections.abc import Callable

from snugset.units.errors import UnitError, either, quoted
from snugset.units.spans import Span

# Compiled when first met, for a file without a mistake needs none of them.
_EXPONENT = r"[eE][+-]?[0-9]"
_SPACED = r"(?<=[0-9])[ ]+(?=[0-9]{3}(?![0-9]))"
_WITH_COMMA = r"(?:(?<![0-9.,])|(?<=\.\.))[0-9.]*(?:,[0-9.]*[0-9])+"
_THOUSANDS = r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?"
_DECIMAL = r"(?:[0-9]*|[1-9][0-9]{0,2}(?:\.[0-9]{3})+),[0-9]+"


def fault(text: str, span: Span, place: int, example: str) -> UnitError:
    """Say what is wrong at an index of a cleaned text, within the span that was being read."""
    start, end = span
    part, before, rest = text[start:end], text[start:place].rstrip(), text[place:end]
    column = place + 1
    if not part.strip():
        return UnitError(
            "empty", f"there is no figure; write one, such as {example}", column=column
        )
    if rest.startswith(","):
        return _comma(text, part, column)
    if not rest:
        return UnitError(
            "not-a-number",
            f"{quoted(part)} ends in a plus; write what is to be added",
            column=column,
            suggest=(text[:place].rstrip(" +"),) if end == len(text) else (),
        )
    if not before:
        return UnitError(
            "not-a-number",
            f"{quoted(part)} is not a number; write it in digits, such as {example}",
            column=column,
        )
    if re.match(_EXPONENT, rest):
        return UnitError(
            "not-a-number", f"{quoted(part)} has an exponent; write all its digits", column=column
        )
    if text[place - 1] == " " and rest[0] in ".0123456789½¼¾⅓⅔⅛⅜⅝⅞":
        return _two_figures(text, part, place)
    return UnitError(
        "not-a-number",
        f"{quoted(part)} cannot be read from {quoted(rest)} on; "
        f"write one figure, such as {example}",
        column=column,
    )


def _two_figures(text: str, part: str, place: int) -> UnitError:
    joined = re.sub(_SPACED, "", text).strip()
    if joined != text.strip():
        return UnitError(
            "not-a-number",
            f"{quoted(part)} has a space inside a number; write {quoted(joined)}",
            column=place + 1,
            suggest=(joined,),
        )
    return UnitError(
        "not-a-number",
        f"{quoted(part)} has two figures with nothing between them; write a plus to add them",
        column=place + 1,
        suggest=(f"{text[:place].strip()} + {text[place:].strip()}",),
    )


def _comma(text: str, part: str, column: int) -> UnitError:
    readings = (
        _rewritten(text, _thousands),
        _rewritten(text, _decimal),
    )
    likely = tuple(reading for reading in readings if reading)
    fix = f"write {either(tuple(map(quoted, likely)))}" if likely else "write one figure"
    return UnitError("comma", f"{quoted(part)} has a comma; {fix}", column=column, suggest=likely)


def _thousands(typed: str) -> str | None:
    return typed.replace(",", "") if re.fullmatch(_THOUSANDS, typed) else None


def _decimal(typed: str) -> str | None:
    if not re.fullmatch(_DECIMAL, typed):
        return None
    point = typed.replace(".", "").replace(",", ".")
    return f"0{point}" if point.startswith(".") else point


def _rewritten(text: str, rewrite: Callable[[str], str | None]) -> str:
    """Rewrite every number that has a comma; empty when one cannot be, or a comma is left."""
    done = re.sub(_WITH_COMMA, lambda found: rewrite(found[0]) or found[0], text).strip()
    return "" if "," in done else done
