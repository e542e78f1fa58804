"""Kills what makes, carries, brings back, revises and photographs builds, and writes files.

What is seen afterwards must be complete: a build or none, a file or none, a record or none.
"""

import random
import shutil
from collections import Counter
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from killing import (
    OWNER,
    Acknowledge,
    Tally,
    UnopenedError,
    Walk,
    Work,
    hold,
    killed,
    new,
    whole,
)
from snugset.bench import Bench
from snugset.guide.apply import fold
from snugset.guide.events import Record
from snugset.guide.ruling import Refusal
from snugset.journal.carry import backup, restore
from snugset.journal.journal import Journal
from snugset.journal.reading import read_records
from snugset.journal.shelf import Shelf
from snugset.play import Paced
from snugset.revising import revise
from snugset.sheet.order import order_of
from snugset.sheet.order_text import order_text
from snugset.stored import stood
from snugset.writing import write_new

VERBS = {
    "new": 0.06,
    "backup": 0.01,
    "restore": 0.03,
    "revise": 0.06,
    "attach": 0.03,
    "order": 0.004,
    "copy": 0.04,
}
"""With the seconds within which each is killed."""
PICTURE = 4 * 1024 * 1024
"""Bytes of a photograph, so that a kill meets its copying."""


@dataclass(slots=True)
class Verbs:
    """A shelf with one build on it, and what the commands work with."""

    walk: Walk
    data: Path
    shelf: Shelf
    folder: Path
    kept: Path
    """A backup of the build."""
    records: tuple[Record, ...]

    @classmethod
    def begin(cls, walk: Walk, data: Path) -> "Verbs":
        """Lay everything out."""
        shelf = Shelf(data / "shelf")
        folder = shelf.new_folder("walk")
        Journal.create(folder, owner=OWNER, records=walk.records).close()
        backup(folder, data / "kept.snugset")
        return cls(walk, data, shelf, folder, data / "kept.snugset", read_records(folder))

    @property
    def last(self) -> datetime:
        """When the last record was written."""
        return datetime.fromisoformat(self.records[-1].at)

    def work(self, verb: str, target: Path, source: Path) -> Work:
        """Give a child's work: one command, acknowledged once it says that it is done."""

        text = self.order()

        def work(say: Acknowledge) -> None:
            say(0)
            if verb == "new":
                new(self.walk.answers, self.walk.path, self.shelf)
            elif verb == "backup":
                backup(self.folder, target)
            elif verb == "restore":
                restore(self.kept, self.shelf)
            elif verb == "order":
                write_new(target, text)
            elif verb == "revise":
                revise(self.folder, (source,), reason="dry", owner=OWNER, moment=self.last)
            else:
                with self.bench() as bench:
                    if verb == "copy":
                        bench.copy(target)
                    else:
                        outcome = bench.say(f"photo {source}")
                        hold(not isinstance(outcome, Refusal), f"attach: {outcome}")
            say(1)

        return work

    def bench(self) -> Bench:
        """Open the build as if no time had passed."""
        return Bench.open(self.folder, owner=OWNER, clock=Paced(self.last), fresh=True)

    def order(self) -> str:
        """Give the order list."""
        return order_text(order_of(stood(self.records, "walk")[0], list(self.records)))

    def source(self, verb: str, number: int) -> Path:
        """Make a file that is new to the build."""
        source = self.data / ("deck.png" if verb == "attach" else "engine.yaml")
        if verb == "attach":
            source.write_bytes(b"\x89PNG\r\n\x1a\n" + number.to_bytes(4) * (PICTURE // 4))
        else:
            text = (self.walk.path.parent / self.walk.answers.engine).read_text("utf-8")
            source.write_text(f"{text}\n# revised {number}\n", "utf-8")
        return source

    def look(self, verb: str, target: Path, before: set[str], *, said: bool) -> None:
        """Prove what a killed command left."""
        for entry in self.shelf.builds():
            if entry.wrong:
                raise UnopenedError(f"{verb}: {entry.wrong}")
            whole(self.shelf.path / entry.id, verb)
        made = {entry.id for entry in self.shelf.builds()} - before
        found = read_records(self.folder)
        if verb in ("new", "restore"):
            hold(len(made) <= 1 and (made or not said), f"{verb}: {sorted(made)}, said {said}")
        elif verb in ("backup", "copy", "order"):
            hold(target.exists() or not said, f"{verb}: acknowledged, and not there")
            if verb == "order" and target.exists():
                hold(target.read_text("utf-8") == self.order(), "order: half a file")
            elif target.exists():
                again = restore(target, self.shelf)
                kept = read_records(self.shelf.path / again)
                hold(kept == self.records, f"{verb}: it holds something else")
        else:
            hold(found[: len(self.records)] == self.records, f"{verb}: an earlier record changed")
            more = len(found) - len(self.records)
            hold(more in ((1,) if said else (0, 1)), f"{verb}: {more} records more")
        hold(found == self.records or verb in ("revise", "attach"), f"{verb}: other records")
        self.records = found
        with self.bench() as bench:
            hold(bench.state == fold(found), f"{verb}: another state")

    def tidy(self) -> None:
        """Remove what the last command made; photographs on record go with their build."""
        for entry in self.shelf.builds():
            if entry.id != self.folder.name:
                shutil.rmtree(self.shelf.path / entry.id)
        if any(record.kind == "photograph" for record in self.records):
            shutil.rmtree(self.folder)
            restore(self.kept, self.shelf)
            self.records = read_records(self.folder)


def kill_verbs(
    walk: Walk, kills: int, chance: random.Random, data: Path, tally: Tally
) -> Counter[str]:
    """Kill what makes, carries, brings back, revises and photographs builds."""
    counted: Counter[str] = Counter()
    verbs = Verbs.begin(walk, data)
    for number in range(kills):
        verb = list(VERBS)[number % len(VERBS)]
        target = data / f"carried-{number}"
        source = verbs.source(verb, number)
        before = {entry.id for entry in verbs.shelf.builds()}
        said, ended = killed(verbs.work(verb, target, source), 1, chance.uniform(0, VERBS[verb]))
        counted[verb] += not ended
        tally.acknowledged += 1 in said
        with tally.noted():
            verbs.look(verb, target, before, said=1 in said)
        verbs.tidy()
        target.unlink(missing_ok=True)
    return counted
