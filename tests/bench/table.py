"""What every row of the table is, and how runs are interleaved and timed."""

import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from math import ceil
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import NamedTuple

from snugset.commands.demonstrating import OPENS_AT, entry_at
from snugset.journal.shelf import Shelf
from snugset.play import play, read_answers_file
from snugset.shipped import demo

MAIN = "import sys; from snugset.cli import main; sys.exit(main())"
"""Runs the program in a Python of its own."""


class Row(NamedTuple):
    """One line of the table."""

    work: str
    figure: float
    unit: str
    """``×`` for a ratio of two medians of interleaved runs, ``ms``, or empty for a bare number."""
    bar: float | None
    """The most it may be; None where the line only tells more about the one above."""
    detail: str = ""
    """The times behind it."""

    @property
    def held(self) -> bool:
        """Whether it is within its bar, or has none."""
        return self.bar is None or self.figure <= self.bar


def interleaved(
    cases: Mapping[str, Callable[[], float]], runs: int, *, warm: int = 1
) -> dict[str, list[float]]:
    """Run every case by turns; what each gave, without the first `warm` runs."""
    found: dict[str, list[float]] = {name: [] for name in cases}
    for number in range(runs + warm):
        for name, case in cases.items():
            figure = case()
            if number >= warm:
                found[name].append(figure)
    return found


def timed(work: Callable[[], object]) -> float:
    """Milliseconds that a call takes."""
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) * 1e3


def percentile(figures: Iterable[float], share: float) -> float:
    """Give the smallest figure that a share of them does not exceed: the nearest rank."""
    ordered = sorted(figures)
    rank = ceil(round(share * len(ordered), 9))  # 0.07 * 100 is a little more than 7
    return ordered[max(1, rank) - 1]


def ratio(times: Mapping[str, list[float]], name: str, base: str) -> tuple[float, str]:
    """Give the ratio of two medians, and both in words."""
    one, other = median(times[name]), median(times[base])
    return one / other, f"{one:.1f} ms against {other:.1f} ms"


@contextmanager
def part_finished() -> Iterator[Path]:
    """Give a data folder with the demo's build in it, played as far as the demo opens it."""
    entry = entry_at(read_answers_file(demo()), OPENS_AT)
    with TemporaryDirectory(prefix="snugset-bench-") as folder:
        play(demo(), Shelf(Path(folder)), stop_before=entry, at_once=True)
        yield Path(folder)
