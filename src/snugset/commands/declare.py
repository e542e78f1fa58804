"""A command is declared once: name, one line of help, arguments, what runs.

Usage, help, the reading of the command line and its errors all come from the declaration. The
values are cheap to load, and what a command needs is loaded when it runs: the list of builds starts
several times faster for it.
"""

from collections.abc import Callable, Iterable, Mapping

from snugset.typed import TYPE_CHECKING
from snugset.values import dataclass

if TYPE_CHECKING:
    from pathlib import Path


class CommandError(Exception):
    """What a command cannot do: one plain sentence with the likely fix."""

    code = 1


class UsageError(CommandError):
    """A command line that does not say what is wanted."""

    code = 2


class MistakesError(CommandError):
    """MistakesError in files, each with its place."""

    def __init__(self, mistakes: Iterable[object]) -> None:
        super().__init__("\n".join(map(str, mistakes)))


@dataclass(frozen=True, slots=True)
class Argument:
    """A value by its place, or an option."""

    name: str
    """``BUILD`` for a value by its place, ``--list`` for an option."""
    help: str
    value: str = ""
    """What an option's value is called; empty for one that takes none."""
    needed: bool = False
    many: bool = False
    """Whether all values that are left belong to it."""
    choices: tuple[str, ...] = ()
    """The only values taken, where there are few."""

    @property
    def is_option(self) -> bool:
        """Whether it is given by its name."""
        return self.name.startswith("--")

    @property
    def typed(self) -> str:
        """As it is typed: ``--specs FILE``, ``--as md|json``, ``FILE``."""
        return f"{self.name} {self.value or '|'.join(self.choices)}".rstrip()

    @property
    def usage(self) -> str:
        """As it stands in the usage: ``[--specs FILE]``, ``FILE…``."""
        text = f"{self.typed}…" if self.many else self.typed
        return text if self.needed else f"[{text}]"


@dataclass(frozen=True, slots=True)
class Given:
    """What stood on the command line, by the names of the arguments."""

    values: Mapping[str, tuple[str, ...]]

    def has(self, name: str) -> bool:
        """Tell whether it was given."""
        return name in self.values

    def one(self, name: str, default: str = "") -> str:
        """Give its value."""
        return self.values.get(name, (default,))[0]

    def many(self, name: str) -> tuple[str, ...]:
        """Give all its values."""
        return self.values.get(name, ())


@dataclass(frozen=True, slots=True)
class Place:
    """Where a command runs."""

    environ: Mapping[str, str]
    moved: "Path | None" = None
    """The data folder that the command line gave, if it did; a later one must give it too."""

    @property
    def data(self) -> "Path":
        """The data folder."""
        if self.moved is not None:
            return self.moved
        from pathlib import Path  # noqa: PLC0415 - for builds only

        from snugset.journal.shelf import data_folder  # noqa: PLC0415 - for builds only

        try:
            return data_folder(self.environ)
        except RuntimeError:  # the home folder of nobody: then the name is a folder's own
            return Path(self.environ.get("SNUGSET_DATA") or "snugset")

    @property
    def crash_log(self) -> "Path":
        """Where an unexpected fault is written down."""
        return self.data / "crash.log"


@dataclass(frozen=True, slots=True)
class Command:
    """One command."""

    name: str
    help: str
    """One line, a phrase without a full stop."""
    run: Callable[[Given, Place], int]
    """Does it, and gives the exit code."""
    arguments: tuple[Argument, ...] = ()
    notes: str = ""
    """What else its help says."""
    examples: tuple[str, ...] = ()
    helps: Callable[[Given], bool] | None = None
    """Shows the help of what the values name, where they name something; tells whether it did."""

    @property
    def usage(self) -> str:
        """How it is typed."""
        return " ".join(("snugset", self.name, *(a.usage for a in self.arguments)))


JSON = Argument("--json", "for a program to read")
PERSON = Argument("--person", "who works; else SNUGSET_PERSON, else the login name", value="NAME")
TOP = (
    Argument("--data", "the data folder; else SNUGSET_DATA", value="DIR"),
    Argument("--plain", "line by line, without the full screen"),
    Argument("--help", "this help"),
    Argument("--version", "the version"),
)
"""Taken by every command, before it or after it."""
