"""Cutting a typed text into the figures of a list, the takes of a reading, the ends of a window."""

import re
from collections.abc import Iterable, Iterator

from snugset.units.errors import UnitError, quoted

Span = tuple[int, int]
"""Where a part of a text starts and ends, as indexes of the text."""

# One character for one, so that a column in the text stays a column.
_SAME = str.maketrans(
    {
        **dict.fromkeys("\t\n\r\u00a0\u2007\u2009\u200a\u202f", " "),
        **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212", "-"),
        **dict.fromkeys("\u2044\u2215", "/"),
    }
)

_TIGHT = r"[0-9.]*[0-9](?:,[0-9.]+)+"
_THREE = 3
_WINDOW = (
    r"(?<!\.)\.\.(?!\.)|[ ]\.\.\.[ ]|…|[ ]to[ ]",
    r"(?<=[^ ])[ ]+-[ ]+",
    # Between figures: 20-60 thou, -5--3; never the dash of 22 lb-ft.
    r"(?<=[^ +-])-(?=[ ]*[-.0-9½¼¾⅓⅔⅛⅜⅝⅞])",
)


def cleaned(text: str, longest: int) -> str:
    """Put the typesetter's spaces, dashes and slashes into plain ones; refuse a long text."""
    if len(text) > longest:
        raise UnitError(
            "too-long", f"it is longer than {longest} characters; write the figure alone"
        )
    return text.translate(_SAME)


def takes(text: str) -> tuple[Span, ...]:
    """Cut at semicolons."""
    return tuple(_between(text, re.finditer(";", text)))


def figures(text: str) -> tuple[Span, ...]:
    """Cut at commas and semicolons; UnitError ``comma`` where one may be a decimal comma."""
    for tight in re.finditer(_TIGHT, text):
        pieces = tight[0].split(",")
        points = all("." in piece for piece in pieces)
        thousands = all(len(piece) == _THREE for piece in pieces[1:])
        if points or (len(pieces) >= _THREE and not thousands):
            continue
        before, after = text[: tight.start()], text[tight.end() :]
        apart = f"{before}{', '.join(pieces)}{after}".strip()
        point = f"{before}{'.'.join(pieces)}{after}".strip()
        likely = (apart, point) if len(pieces) == 2 and "." not in tight[0] else (apart,)
        raise UnitError(
            "comma",
            f"{quoted(tight[0])} may be several figures or one; "
            "write a comma and a space between figures, and a point for decimals",
            column=tight.start() + 1,
            suggest=likely,
        )
    return tuple(_between(text, re.finditer("[,;]", text)))


def ends(text: str) -> tuple[Span, ...] | None:
    """Cut a window in two; None when there is no one place to cut."""
    for pattern in _WINDOW:
        found = list(re.finditer(pattern, text))
        if len(found) == 1:
            return tuple(_between(text, found))
    return None


def _between(text: str, cuts: Iterable[re.Match[str]]) -> Iterator[Span]:
    start = 0
    for cut in cuts:
        yield start, cut.start()
        start = cut.end()
    yield start, len(text)
