"""resume: goes on with a build."""

from snugset.commands.declare import PERSON, Argument, Command, CommandError, Given, Place
from snugset.journal.shelf import Shelf


def _run(given: Given, place: Place) -> int:
    shelf = Shelf(place.data)
    build = given.one("BUILD") or _newest(shelf)
    folder = shelf.folder(build)
    from snugset.commands import sitting, who  # noqa: PLC0415 - loads the guide

    sitting.warn_of_network(place)
    owner = who.owner(given, place.environ)
    if given.has("--follow"):
        return sitting.follow(folder, given, place, owner)
    return sitting.sit(folder, given, place, owner)


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
    (
        BUILD,
        PERSON,
        Argument("--follow", "looks on, read only, while it is open elsewhere"),
    ),
    notes="After a break it begins with what to check before anything on the engine is touched.",
)
