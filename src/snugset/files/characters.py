"""Characters that have no business in a text: controls and those that turn the reading direction.

They can hide what a file says (Unicode Technical Report 36, §2.10) or drive a terminal.
"""

import re
import unicodedata

FORBIDDEN = re.compile(
    "[^\n\x20-\x7e\xa0-\u200d\u2010-\u2027\u202f-\u2065\u206a-\ud7ff\ue000-\ufdcf\ufdf0-\ufefe"
    "\uff00-\ufff8\ufffc-\ufffd\U00010000-\U0010ffff]"
)
"""One character that a text may not hold; a newline is allowed, a tab is not."""

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
    return FORBIDDEN.sub("\ufffd", text)
