"""The full screen, where the terminal has one: the builds, or the build that was asked for."""

import os
import sys
from collections.abc import Mapping
from pathlib import Path

from snugset.bench import Clock, now
from snugset.commands.declare import Given, Place
from snugset.commands.output import say
from snugset.journal.owner import Owner
from snugset.journal.shelf import Shelf


def fits(given: Given, environ: Mapping[str, str]) -> bool:
    """Tell whether the full screen is wanted and the terminal can show it."""
    if given.has("--plain") or environ.get("TERM", "dumb") in ("", "dumb"):
        return False
    return all(stream.isatty() for stream in (sys.stdin, sys.stdout))


def show(
    place: Place, who: Owner, folder: Path | None = None, *, clock: Clock = now, fresh: bool = False
) -> int:
    """Run the full screen until it is left; the exit code."""
    from snugset.commands import beginning, demonstrating  # noqa: PLC0415 - only here
    from snugset.screens.app import Doors, Opening, run  # noqa: PLC0415 - loads the screen

    def demo() -> Opening:
        made = demonstrating.make()
        return Opening(folder=made, clock=demonstrating.going_on(made), fresh=True)

    def begin(procedure: str, engine: str, specs: str, name: str) -> Opening:
        made = beginning.made(
            place, who, procedure=procedure, engine=engine, specs=specs, name=name
        )
        return Opening(folder=made, fresh=True)

    opening = None if folder is None else Opening(folder=folder, clock=clock, fresh=fresh)
    doors = Doors(shelf=Shelf(place.data), person=who.person, demo=demo, begin=begin)
    colourless = "NO_COLOR" in place.environ
    if colourless:
        # The screen library heeds it only when it is not empty.
        os.environ["NO_COLOR"] = place.environ["NO_COLOR"] or "1"
    code = run(doors, opening)
    say(f"Everything answered is kept in {Shelf(place.data).path if folder is None else folder}.")
    return code
