"""A build that another program has open, as it can be seen from beside."""

from pathlib import Path

from snugset.clock import Clock
from snugset.guide.apply import fold
from snugset.guide.events import Record
from snugset.journal.errors import JournalError, OpenElsewhere
from snugset.journal.lock import holder
from snugset.journal.owner import Owner
from snugset.journal.reading import read_head, read_records
from snugset.screens.desk import Look, looked
from snugset.stored import fitting, stood


class Follower:
    """Reads a build again and again, and writes nothing."""

    def __init__(self, folder: Path, clock: Clock) -> None:
        """Read it; JournalError or BuildError if it cannot be read."""
        self.folder = folder
        self._clock = clock
        self._digest = ""
        self._records: tuple[Record, ...] = read_records(folder)
        self._plan, _ = stood(self._records, folder.name)
        self.held, self.owner = self._holder()
        with fitting(folder.name):
            self.look: Look = self._looked()
        """The build as it stood when it was read last."""

    @property
    def build(self) -> str:
        """The build's id."""
        return self.folder.name

    def _holder(self) -> tuple[bool, Owner | None]:
        return holder(self.folder)

    def _looked(self) -> Look:
        state = fold(self._records)
        return looked(self._plan, state, self._records, self._clock(), person=state.last_person)

    def refresh(self) -> Look:
        """Read it again if it was written; JournalError if it cannot be read now.

        While a write is under way the look stays as it was.
        """
        self.held, self.owner = self._holder()
        try:
            head = read_head(self.folder)
            digest = getattr(head, "digest", self._digest)  # busy: another moment will do
            if digest != self._digest:
                self._records = read_records(self.folder)
                self._plan, _ = stood(self._records, self.folder.name)
                self._digest = digest
        except OpenElsewhere:
            return self.look
        except JournalError as error:
            if error.code == "busy":
                return self.look
            raise
        self.look = self._looked()
        return self.look
