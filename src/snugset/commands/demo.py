"""demo: a part-finished build of an invented engine, to look round in."""

from snugset.commands.declare import PERSON, Command, Given, Place


def _run(given: Given, place: Place) -> int:
    from snugset.commands import screening, who  # noqa: PLC0415 - not for help

    if screening.fits(given, place.environ):
        sitting = screening.Sitting(place, who.owner(given, place.environ))
        sitting.run(sitting.demo)
        return 0
    from snugset.commands import demonstrating  # noqa: PLC0415 - loads the guide

    return demonstrating.demonstrate(given, place)


COMMAND = Command(
    "demo",
    "opens a part-finished build of an invented engine; nothing of yours is touched",
    _run,
    (PERSON,),
    notes="It stands in a folder of its own for what is scratch; the first line says where.",
)
