"""The one door for text that goes to a terminal: what it holds is shown, never obeyed."""

_KEPT = frozenset("\u00a0\u2009\u200c\u200d\u202f")
"""Spaces and joiners of ordinary writing, which Python counts among what cannot be seen."""


def counted(number: int, one: str, many: str = "") -> str:
    """Give a number with what is counted: ``1 answer``, ``2 answers``; `many` where no s does."""
    return f"{number} {one if number == 1 else many or f'{one}s'}"


def printable(text: str) -> str:
    """Give a line with every character that drives a terminal or hides what is said replaced.

    Controls (escape, newline and tab too), characters that turn the reading direction and halves
    of characters become the replacement character. A text of several lines goes line by line.
    """
    if text.isprintable():
        return text
    return "".join(
        letter if letter.isprintable() or letter in _KEPT else "\ufffd" for letter in text
    )


def printable_json(text: str, *, wide: bool = True) -> str:
    """Give JSON with every letter escaped that is not to be seen, or that is not ASCII.

    `wide`: letters outside ASCII may stand as they are.
    """
    return "".join(
        letter
        if letter == "\n" or (letter.isprintable() and (wide or letter.isascii()))
        else _escaped(letter)
        for letter in text
    )


def _escaped(letter: str) -> str:
    """Give a letter as JSON escapes it: outside the first 65,536 as two halves."""
    halves = letter.encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{halves[at : at + 2].hex()}" for at in range(0, len(halves), 2))
