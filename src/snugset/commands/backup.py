"""backup: one build as one file."""

from pathlib import Path

from snugset.commands.declare import Argument, Command, CommandError, Given, Place
from snugset.commands.output import say, warn


def _run(given: Given, place: Place) -> int:
    from snugset.journal.carry import backup  # noqa: PLC0415 - loads the archive
    from snugset.journal.reading import verify  # noqa: PLC0415
    from snugset.journal.shelf import Shelf  # noqa: PLC0415

    folder = Shelf(place.data).folder(given.one("BUILD"))
    target = Path(given.one("FILE"))
    if not target.parent.is_dir():
        raise CommandError(f"there is no folder {target.parent}; make it first")
    digest = backup(folder, target)
    say(f"{folder.name} is in {target}", f"digest {digest}")
    verdict = verify(folder)
    if verdict.whole:
        return 0
    warn(*verdict.problems)
    warn(f"the records of {folder.name} are whole in {target}, its photographs are not")
    return 1


COMMAND = Command(
    "backup",
    "writes a build into one new file, also while it is open",
    _run,
    (
        Argument("BUILD", "its id, its name, or how its id begins", needed=True),
        Argument("FILE", "the file to write; one that is there is never overwritten", needed=True),
    ),
    notes=(
        "Exit 1 where a photograph is missing or is not what was copied into the build: the backup "
        "is made with the others, and says which."
    ),
)
