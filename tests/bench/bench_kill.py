"""A thousand kills of a walk at full speed, through every kind of step, and 210 of commands.

What is proven after each kill stands in ``tests/killing.py``, whose short form is a test. It takes
some minutes on two cores; SNUGSET_KILLS=0.02 makes a fiftieth of the kills, SNUGSET_KILLS_SEED=7
others than last time. They are made in the folder where it is started: on a disk, not in memory.
"""

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from bench.table import Row

KILLS, VERBS = 1000, 210
_HARNESS = Path(__file__).parent.parent / "killing.py"


def _killed(kills: int, verbs: int, seed: int) -> tuple[dict[str, Any], str]:
    words = ["--folder", ".", "--kills", kills, "--verbs", verbs, "--seed", seed]
    done = subprocess.run(
        [sys.executable, str(_HARNESS), *map(str, words)],
        capture_output=True,
        text=True,
        check=False,
    )
    if not done.stdout:
        raise SystemExit(done.stderr)
    return json.loads(done.stdout), done.stderr


def rows() -> Iterator[Row]:
    """Kill on every core, each with a seed of its own."""
    share, cores = float(os.environ.get("SNUGSET_KILLS", "1")), os.cpu_count() or 1
    first = int(os.environ.get("SNUGSET_KILLS_SEED", "1"))
    kills, verbs = (max(7, round(count * share / cores)) for count in (KILLS, VERBS))
    with ThreadPoolExecutor(cores) as pool:
        ran = list(pool.map(lambda core: _killed(kills, verbs, first + core), range(cores)))
    found = [result for result, _ in ran]
    faults = next((said.strip().split("\n")[0] for _, said in ran if said), "")
    kills = sum(part["kills"] for part in found)
    verbs = sum(sum(part["verbs"].values()) for part in found)
    kinds = set().union(*(part["kinds"] for part in found))
    never = sorted(set.intersection(*(set(part["never under way"]) for part in found)))
    acknowledged = sum(part["acknowledged"] for part in found)
    lost, unopened = (sum(part[name] for part in found) for name in ("lost", "unopened"))
    where = f"{len(kinds)} kinds of step" + (f"; never at {', '.join(never)}" if never else "")
    work = f"events lost of {acknowledged:,} acknowledged in {kills:,} kills"
    yield Row(f"{work} of a walk and {verbs} of commands", lost, "", 0, faults or where)
    yield Row("builds that do not open after them", unopened, "", 0, faults)
