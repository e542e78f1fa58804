"""Mistakes found in files: collected with their places, so that one run shows them all."""

from collections import namedtuple
from collections.abc import Iterable
from itertools import islice

from snugset.files.characters import cells, shown
from snugset.typed import TYPE_CHECKING
from snugset.values import dataclass, field

_MOST = 200
_WIDTH = 96
_ENDS = "; the list ends here, more mistakes may follow: mend these first"


if TYPE_CHECKING:
    from typing import NamedTuple

    class _Place(NamedTuple):
        file: str
        line: int
        column: int
else:
    _Place = namedtuple("_Place", ("file", "line", "column"))  # noqa: PYI024 - as above


class Mark(_Place):
    """A place in a file; line and column count from 1, the column in characters.

    A tuple: a file of mistakes makes and looks up hundreds of thousands.
    """

    __slots__ = ()

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One mistake: where, and in one sentence what is wrong and the likely fix."""

    mark: Mark
    text: str
    about: tuple[str, ...] | None = field(default=None, compare=False)
    """The names and fields that it hangs on, where it is one of references; empty for where a step
    stands; None for a mistake of the place itself."""

    def __str__(self) -> str:
        return f"{self.mark}: {self.text}"


class Problems:
    """Collects mistakes; a reader adds one and goes on reading."""

    def __init__(self) -> None:
        self._items: list[Problem] = []
        self._silent: set[Mark] = set()
        self.found = 0
        """How many were told, those too that the list no longer shows."""

    def __bool__(self) -> bool:
        return self.found > 0

    def __len__(self) -> int:
        return len(self._items)

    @property
    def full(self) -> bool:
        """Whether so many were found that looking for more serves nobody."""
        return len(self._items) >= _MOST

    @property
    def items(self) -> tuple[Problem, ...]:
        """All mistakes by file, line and column."""
        return tuple(sorted(self._items))

    def add(self, mark: Mark, text: str, about: tuple[str, ...] | None = None) -> None:
        """Add a mistake, unless its place was refused before or the list is full.

        `about` is what it hangs on, where other parts of the file make it one.
        """
        self.found += 1
        if mark in self._silent or self.full:
            return
        if len(self._items) == _MOST - 1 and not text.endswith(_ENDS):
            text += _ENDS  # unless another list, told on here, ended with it
        self._items.append(Problem(mark, text, about))

    def refuse(self, mark: Mark, text: str) -> None:
        """Add a mistake after which nothing more is said of what stands at that place."""
        self.add(mark, text)
        self._silent.add(mark)

    def near(self, word: str, words: Iterable[str]) -> str:
        """Return what `did_you_mean` says, or nothing once the list is full."""
        return "" if self.full else did_you_mean(word, words)

    @staticmethod
    def caret(problem: Problem, source: str) -> str:
        """Return the line of the mistake and a caret under its place, in terminal columns."""
        lines = source.split("\n", problem.mark.line)
        line = lines[problem.mark.line - 1] if problem.mark.line <= len(lines) else ""
        line = line.removesuffix("\r")
        at = min(problem.mark.column - 1, len(line))
        cut = at - _WIDTH // 2 if len(line) > _WIDTH and at > _WIDTH * 3 // 4 else 0
        before, after = "…" if cut else "", "…" if len(line) > cut + _WIDTH else ""
        line = shown(line[cut : cut + _WIDTH].replace("\t", " "))
        line = f"{before}{line}{after}"
        at += len(before) - cut
        return f"{line}\n{' ' * sum(map(cells, line[:at]))}^"


def quote(text: str) -> str:
    """Quote what was typed, cut to a readable length and safe to print."""
    flat = shown(text[:42].replace("\n", " "))
    return f"“{flat[:40]}…”" if len(flat) > 41 else f"“{flat}”"


def did_you_mean(word: str, words: Iterable[str]) -> str:
    """Return `` (did you mean “x”?)`` for the nearest of the first 300 words, or nothing."""
    if len(word) > 60:
        return ""
    by_lower = {each.lower(): each for each in islice(words, 300)}
    from difflib import get_close_matches  # noqa: PLC0415 - needed for a slip only

    near = get_close_matches(word.lower(), by_lower, n=1, cutoff=0.6)
    return f" (did you mean {quote(by_lower[near[0]])}?)" if near else ""


def an(word: str) -> str:
    """Put the article before a word: ``a torque``, ``an angle``."""
    return f"{'an' if word[:1] in 'aeiou' else 'a'} {word}"


def one_of(words: Iterable[object]) -> str:
    """Join words as ``a, b or c``."""
    *most, last = map(str, words)
    return f"{', '.join(most)} or {last}" if most else last


def all_of(words: Iterable[object]) -> str:
    """Join words as ``a, b and c``; of more than seven, six and how many more."""
    *most, last = map(str, words)
    if len(most) > 6:
        most, last = most[:6], f"{len(most) - 5} more"
    return f"{', '.join(most)} and {last}" if most else last
