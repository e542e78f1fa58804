"""specs: a build's spec sheet, as a file, to a file, from a file."""

from snugset.commands.declare import PERSON, Argument, Command, Given, Place


def _run(given: Given, place: Place) -> int:
    from snugset.commands import specifying  # noqa: PLC0415 - loads the guide

    return specifying.specs(given, place)


COMMAND = Command(
    "specs",
    "a build's spec sheet as a file; saved to one, or filled from one",
    _run,
    (
        Argument("BUILD", "its id, its name, or how its id begins", needed=True),
        Argument("--save", "a new file to write it to; without, it is shown", value="FILE"),
        Argument("--fill", "a spec sheet file; says what it would change", value="FILE"),
        Argument("--take", "with --fill: takes the figures"),
        PERSON,
    ),
    notes=(
        "A file with a mistake in it, or with a figure that a rule stops, changes nothing: every "
        "mistake is shown with its line. Instruments are figures too. A file that is there "
        "already is never written over."
    ),
    examples=(
        "snugset specs pump-six --save pump-six-specs.yaml",
        "snugset specs pump-six --fill leaflet.yaml --take",
    ),
)
