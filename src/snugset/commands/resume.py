"""resume: goes on with a build."""

from snugset.commands.declare import PERSON, Argument, Command, CommandError, Given, Place
from snugset.journal.shelf import Shelf


def _run(given: Given, place: Place) -> int:
    shelf = Shelf(place.data)
    build = given.one("BUILD") or _newest(shelf)
    folder = shelf.folder(build)
    from snugset.commands import sitting, who  # noqa: PLC0415 - loads the guide

    sitting.warn_of_network(place)
    return sitting.sit(folder, given, place, who.owner(given, place.environ))


def _newest(shelf: Shelf) -> str:
    builds = shelf.builds()
    for entry in builds:
        if entry.head is not None:
            return entry.id
    if builds:
        raise CommandError(f"no build can be read here: {builds[0].wrong}")
    raise CommandError(f"there are no builds in {shelf.path}; begin one: snugset new")


BUILD = Argument("BUILD", "its id, its name, or how its id begins; the newest without")

COMMAND = Command(
    "resume",
    "goes on with a build, where it stands",
    _run,
    (BUILD, PERSON),
    notes="After a break it begins with what to check before anything on the engine is touched.",
)
