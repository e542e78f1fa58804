"""A build as it is on record, for what is made from it."""

from pathlib import Path

from snugset.commands.declare import Place
from snugset.guide.events import Record
from snugset.journal.contents import whole_records
from snugset.journal.opening import reading
from snugset.journal.shelf import Shelf
from snugset.plan.plan import Plan
from snugset.stored import stood
from snugset.values import dataclass


@dataclass(frozen=True, slots=True)
class Recorded:
    """All that a build's journal holds."""

    folder: Path
    plan: Plan
    records: list[Record]
    digest: str


def read(build: str, place: Place) -> Recorded:
    """Read a build, also while it is open elsewhere; JournalError, or BuildError for its files."""
    folder = Shelf(place.data).folder(build)
    with reading(folder) as connection:
        records, digest, _ = whole_records(connection, folder.name)
    return Recorded(folder, stood(records, folder.name)[0], records, digest)
