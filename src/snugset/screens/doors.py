"""What the shell outside hands the screens."""

from collections.abc import Callable, Mapping
from pathlib import Path

from snugset.clock import Clock, now
from snugset.journal.shelf import Shelf
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A build to be opened."""

    folder: Path
    clock: Clock = now
    fresh: bool = False
    """Whether it was begun this moment: there was no break."""
    note: str = ""
    """What is said on opening it."""
    follow: bool = False
    """Whether it is only looked at, while another program has it open."""


Start = Callable[[], Opening] | None
"""Gives the build that is open first, which may have to be made; None: the list is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class New:
    """What a new build is begun from, as typed."""

    procedure: str
    engine: str
    specs: str = ""
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Doors:
    """Where builds are, and how one is made."""

    shelf: Shelf
    person: str
    demo: Callable[[], Opening]
    """Makes a demo build in a scratch folder."""
    begin: Callable[[New], Opening]
    """Begins a build; ValueError with every mistake, a line each, if it cannot be."""
    procedures: tuple[str, ...] = ()
    """The names of those that are shipped."""
    engines: tuple[str, ...] = ()
    patience: float = 0.0
    """Seconds to wait for a build that is open elsewhere, before that is said."""
    known: Callable[[str], Mapping[str, str]] | None = None
    """What an engine knows, by a calculator's keys, from how it is named; FigureError if it is
    none. None where no engine can be looked up."""
