"""Opens journals of strangers in every way that there is, and holds what holds of each."""

import random
import shutil
import time
from collections.abc import Iterable
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from snugset.bench import Bench
from snugset.guide.events import Record
from snugset.guide.undoing import undoing
from snugset.journal.errors import JournalError
from snugset.journal.head import read_head
from snugset.journal.owner import Owner
from snugset.journal.reading import read_records, verify
from snugset.journal.shelf import Shelf
from snugset.plain import render
from snugset.plain.aside import listing
from snugset.play import play
from snugset.sheets import FORMS, sheet_text
from snugset.shipped import demo
from snugset.stored import BuildError

from . import journals
from .checked import Tally

OWNER = Owner.here(person="Wren", since="2026-11-02T18:04:00Z")


def _later() -> datetime:
    return datetime(2027, 1, 5, 8, 0, tzinfo=UTC)


@cache
def demo_records() -> tuple[Record, ...]:
    """Give the demo's records, played to its end."""
    with TemporaryDirectory() as folder:
        return read_records(play(demo(), Shelf(Path(folder)), at_once=True).folder)


def open_bench(folder: Path) -> bool:
    """Open a build, look round and answer once; whether it was opened."""
    try:
        with Bench.open(folder, owner=OWNER, clock=_later) as bench:
            asked = bench.prompt()
            if asked is not None:
                list(render(asked, 0, 1))
            list(listing(bench))
            undoing(bench.plan, bench.records, bench.state, bench.clock())
            bench.say("")
    except (BuildError, JournalError) as error:
        assert str(error)
        return False
    return True


def sheets(folder: Path) -> dict[str, str]:
    """Make every sheet that can be made; the text by its form."""
    found: dict[str, str] = {}
    for form in FORMS:
        try:
            found[form] = sheet_text(folder, form)
        except (BuildError, JournalError) as error:
            assert str(error)
    return found


def open_mutants(seeds: Iterable[int], folder: Path) -> Tally:
    """Forge a journal a seed and open it; any other exception is a fault."""
    records = list(demo_records())
    count = taken = 0
    slowest = 0.0
    for seed in seeds:
        build = folder / f"b{seed}"
        rng = random.Random(seed)
        count += 1
        forgery = journals.mutant(rng, records)
        try:
            journals.forged(build, forgery)
        except (JournalError, OverflowError):
            continue  # no journal can hold that at all
        try:
            verify(build)
            read_head(build)
            started = time.process_time()
            taken += open_bench(build)
            slowest = max(slowest, time.process_time() - started)
            sheets(build)
        except Exception as error:
            error.add_note(f"seed {seed}")
            raise
        shutil.rmtree(build)
    return Tally(count, taken, slowest * 1000)
