"""Input of strangers in its long form: 20,000 files, 100,000 figures, 2,000 journals, bombs.

As many backups as journals, and a quarter as many revisions.

A fault is an exception that is no sentence, or a figure read otherwise than by the second reader.
It takes ten minutes and more on two idle cores; SNUGSET_HOSTILE=0.01 takes a hundredth of each.
"""

import os
import tempfile
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

from bench.table import Row
from hostile.archives import restore_mutants
from hostile.bombs import bombs
from hostile.checked import check_mutants
from hostile.opened import open_mutants
from hostile.process import peak, run
from hostile.readings import hold
from hostile.revised import revise_mutants

FILES, STRINGS, JOURNALS = 20_000, 100_000, 2_000
SLOWEST, MOST = 2000.0, 200.0
"""Milliseconds of the processor, and MiB, for one."""
_SHARE = 50

_Share = tuple[int, int, float, float, str]
"""How many, how many of them were taken, the slowest, the peak, and what was no sentence."""


def _tried(work: Callable[[], tuple[int, int, float]], count: int) -> _Share:
    try:
        return (*work(), peak(), "")
    except Exception as error:  # noqa: BLE001 - each is a fault, and is told
        note = "; ".join(getattr(error, "__notes__", ()))
        return count, 0, 0.0, peak(), f"{type(error).__name__}: {str(error)[:200]} ({note})"


def _mutants(tried: Callable[[range, Path], tuple[int, int, float]], first: int) -> _Share:
    def work() -> tuple[int, int, float]:
        with tempfile.TemporaryDirectory() as folder:
            return tried(range(first, first + _SHARE), Path(folder))

    return _tried(work, _SHARE)


def _strings(first: int) -> _Share:
    def work() -> tuple[int, int, float]:
        tally = hold(first, _SHARE * 10)
        return tally.strings, tally.read, tally.slowest

    return _tried(work, _SHARE * 10)


def _rows(what: str, share: Callable[[int], _Share], firsts: Sequence[int]) -> Iterator[Row]:
    with ProcessPoolExecutor(os.cpu_count()) as pool:
        found = list(pool.map(share, firsts))
    count, taken = sum(each[0] for each in found), sum(each[1] for each in found)
    faults = [each[4] for each in found if each[4]]
    detail = faults[0] if faults else f"{taken:,} of them taken"
    yield Row(f"faults in {count:,} {what}", len(faults), "", 0, detail)
    yield Row(f"slowest of the {what}", max(each[2] for each in found), "ms", SLOWEST)
    yield Row(f"memory, the {what}", max(each[3] for each in found), "MiB", MOST)


def rows() -> Iterator[Row]:
    """Take what strangers may give."""
    part = float(os.environ.get("SNUGSET_HOSTILE", "1"))
    many = [range(0, max(_SHARE, int(n * part)), _SHARE) for n in (FILES, STRINGS // 10, JOURNALS)]
    yield from _rows("spoiled files", partial(_mutants, check_mutants), many[0])
    yield from _rows("typed figures", _strings, many[1])
    yield from _rows("forged journals", partial(_mutants, open_mutants), many[2])
    yield from _rows("spoiled backups", partial(_mutants, restore_mutants), many[2])
    few = many[2][: len(many[2]) // 4 or 1]
    yield from _rows("revisions with spoiled files", partial(_mutants, revise_mutants), few)
    with tempfile.TemporaryDirectory() as folder:
        found = {}
        for name, content in bombs().items():
            file = Path(folder) / "bomb.yaml"
            file.write_bytes(content)
            found[name] = run("check", file, data=Path(folder) / "data")
    faults = [n for n, ran in found.items() if ran.code not in (0, 1) or b"fault inside" in ran.out]
    yield Row(f"faults in {len(found)} bombs", len(faults), "", 0, ", ".join(faults))
    slow = max(found, key=lambda name: found[name].milliseconds)
    large = max(found, key=lambda name: found[name].mebibytes)
    yield Row("slowest bomb, processor", found[slow].milliseconds, "ms", SLOWEST, slow)
    yield Row("memory, bombs", found[large].mebibytes, "MiB", MOST, large)
