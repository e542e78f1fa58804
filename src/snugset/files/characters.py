"""Characters that have no business in a text: controls and those that turn the reading direction.

They can hide what a file says (Unicode Technical Report 36, §2.10) or drive a terminal. Among them
are the letters that only tag (block Tags): words in them are seen by programs alone.
"""

import re
import unicodedata
from collections.abc import Iterator

_FORBIDDEN = (
    "[^\n\x20-\x7e\xa0-\u061b\u061d-\u200d\u2010-\u2027\u202f-\u2065\u2070-\ud7ff"
    "\ue000-\ufdcf\ufdf0-\ufefe\uff00-\ufff8\ufffc-\ufffd"
    "\U00010000-\U000dffff\U000e0080-\U0010ffff]"
)
"""One character that a text may not hold; a newline is allowed, a tab is not."""
_IN_A_FILE = rf"(?!\r\n|\t){_FORBIDDEN}"
"""The same in a file as it was read: tabs, and line ends of two characters, are the parser's."""

_NAMED = {"\t": "a tab", "\r": "a carriage return", "\0": "a NUL", "\x1b": "an escape"}


def name(character: str) -> str:
    """Say which character it is, without printing it: ``a tab (U+0009)``."""
    code = f"(U+{ord(character):04X})"
    if character in _NAMED:
        return f"{_NAMED[character]} {code}"
    if unicodedata.category(character) == "Cf":
        return f"an invisible character {code}"
    return f"a control character {code}"


def cells(character: str) -> int:
    """Columns of a terminal that a character takes: 0, 1 or 2 (Unicode Standard Annex 11)."""
    if unicodedata.category(character) in {"Mn", "Me", "Cf"}:
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


def shown(text: str) -> str:
    """Text that is safe to print: a forbidden character becomes the replacement character."""
    if not any(forbidden(text)):
        return text
    return re.sub(_FORBIDDEN, "\ufffd", text)


def forbidden(text: str, *, in_a_file: bool = False) -> Iterator[re.Match[str]]:
    """Find every character that a text may not hold.

    What can be seen is never forbidden, so that the pattern, slow to compile, is seldom needed.
    """
    if text.replace("\n", "").isprintable():
        return iter(())
    return re.finditer(_IN_A_FILE if in_a_file else _FORBIDDEN, text)
