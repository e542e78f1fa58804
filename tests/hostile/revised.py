"""Gives files of strangers to builds that have begun, and holds what holds of each."""

import random
import shutil
import time
from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path

from snugset.journal.errors import JournalError
from snugset.journal.head import read_head
from snugset.journal.reading import verify
from snugset.revising import revise
from snugset.stored import BuildError

from . import mutants, sets, trees
from .checked import Tally, ending, nodes
from .journals import forged
from .opened import OWNER, demo_records, open_bench, sheets

_AT = datetime(2027, 1, 4, 8, tzinfo=UTC)


def revise_mutants(seeds: Iterable[int], folder: Path) -> Tally:
    """Revise the demo, broken off anywhere, with a spoiled file a seed.

    It is refused in words and nothing is written, or the build is whole, opens and has its sheets.
    """
    count = taken = 0
    slowest = 0.0
    for seed in seeds:
        try:
            with ending():
                took, revised = _tried(random.Random(seed), folder / "b", folder / "given")
        except Exception as error:
            error.add_note(f"seed {seed}")
            raise
        slowest = max(slowest, took)
        count += 1
        taken += revised
    return Tally(count, taken, slowest * 1000)


def _tried(rng: random.Random, build: Path, given: Path) -> tuple[float, bool]:
    records = list(demo_records())
    forged(build, records[: rng.randint(5, len(records))])
    given.mkdir(exist_ok=True)
    files = mutants.shipped()
    mutants.put(given, files)
    name = rng.choice(["procedure", "engine", *(f"shared/{each}" for each in files.shared)])
    text = sets.kinds(files)[name]
    by_tree = rng.random() < 0.7
    spoiled = trees.mutant(rng, text, nodes()) if by_tree else mutants.mutant(rng, text)
    (given / f"{name}.yaml").write_bytes(mutants.written(rng, spoiled))
    file = given / f"{name if rng.random() < 0.7 else 'procedure'}.yaml"
    before = (build / "journal.sqlite").read_bytes()
    started = time.process_time()
    revised = True
    try:
        revise(build, (file,), reason="a newer leaflet", owner=OWNER, moment=_AT)
    except (BuildError, JournalError) as error:
        assert str(error)
        assert (build / "journal.sqlite").read_bytes() == before
        revised = False
    took = time.process_time() - started
    if revised:
        assert verify(build).whole
        assert read_head(build)
        assert open_bench(build)
        assert all(sheets(build).values())
    shutil.rmtree(build)
    return took, revised
