"""The demo build, played up to a reading and opened there."""

import tempfile
from datetime import datetime
from pathlib import Path

from snugset import shipped
from snugset.clock import Clock, now
from snugset.commands.declare import CommandError, Given, Place
from snugset.commands.output import say
from snugset.commands.sitting import sit
from snugset.commands.who import owner
from snugset.files.answers import Answers, Say
from snugset.journal.reading import read_records
from snugset.journal.shelf import Shelf
from snugset.play import play, read_answers_file
from snugset.values import replace

OPENS_AT = "gap@4I#1"
"""The reading at which the demo stands open: the first answer at this address is not played."""


def demonstrate(given: Given, place: Place) -> int:
    """Make the demo in a fresh scratch folder, and open it."""
    who = owner(given, place.environ)
    folder = make()
    scratch = folder.parent.parent
    say(f"The demo stands in {scratch}; nothing of yours is touched.")
    there = replace(place, moved=scratch)
    code = sit(folder, given, there, who, clock=going_on(folder), fresh=True)
    say(f"When you are through with it, delete {scratch}")
    return code


def make() -> Path:
    """Play the demo's answers up to a reading, in a fresh scratch folder; the build's folder."""
    scratch = Path(tempfile.mkdtemp(prefix="snugset-demo-"))
    answers = shipped.demo()
    entry = entry_at(read_answers_file(answers), OPENS_AT)
    return play(answers, Shelf(scratch), stop_before=entry, at_once=True).folder


def entry_at(answers: Answers, address: str) -> int:
    """Find the first answer at an address, counted from 0."""
    for number, entry in enumerate(answers.answers):
        if isinstance(entry, Say) and entry.at == address:
            return number
    raise CommandError(f"the demo has no answer at {address}; install Snugset again")


def going_on(folder: Path) -> Clock:
    """Give a clock that goes on from a build's last record: in the demo there was no break."""
    left = datetime.fromisoformat(read_records(folder)[-1].at)
    began = now()
    return lambda: left + (now() - began)
