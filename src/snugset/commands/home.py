"""Without a command: the builds on the full screen, or their list where there is none."""

from snugset.commands import list as listing
from snugset.commands.declare import PERSON, Command, Given, Place


def _run(given: Given, place: Place) -> int:
    from snugset.commands import screening, sitting  # noqa: PLC0415 - loads the guide

    if not screening.fits(given, place.environ):
        return listing.COMMAND.run(given, place)
    return screening.show(place, sitting.owner(given, place.environ))


COMMAND = Command(
    "home",
    "the builds on the full screen, or their list",
    _run,
    (*listing.COMMAND.arguments, PERSON),
)
