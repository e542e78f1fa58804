"""What a durable append costs beside a bare insert with the same settings, on disk.

Both sides keep the same texts in the same database settings; the append also checks and chains the
record and renews the head. Runs alternate in one process, so that a slow moment of the disk meets
both.
"""

import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median

from bench.table import Row
from snugset.guide.events import Record
from snugset.journal.coding import GENESIS, encode
from snugset.journal.head import Head
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.journal.schema import connect, make_durable

BAR = 1.5
ROUNDS = 400
WARM = 20
HEAD = Head(
    name="Barn pump six",
    procedure="Inline six, rocker bridges",
    engine="Barn pump six (invented)",
    step="gap@1I#1",
    waiting_for="pushrods on order",
    updated="2026-11-02T18:04:00Z",
)


def reading(sequence: int) -> Record:
    """A reading of about 400 bytes, as the bench keeps them."""
    return Record(
        sequence=sequence,
        answer=sequence,
        at="2026-11-02T18:04:00Z",
        person="Ann",
        kind="read",
        body={
            "address": "gap@1I#1",
            "typed": "17+18",
            "takes": [{"unit": "thou", "value": "17"}, {"unit": "thou", "value": "18"}],
            "value": {"unit": "thou", "value": "35"},
            "uncertainty": {"unit": "thou", "value": "2.2"},
            "window": [{"unit": "thou", "value": "30"}, {"unit": "thou", "value": "40"}],
            "instrument": "feeler gauges",
            "verdict": "in",
        },
    )


def timed(work: Callable[[], object]) -> float:
    """Seconds for one run."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def measure(folder: Path, rounds: int) -> tuple[list[float], list[float]]:
    """Seconds of each append and of each bare insert."""
    bare_file = folder / "bare.sqlite"
    bare_file.touch()
    bare = connect(bare_file, "rw", patience=0)
    make_durable(bare)
    bare.execute(
        "CREATE TABLE events (sequence INTEGER PRIMARY KEY, answer INTEGER, at TEXT, person TEXT, "
        "kind TEXT, body TEXT, digest TEXT) STRICT"
    )
    appends, inserts = [], []
    owner = Owner.here(person="Ann", since="2026-11-02T18:00:00Z")
    with Journal.create(folder / "barn", owner=owner) as journal:
        for sequence in range(1, rounds + WARM + 1):
            kept = [reading(sequence)]
            [row] = encode(kept, after=sequence - 1, digest=GENESIS)

            def insert(row: tuple[object, ...] = row) -> None:
                bare.execute("INSERT INTO events VALUES (?, ?, ?, ?, ?, ?, ?)", row)

            def append(kept: list[Record] = kept) -> None:
                journal.append(kept, HEAD)

            if sequence % 2:
                appends.append(timed(append))
                inserts.append(timed(insert))
            else:
                inserts.append(timed(insert))
                appends.append(timed(append))
    bare.close()
    return appends[WARM:], inserts[WARM:]


def rows() -> Iterator[Row]:
    """Append and insert by turns, in the working folder: it must be on a disk."""
    with tempfile.TemporaryDirectory(dir=".", prefix=".bench-") as place:
        appends, inserts = measure(Path(place), ROUNDS)
    one, other = median(appends) * 1e3, median(inserts) * 1e3
    detail = f"{one:.2f} ms against {other:.2f} ms"
    yield Row("durable append against a bare insert", one / other, "×", BAR, detail)
