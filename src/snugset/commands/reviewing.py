"""Revising a build, for the command."""

from pathlib import Path

from snugset.clock import now
from snugset.commands.declare import Given, Place
from snugset.commands.output import say
from snugset.commands.sitting import warn_of_network
from snugset.commands.who import owner
from snugset.journal.shelf import Shelf
from snugset.printable import counted
from snugset.revising import revise as revise_build


def revise(given: Given, place: Place) -> int:
    """Keep the newer files, and say what stands and what is done again."""
    folder = Shelf(place.data).folder(given.one("BUILD"))
    warn_of_network(place)
    found = revise_build(
        folder,
        tuple(Path(name) for name in given.many("FILE")),
        reason=given.one("--reason"),
        owner=owner(given, place.environ),
        moment=now(),
    )
    say(f"Revised: {folder.name}, with {', '.join(found.files)}")
    say(f"{counted(found.kept, 'finished step stands', 'finished steps stand')}.")
    if found.voided:
        say(f"Done again, or no more: {', '.join(found.voided)}")
    if found.figures:
        say(f"Figures asked again, or no more: {', '.join(found.figures)}")
    return 0
