#!/usr/bin/env python3
"""A shop of 500 builds with 200,000 records: list, open and resume, against a small shop.

``bench_soak.py [FOLDER] [BUILDS]``. The builds are the demo, with 400 records each. Every
figure is a ratio of medians from runs that alternate in one process; growth is flat where the time
for each build, and for opening one, does not depend on how many there are.
"""

import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from statistics import median

from snugset.bench import Bench
from snugset.clock import now
from snugset.guide.scene import when
from snugset.journal.head import Head
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.journal.reading import read_records
from snugset.journal.shelf import Shelf
from snugset.play import Paced, play

RECORDS = 400
SMALL = 50
ROUNDS = 7
FLAT = 1.3
"""The bar: what a build costs in the large shop, over what it costs in the small one."""
ANSWERS = Path(__file__).parent.parent.parent / "demo" / "answers.yaml"
OWNER = Owner.here(person="Wren", since="")


def stock(shelf: Shelf, builds: int) -> None:
    """Fill a shelf: one build is made, the others are its copies under other names."""
    with tempfile.TemporaryDirectory() as place:
        played = play(ANSWERS, Shelf(Path(place)), at_once=True)
        records = read_records(played.folder)[:RECORDS]
    head = Head(name="Barn pump six", step="gap@1I#1", updated=records[-1].at)
    first = shelf.new_folder("pump-0")
    Journal.create(first, owner=OWNER, records=records, head=head).close()
    for number in range(1, builds):
        shutil.copytree(first, shelf.path / f"pump-{number}")


def timed(work: Callable[[], object]) -> float:
    """Milliseconds for one run."""
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) * 1e3


def opened(shelf: Shelf, build: str) -> None:
    """Find a build by its id and open it, as resume does."""
    folder = shelf.folder(build)
    moment = when(read_records(folder)[-1].at)
    with Bench.open(folder, owner=OWNER, clock=Paced(moment), fresh=True) as bench:
        bench.prompt()


def command(data: Path, *words: str) -> None:
    """Run the program as a process of its own."""
    code = "import sys; from snugset.cli import main; sys.exit(main())"
    subprocess.run(
        [sys.executable, "-c", code, "--data", data, *words],
        stdout=subprocess.DEVNULL,
        check=True,
        env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1"},
    )


def main(folder: str = ".", builds: str = "500") -> int:
    """Print the table; 1 if a bar is passed."""
    with tempfile.TemporaryDirectory(dir=folder, prefix=".soak-") as place:
        small, large = Shelf(Path(place) / "small"), Shelf(Path(place) / "large")
        stock(small, SMALL)
        stock(large, int(builds))
        runs: dict[str, list[float]] = {}
        for _ in range(ROUNDS):
            for size, shelf in (("small", small), ("large", large)):
                data = shelf.path.parent
                works: dict[str, Callable[[], object]] = {
                    "list in process": shelf.builds,
                    "open": partial(opened, shelf, "pump-7"),
                    "list as a command": partial(command, data, "list"),
                    "sheet as a command": partial(command, data, "sheet", "pump-7"),
                }
                for name, work in works.items():
                    runs.setdefault(f"{name} {size}", []).append(timed(work))
    share = int(builds) / SMALL
    failed = False
    sys.stdout.write(f"{builds} builds, {int(builds) * RECORDS} records · {now():%Y-%m-%d}\n")
    for name, per in (
        ("list in process", share),
        ("open", 1.0),
        ("list as a command", share),
        ("sheet as a command", 1.0),
    ):
        one, many = median(runs[f"{name} small"]), median(runs[f"{name} large"])
        ratio = many / one / per
        failed |= ratio > FLAT
        sys.stdout.write(
            f"{name:20} {one:8.1f} ms at {SMALL}, {many:8.1f} ms at {builds}: "
            f"{ratio:.2f} for each build (bar {FLAT})\n"
        )
    return int(failed)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
