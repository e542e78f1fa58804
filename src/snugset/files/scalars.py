"""Shapes of a single text: what a scalar of a file may be, and the value it gives."""

import re
from decimal import Decimal

from snugset.files.problems import Mark, Problems, one_of, quote
from snugset.files.shape import ScalarShape, Schema
from snugset.files.tree import Node, Scalar
from snugset.values import dataclass

_WORD = re.compile(r"[a-z0-9][a-z0-9.-]{0,63}")
_WHOLE = re.compile(r"-?[0-9]{1,9}")
_NUMBER = re.compile(r"-?(?:[0-9]{1,9}(?:\.[0-9]{0,9})?|\.[0-9]{1,9})")
_TYPED = ["string", "number", "boolean"]
"""What an editor's YAML support takes a plain text for."""


@dataclass(frozen=True, slots=True)
class Text(ScalarShape[str]):
    """Any text, kept as typed."""

    longest: int = 4000
    blank: bool = False
    """Whether it may be empty, if quotes show that it is meant."""

    @property
    def wants(self) -> str:
        """In words."""
        return "a text"

    def read(self, node: Node, into: Problems) -> str | None:
        """Return the text, also an empty one where that is allowed."""
        if self.blank and isinstance(node, Scalar) and not node.text and not node.plain:
            return ""
        return super().read(node, into)

    def read_text(self, text: str, mark: Mark, into: Problems) -> str | None:
        """Return the text itself."""
        if len(text) > self.longest:
            into.add(mark, f"this text has {len(text)} characters; shorten it to {self.longest}")
            return None
        return text

    def schema(self) -> Schema:
        """As JSON Schema."""
        return {"type": _TYPED, "maxLength": self.longest}


@dataclass(frozen=True, slots=True)
class Word(ScalarShape[str]):
    """An id: small letters, digits, points and hyphens."""

    @property
    def wants(self) -> str:
        """In words."""
        return "an id"

    def read_text(self, text: str, mark: Mark, into: Problems) -> str | None:
        """Return the id."""
        if _WORD.fullmatch(text):
            return text
        fit = re.sub(r"[^a-z0-9.]+", "-", text.lower())[:64].strip("-.")
        into.add(
            mark,
            f"{quote(text)} is no id; use small letters, digits, points and hyphens"
            + (f", such as {quote(fit)}" if fit else ""),
        )
        return None

    def schema(self) -> Schema:
        """As JSON Schema."""
        return {"type": ["string", "integer"], "pattern": f"^{_WORD.pattern}$"}


@dataclass(frozen=True, slots=True)
class Whole(ScalarShape[int]):
    """A whole number within limits."""

    low: int
    high: int

    @property
    def wants(self) -> str:
        """In words."""
        return f"a whole number from {self.low} to {self.high}"

    def read_text(self, text: str, mark: Mark, into: Problems) -> int | None:
        """Return the number."""
        if _WHOLE.fullmatch(text) and self.low <= int(text) <= self.high:
            return int(text)
        into.add(mark, f"{quote(text)} is not {self.wants}")
        return None

    def schema(self) -> Schema:
        """As JSON Schema."""
        return {"type": "integer", "minimum": self.low, "maximum": self.high}


@dataclass(frozen=True, slots=True)
class Number(ScalarShape[Decimal]):
    """A plain decimal number within limits, exactly as typed."""

    low: Decimal = Decimal(-999_999_999)
    high: Decimal = Decimal(999_999_999)

    @property
    def wants(self) -> str:
        """In words."""
        if self.high == Number().high:
            return "a number"
        return f"a number from {self.low} to {self.high}"

    def read_text(self, text: str, mark: Mark, into: Problems) -> Decimal | None:
        """Return the number."""
        if _NUMBER.fullmatch(text):
            number = Decimal(text)
            if self.low <= number <= self.high:
                return number
        fix = f"; write {quote(text.replace(',', '.'))}" if text.count(",") == 1 else ""
        into.add(mark, f"{quote(text)} is not {self.wants}{fix}")
        return None

    def schema(self) -> Schema:
        """As JSON Schema."""
        limits = {"minimum": float(self.low), "maximum": float(self.high)}
        return {"type": "number", **({} if self.high == Number().high else limits)}


@dataclass(frozen=True, slots=True)
class Flag(ScalarShape[bool]):
    """Yes or no, spelled so."""

    @property
    def wants(self) -> str:
        """In words."""
        return "yes or no"

    def read_text(self, text: str, mark: Mark, into: Problems) -> bool | None:
        """Return whether it is yes."""
        if text in {"yes", "no"}:
            return text == "yes"
        into.add(mark, f"{quote(text)} is neither yes nor no; write one of them")
        return None

    def schema(self) -> Schema:
        """As JSON Schema; an editor may take yes and no for booleans."""
        return {"enum": ["yes", "no", True, False]}


@dataclass(frozen=True, slots=True, init=False)
class Choice(ScalarShape[str]):
    """One of some words."""

    words: tuple[str, ...]

    def __init__(self, *words: str) -> None:
        object.__setattr__(self, "words", words)

    @property
    def wants(self) -> str:
        """In words."""
        return one_of(self.words)

    def read_text(self, text: str, mark: Mark, into: Problems) -> str | None:
        """Return the word."""
        if text in self.words:
            return text
        near = into.near(text, self.words)
        into.add(mark, f"{quote(text)} is not {self.wants}{near}")
        return None

    def schema(self) -> Schema:
        """As JSON Schema."""
        return {"enum": list(self.words)}


@dataclass(frozen=True, slots=True)
class Pattern(ScalarShape[str]):
    """A text of a fixed form."""

    form: str
    """A regular expression that the whole text matches."""
    words: str
    """The form in words, with an example: ``a time such as 2026-11-02T18:04:00Z``."""

    @property
    def wants(self) -> str:
        """In words."""
        return self.words

    def read_text(self, text: str, mark: Mark, into: Problems) -> str | None:
        """Return the text itself."""
        if len(text) <= 200 and re.fullmatch(self.form, text):
            return text
        into.add(mark, f"{quote(text)} is not {self.words}")
        return None

    def schema(self) -> Schema:
        """As JSON Schema."""
        return {"type": "string", "pattern": f"^(?:{self.form})$"}
