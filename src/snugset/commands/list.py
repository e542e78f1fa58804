"""list: the builds, and where each stands."""

from snugset.commands.declare import JSON, Argument, Command, Given, Place
from snugset.commands.layout import columns
from snugset.commands.output import say, say_json
from snugset.journal.shelf import Entry, Shelf

NEWEST = 40
"""Builds that are told unless all are asked for: what a tall terminal shows, and quick to read."""


def _run(given: Given, place: Place) -> int:
    shelf = Shelf(place.data)
    whole = given.has("--json") or given.has("--all")
    entries = shelf.builds(newest=0 if whole else NEWEST)
    if given.has("--json"):
        say_json([_as_json(entry) for entry in entries])
    elif entries:
        say(*columns(map(_row, entries)))
        if older := len(shelf) - len(entries):
            say(f"and {older} that were worked on before these: snugset list --all")
    else:
        say(
            f"There are no builds in {place.data / 'builds'} yet.",
            "",
            "  snugset demo     opens a part-finished build of an invented engine to look at",
            "  snugset new PROCEDURE --engine FILE     begins a build of your own",
            "  snugset --help   tells the rest",
        )
    return 0


def _row(entry: Entry) -> tuple[str, ...]:
    head = entry.head
    if head is None:
        return entry.id, "", "", f"cannot be read: {entry.wrong}"
    waiting = f" — waits for: {head.waiting_for}" if head.waiting_for else ""
    day, _, time = head.updated.partition("T")
    return entry.id, f"{day} {time[:5]} UTC", head.step, f"{head.name}{waiting}"


def _as_json(entry: Entry) -> dict[str, str | None]:
    head = entry.head
    return {
        "id": entry.id,
        "name": head.name if head else None,
        "procedure": head.procedure if head else None,
        "engine": head.engine if head else None,
        "step": head.step if head else None,
        "waiting_for": head.waiting_for if head else None,
        "updated": head.updated if head else None,
        "wrong": entry.wrong,
    }


COMMAND = Command(
    "list",
    "the builds, where each stands and what it waits for; also while one is open elsewhere",
    _run,
    (Argument("--all", f"all builds; without it the {NEWEST} that were worked on last"), JSON),
    notes=(
        "With --json: a list of all builds, objects with id, name, procedure, engine, step, "
        "waiting_for and updated (RFC 3339, UTC). Of a build that cannot be read they are null, "
        "and wrong says why."
    ),
)
