"""Without a command: the builds on the full screen, or their list where there is none."""

from snugset.commands import list as listing
from snugset.commands.declare import PERSON, Command, Given, Place
from snugset.commands.output import say
from snugset.journal.shelf import Shelf


def _run(given: Given, place: Place) -> int:
    from snugset.commands import screening, sitting  # noqa: PLC0415 - loads the guide

    if not screening.fits(given, place.environ):
        return listing.COMMAND.run(given, place)
    sitting.warn_of_network(place)
    screening.Sitting(place, sitting.owner(given, place.environ)).run()
    say(f"Everything answered is kept in {Shelf(place.data).path}")
    return 0


COMMAND = Command(
    "home",
    "the builds on the full screen, or their list",
    _run,
    (*listing.COMMAND.arguments, PERSON),
)
