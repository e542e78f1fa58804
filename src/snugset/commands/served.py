"""The program behind a tab of the browser: the full screen, its keys and pictures on two pipes."""

import os
import sys
from collections.abc import Sequence
from pathlib import Path

from snugset.clock import now, utc
from snugset.commands.declare import Place
from snugset.commands.failing import told
from snugset.commands.screening import Sitting
from snugset.journal.owner import Owner

_PATIENCE = 5.0
"""Seconds to wait for a build: the tab that was closed or loaded again is just letting it go."""


def argv(place: Place, person: str) -> tuple[str, ...]:
    """Give the words that start it; the folder it is started in lends it no module."""
    return (sys.executable, "-P", "-m", __name__, str(place.data.absolute()), person)


def main(words: Sequence[str]) -> int:
    """Show the builds of a data folder to a person, until the screens are left."""
    data, person = words
    place = Place(os.environ, Path(data))
    try:
        Sitting(place, Owner.here(person=person, since=utc(now()))).show(patience=_PATIENCE)
    except Exception as error:  # noqa: BLE001 - whoever serves gets a sentence, never a traceback
        return told(error, place)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
