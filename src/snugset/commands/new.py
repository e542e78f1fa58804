"""new: begins a build."""

from snugset.commands.declare import PERSON, Argument, Command, Given, Place


def _run(given: Given, place: Place) -> int:
    from snugset.commands import beginning  # noqa: PLC0415 - loads the guide

    return beginning.begin(given, place)


COMMAND = Command(
    "new",
    "begins a build and opens it",
    _run,
    (
        Argument("PROCEDURE", "a procedure file, or the name of one that is shipped", needed=True),
        Argument(
            "--engine",
            "an engine file, or the name of one that is shipped",
            value="FILE",
            needed=True,
        ),
        Argument("--specs", "a spec sheet, answered as far as it goes", value="FILE"),
        Argument("--name", "what the build is called; else as the engine", value="TEXT"),
        PERSON,
    ),
    notes=(
        "The files are kept in the build as they are now; later edits change nothing in it. "
        "Nothing is begun while there is a mistake in one of them."
    ),
    examples=("snugset new inline-six-bridged-hydraulic --engine barn-pump-six",),
)
