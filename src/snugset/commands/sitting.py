"""Sitting down to a build: the front end, until it is left."""

import gc
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from shlex import quote
from types import FrameType
from typing import NoReturn

from snugset.clock import Clock, now
from snugset.commands import screening
from snugset.commands.declare import CommandError, Given, Place
from snugset.commands.output import say, warn
from snugset.journal.errors import OpenElsewhere
from snugset.journal.mounts import warn_if_network
from snugset.journal.owner import Owner
from snugset.journal.shelf import entry_of
from snugset.screens.doors import Opening

_ENDINGS = (signal.SIGTERM, signal.SIGHUP)


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
        with _to_follow(folder.name, place):
            screening.Sitting(place, who).run(
                lambda: Opening(folder=folder, clock=clock, fresh=fresh), entry_of(folder)
            )
        say(f"Everything answered is kept. To go on: {resuming(folder.name, place)}")
        return 0
    gc.enable()
    from snugset import plain  # noqa: PLC0415 - after the first picture, where there is one
    from snugset.bench import Bench  # noqa: PLC0415 - as above

    with (
        _to_follow(folder.name, place),
        _ended_by_signals(),
        Bench.open(folder, owner=who, clock=clock, fresh=fresh) as bench,
    ):
        try:
            plain.terminal(bench)
        except plain.EndlessLine:
            raise CommandError(
                "a line of the answers has no end; give one answer a line. "
                "What was answered before it is kept"
            ) from None
        finished = bench.prompt() is None
    if not finished:
        say("", f"Everything answered is kept. To go on: {resuming(folder.name, place)}")
    return 0


def follow(folder: Path, given: Given, place: Place, who: Owner) -> int:
    """Look at a build while another program has it open; without a screen, once."""
    if screening.fits(given, place.environ):
        screening.Sitting(place, who).run(lambda: Opening(folder=folder, follow=True))
        return 0
    from snugset import plain  # noqa: PLC0415 - where there is no screen
    from snugset.journal.lock import holder  # noqa: PLC0415
    from snugset.journal.reading import read_records  # noqa: PLC0415
    from snugset.stored import fitting, stood  # noqa: PLC0415

    records = read_records(folder)
    held, owner = holder(folder)
    by = f" by {owner}" if owner else ""
    say(f"Read only. It is open elsewhere{by}." if held else "Read only. Nobody has it open.")
    plan, state = stood(records, folder.name)
    with fitting(folder.name):
        lines = list(plain.standing(plan, state, now()))
    for line in lines:
        say(*line.split("\n"))
    return 0


@contextmanager
def _to_follow(build: str, place: Place) -> Iterator[None]:
    """Say how a build that is open elsewhere can be followed."""
    try:
        yield
    except OpenElsewhere as elsewhere:
        follow = f"{resuming(build, place)} --follow"
        raise CommandError(f"{elsewhere}, or look on, read only: {follow}") from None


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
