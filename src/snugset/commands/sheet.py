"""sheet: the record of a build."""

from snugset.commands.declare import Argument, Command, Given, Place


def _run(given: Given, place: Place) -> int:
    from snugset.commands import sheeting  # noqa: PLC0415 - loads the guide

    sheeting.show(given, place)
    return 0


COMMAND = Command(
    "sheet",
    "the build sheet: specs and sources, readings, doubts, skips, people, times",
    _run,
    (
        Argument("BUILD", "its id, its name, or how its id begins", needed=True),
        Argument(
            "--as",
            "a page, text, a row a reading, or for a program; without it by FILE, else md",
            choices=("html", "md", "csv", "json"),
        ),
        Argument("--out", "the file to write, complete or not at all; or -o", value="FILE"),
        Argument("--replace", "write over a file that is there"),
    ),
    notes="It is made from the journal as it stands, also while the build is open elsewhere.",
)
