"""revise: newer files for a build that has begun."""

from snugset.commands.declare import PERSON, Argument, Command, Given, Place


def _run(given: Given, place: Place) -> int:
    from snugset.commands import reviewing  # noqa: PLC0415 - loads the guide

    return reviewing.revise(given, place)


COMMAND = Command(
    "revise",
    "records newer files in a build that has begun",
    _run,
    (
        Argument("BUILD", "its id, its name, or how its id begins", needed=True),
        Argument(
            "FILE", "a procedure, an engine or a file of shared steps", needed=True, many=True
        ),
        Argument("--reason", "why, for the build sheet", value="TEXT", needed=True),
        PERSON,
    ),
    notes=(
        "Finished steps stand whose id and kind are still there; the others are done again, and "
        "are named. With a procedure come the shared steps beside it."
    ),
    examples=('snugset revise pump-six procedure.yaml --reason "the maker\'s new leaflet"',),
)
