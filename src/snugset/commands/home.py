"""Without a command: the builds on the full screen, or their list where there is none."""

from snugset.commands import list as listing
from snugset.commands.declare import PERSON, Command, Given, Place
from snugset.commands.output import say, warn
from snugset.journal.mounts import warn_if_network
from snugset.journal.shelf import Shelf


def _run(given: Given, place: Place) -> int:
    from snugset.commands import screening, who  # noqa: PLC0415 - not for the plain list

    if not screening.fits(given, place.environ):
        return listing.COMMAND.run(given, place)
    if warning := warn_if_network(place.data):
        warn(f"snugset: {warning}")
    screening.Sitting(place, who.owner(given, place.environ)).run()
    say(f"Everything answered is kept in {Shelf(place.data).path}")
    return 0


COMMAND = Command(
    "home",
    "the builds on the full screen, or their list",
    _run,
    (*listing.COMMAND.arguments, PERSON),
)
