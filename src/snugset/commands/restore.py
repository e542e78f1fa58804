"""restore: a backup as a build again."""

from pathlib import Path

from snugset.commands.declare import Argument, Command, CommandError, Given, Place
from snugset.commands.output import say


def _run(given: Given, place: Place) -> int:
    from snugset.journal.carry import restore  # noqa: PLC0415 - loads the archive
    from snugset.journal.shelf import Shelf  # noqa: PLC0415

    file = Path(given.one("FILE"))
    if file.exists() and not file.is_file():
        raise CommandError(f"{file} is no plain file; give the path of a backup")
    if not file.is_file():
        raise CommandError(f"there is no file {file}; give the path of a backup")
    say(f"Restored: {restore(file, Shelf(place.data))}")
    return 0


COMMAND = Command(
    "restore",
    "puts a backup among the builds, beside those that are there",
    _run,
    (Argument("FILE", "a file that snugset backup wrote", needed=True),),
    notes="A build that goes by the same id stays as it is; this one then gets a number behind it.",
)
