"""verify: whether a build's journal is what was written."""

from snugset.commands.declare import JSON, Argument, Command, Given, Place
from snugset.commands.output import say, say_json


def _run(given: Given, place: Place) -> int:
    from snugset.journal.reading import verify  # noqa: PLC0415 - loads what proves it
    from snugset.journal.shelf import Shelf  # noqa: PLC0415

    folder = Shelf(place.data).folder(given.one("BUILD"))
    verdict = verify(folder)
    if given.has("--json"):
        say_json(
            {
                "build": folder.name,
                "whole": verdict.whole,
                "records": verdict.records,
                "digest": verdict.digest,
                "problems": verdict.problems,
            }
        )
    elif verdict.whole:
        say(f"{folder.name} is whole: {verdict.records} records", f"digest {verdict.digest}")
    else:
        say(*verdict.problems)
        say(f"{folder.name} is not whole; its first {verdict.records} records can be relied on")
    return 0 if verdict.whole else 1


COMMAND = Command(
    "verify",
    "proves a build's journal and photographs whole, or says how far; nothing is changed",
    _run,
    (Argument("BUILD", "its id, its name, or how its id begins", needed=True), JSON),
    notes=(
        "Lost last records show only against a digest kept elsewhere: on a build sheet, with a "
        "backup. Exit 1 if the journal is not whole."
    ),
)
