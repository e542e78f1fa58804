"""The one door for text that goes to a terminal: what it holds is shown, never obeyed."""

_KEPT = frozenset("\u00a0\u2009\u200c\u200d\u202f")
"""Spaces and joiners of ordinary writing, which Python counts among what cannot be seen."""


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
