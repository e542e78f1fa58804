"""Sitting down to a build: who works, and the front end, until it is left."""

import getpass
import signal
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from shlex import quote
from types import FrameType
from typing import NoReturn

from snugset import plain
from snugset.bench import Bench, Clock, now, utc
from snugset.commands import screening
from snugset.commands.declare import Given, Place, UsageError
from snugset.commands.output import say, warn
from snugset.journal.mounts import warn_if_network
from snugset.journal.owner import Owner
from snugset.screens.doors import Opening

_ENDINGS = (signal.SIGTERM, signal.SIGHUP)
_LONGEST = 120


def owner(given: Given, environ: Mapping[str, str]) -> Owner:
    """Say who works: the option, else SNUGSET_PERSON, else the login name."""
    return Owner.here(person=_person(given, environ), since=utc(now()))


def _person(given: Given, environ: Mapping[str, str]) -> str:
    person = (given.one("--person") or environ.get("SNUGSET_PERSON", "")).strip() or _login()
    if len(person) > _LONGEST or not person.isprintable():
        raise UsageError(
            f"a person's name has 1 to {_LONGEST} letters that can be seen; give it: --person NAME"
        )
    return person


def _login() -> str:
    try:
        return getpass.getuser()
    except (KeyError, ImportError, OSError):  # an account without a name, as in some containers
        return "somebody"


def warn_of_network(place: Place) -> None:
    """Say on standard error if what is saved may not stay saved."""
    if warning := warn_if_network(place.data):
        warn(f"snugset: {warning}")


def sit(
    folder: Path,
    given: Given,
    place: Place,
    who: Owner,
    *,
    clock: Clock = now,
    fresh: bool = False,
) -> int:
    """Open a build, on the full screen or line by line, until it is left, and say how to go on."""
    if screening.fits(given, place.environ):
        screening.Sitting(place, who).run(Opening(folder=folder, clock=clock, fresh=fresh))
        say(f"Everything answered is kept. To go on: {resuming(folder.name, place)}")
        return 0
    with _ended_by_signals(), Bench.open(folder, owner=who, clock=clock, fresh=fresh) as bench:
        plain.terminal(bench)
        finished = bench.prompt() is None
    if not finished:
        say("", f"Everything answered is kept. To go on: {resuming(folder.name, place)}")
    return 0


def resuming(build: str, place: Place) -> str:
    """Give the command that goes on with a build."""
    data = f"--data {quote(str(place.moved.absolute()))} " if place.moved else ""
    return f"snugset {data}resume {build}"


@contextmanager
def _ended_by_signals() -> Iterator[None]:
    """Let go of the build when the system ends the program or the terminal goes away."""

    def end(number: int, _frame: FrameType | None) -> NoReturn:
        raise SystemExit(128 + number)

    before = {number: signal.signal(number, end) for number in _ENDINGS}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
