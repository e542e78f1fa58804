"""What a text that is no quantity gets."""

_SHOWN = 40


class UnitError(ValueError):
    """A text or a unit that cannot stand, with the likely fix.

    `code` is one of: ``empty``, ``too-long``, ``not-a-number``, ``comma``, ``unit`` (not known, or
    missing where it must be written), ``kind`` (a unit of another kind), ``negative``, ``window``
    (low end not below the high end), ``band`` (outside the plausible), ``factor`` (outside, and
    inside after a slip of unit).
    """

    code: str
    message: str
    """One plain sentence: what is wrong and the likely fix; it has no place in a file."""
    column: int | None
    """Where in the text, in characters from 1; None when it is the whole."""
    suggest: tuple[str, ...]
    """Whole texts to type instead, the likeliest first; empty when none is certain enough.

    Always printable: nothing in them could steer a terminal.
    """

    def __init__(
        self, code: str, message: str, *, column: int | None = None, suggest: tuple[str, ...] = ()
    ) -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.column = column
        self.suggest = tuple(text for text in suggest if text.isprintable())


def quoted(text: str) -> str:
    """Put a typed text in quotation marks: shortened, nothing in it that could steer a terminal."""
    text = text.strip()
    short = text if len(text) <= _SHOWN else text[: _SHOWN - 1] + "…"
    return "“" + "".join(c if c.isprintable() else "�" for c in short) + "”"


def either(words: tuple[str, ...]) -> str:
    """Join one or more words as they are said: ``in, thou or mm``."""
    return " or ".join(filter(None, (", ".join(words[:-1]), words[-1])))
