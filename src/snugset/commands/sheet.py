"""sheet: the record of a build."""

from snugset.commands.declare import Argument, Command, Given, Place


def _run(given: Given, place: Place) -> int:
    from snugset.commands import sheeting  # noqa: PLC0415 - loads the guide

    sheeting.show(given.one("BUILD"), given.one("--as", "md"), place)
    return 0


COMMAND = Command(
    "sheet",
    "the build sheet: specs and sources, readings, doubts, skips, people, times",
    _run,
    (
        Argument("BUILD", "its id, its name, or how its id begins", needed=True),
        Argument(
            "--as", "for people to read, or for a program; md without", choices=("md", "json")
        ),
    ),
    notes="It is made from the journal as it stands, also while the build is open elsewhere.",
)
