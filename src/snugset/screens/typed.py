"""What is typed at the bench: a word of help, another place, a choice by its digit, an answer."""

from collections.abc import Sequence

from snugset.guide.address import Address, addressed
from snugset.guide.beside import HANDOVER
from snugset.guide.prompt import Prompt
from snugset.values import dataclass

ASIDES = {
    "why": "why",
    "help": "help",
    "?": "help",
    "list": "list",
    "crank": "crank",
    "figure": "calculators",
    "quit": "quit",
}
"""Words that answer nothing, and the action that each is."""
_SHOWING = ("copy", "figure")
"""Words that show or copy what is named after them, and answer nothing."""

HANDING_OVER = f"@{HANDOVER} person "
BEGUN = ("stage ", "note ", "skip ", "person ", HANDING_OVER, "photo ")
"""What a key begins a line with: one of them at a time."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """An answer, and where."""

    text: str
    at: Address | None
    """None: at the prompt."""


def aside(typed: str) -> str:
    """Give the action that a word stands for; empty if it is an answer."""
    return ASIDES.get(typed.strip().lower(), "")


def showing(typed: str, asked: Prompt | None) -> tuple[str, str]:
    """Split a line that shows or copies something into its word and the rest; empty for an answer.

    Where any words are an answer, as a source is, a line such as “figure 4, p. 2” is one too.
    """
    word, _, rest = typed.strip().partition(" ")
    shows = word.lower() in _SHOWING and rest and (asked is None or asked.asks != "text")
    return (word.lower(), rest.strip()) if shows else ("", "")


def read(typed: str, asked: Prompt | None) -> Typed:
    """Read what was typed; AddressError if it names a place that cannot be one."""
    at, text = addressed(typed)
    if at is None and asked is not None and asked.asks == "choice":
        text = chosen(text, asked.choices)
    return Typed(text=text, at=at)


def chosen(typed: str, choices: tuple[str, ...]) -> str:
    """Put a choice's words in place of its number."""
    whole, mark, reason = typed.partition(" ! ")
    number = whole.strip()
    if number.isascii() and number.isdigit() and 1 <= int(number) <= len(choices):
        return f"{choices[int(number) - 1]}{mark}{reason}"
    return typed


def one_key(asked: Prompt | None) -> dict[str, str]:
    """Give the keys that answer at once, with what each gives.

    The space bar for a tick; a digit for one of up to nine choices.
    """
    if asked is None:
        return {}
    if asked.asks == "tick":
        return {" ": ""}
    if asked.asks == "choice" and len(asked.choices) < 10:
        return {str(number): choice for number, choice in enumerate(asked.choices, 1)}
    return {}


def begin(word: str, whole: str) -> str:
    """Put a word before what was typed; it takes the place of another that a key had begun."""
    for other in BEGUN:
        if whole.startswith(other):
            return word + whole.removeprefix(other)
    return word + whole


def to_fill_in(choice: str) -> str:
    """Give what a choice begins with where its last word is to be filled in: ``again PLACE``."""
    before, _, last = choice.rpartition(" ")
    return f"{before} " if before and last.isalpha() and last.isupper() else ""


def shipped_as(typed: str, known: Sequence[str]) -> str:
    """Give the one of these names that is meant by its number, or by a part that only it has."""
    typed = typed.strip()
    if typed.isascii() and typed.isdigit() and 0 < int(typed) <= len(known):
        return known[int(typed) - 1]
    meant = [name for name in known if typed and typed.casefold() in name]
    return meant[0] if len(meant) == 1 and typed not in known else typed
