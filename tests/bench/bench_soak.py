"""A shop of 500 builds with 200,000 records: list, open and resume stay within the bars.

The builds are the demo, with 400 records each; they stand against a shop of 50. The small
shop is listed as many times over, so that both sides take as long: a busy machine interrupts what
is long and lets through what is short, and that would look like growth. SNUGSET_SOAK=0.2 makes the
large shop a fifth as large.
"""

import os
import shutil
import tempfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from bench.bench_frame import BARE, LIST, OPENED
from bench.bench_start import BAR, started
from bench.table import MAIN, Row, interleaved, ratio, timed
from bench.terminal import running
from snugset.bench import Bench
from snugset.guide.scene import when
from snugset.journal.head import Head
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.journal.reading import read_records
from snugset.journal.shelf import Shelf
from snugset.play import Paced, play
from snugset.shipped import demo

BUILDS, RECORDS, SMALL = 500, 400, 50
ROUNDS = 15
OWNER = Owner.here(person="Wren", since="")
ONE = "pump-7"


def stock(shelf: Shelf, builds: int) -> None:
    """Fill a shelf: one build is made, the others are its copies under other names."""
    with tempfile.TemporaryDirectory() as place:
        played = play(demo(), Shelf(Path(place)), at_once=True)
        records = read_records(played.folder)[:RECORDS]
    head = Head(name="Barn pump six", step="gap@1I#1", updated=records[-1].at)
    first = shelf.new_folder("pump-0")
    Journal.create(first, owner=OWNER, records=records, head=head).close()
    for number in range(1, builds):
        shutil.copytree(first, shelf.path / f"pump-{number}")


def _listed(shelf: Shelf, times: int) -> float:
    def work() -> None:
        for _ in range(times):
            shelf.builds()

    return timed(work)


def _opened(shelf: Shelf) -> float:
    def work() -> None:
        folder = shelf.folder(ONE)
        moment = when(read_records(folder)[-1].at)
        with Bench.open(folder, owner=OWNER, clock=Paced(moment), fresh=True) as bench:
            bench.prompt()

    return timed(work)


def _framed(words: list[str], data: Path, mark: str) -> float:
    with running(words, data) as child:
        return child.until(mark)


def rows() -> Iterator[Row]:
    """Measure the large shop against the small one, and against the bars of one build."""
    builds = max(2 * SMALL, round(BUILDS * float(os.environ.get("SNUGSET_SOAK", "1"))))
    with tempfile.TemporaryDirectory(dir=".", prefix=".soak-") as place:
        small, large = Shelf(Path(place) / "small"), Shelf(Path(place) / "large")
        stock(small, SMALL)
        stock(large, builds)
        data = large.path.parent.absolute()
        environ = {**os.environ, "SNUGSET_DATA": str(data)}
        ours = ["-c", MAIN]
        times = interleaved(
            {
                "list, small": partial(_listed, small, builds // SMALL),
                "list": partial(_listed, large, 1),
                "open, small": partial(_opened, small),
                "open": partial(_opened, large),
                "pass": partial(started, ["-c", "pass"], environ),
                "list started": partial(started, [*ours, "list"], environ),
                "bare frame": partial(_framed, ["-c", BARE], data, "Bare frame"),
                "list shown": partial(_framed, ours, data, "Barn pump"),
                "resumed": partial(_framed, [*ours, "resume", ONE], data, "Barn pump"),
            },
            ROUNDS,
        )
    shop = f"{builds} builds, {builds * RECORDS:,} records"
    for work, name, base, bar in (
        (f"exec to first frame: list of {shop}", "list shown", "bare frame", LIST),
        ("exec to first frame: resume in that shop", "resumed", "bare frame", OPENED),
        ("start of `list` in it against `python -c pass`", "list started", "pass", BAR),
        (f"list, for each build, {builds} against {SMALL}", "list", "list, small", None),
        (f"open and prompt, {builds} builds against {SMALL}", "open", "open, small", None),
    ):
        figure, detail = ratio(times, name, base)
        yield Row(work, figure, "×", bar, detail)
