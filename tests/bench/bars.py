"""Every quality bar in one table, measured in one run: ``python tests/bench/bars.py [ROWS...]``.

Each file beside this one that is named ``bench_NAME.py`` gives the rows of NAME; with names on the
command line only those are measured. A ratio is of medians of runs that alternate, so that a slow
moment of the machine meets both sides; still, an idle machine gives the steadiest figures. Exit 1
if a bar is not held.
"""

import os
import platform
import sys
import tempfile
from collections.abc import Iterator
from datetime import UTC, datetime
from importlib import import_module
from pathlib import Path

HERE = Path(__file__).parent
NAMES = sorted(file.stem.removeprefix("bench_") for file in HERE.glob("bench_*.py"))


def machine() -> str:
    """Say what it runs on, so that two tables can be told apart."""
    model = platform.processor() or platform.machine()
    info = Path("/proc/cpuinfo")
    if info.is_file():
        lines = info.read_text("utf-8", "replace").split("\n")
        model = next((ln.partition(":")[2].strip() for ln in lines if "model name" in ln), model)
    load = "/".join(f"{each:.1f}" for each in os.getloadavg())
    return (
        f"{datetime.now(UTC):%Y-%m-%d %H:%M} UTC · {platform.system()} · {model}, "
        f"{os.cpu_count()} cores, load {load} · Python {platform.python_version()}"
    )


def lines(names: list[str]) -> Iterator[tuple[str, bool]]:
    """Measure, and give each line with whether its bar is held."""
    yield machine(), True
    yield "", True
    yield "| work | measured | bar | | |", True
    yield "|---|---:|---:|---|---|", True
    for name in names:
        for row in import_module(f"bench.bench_{name}").rows():
            bar = "" if row.bar is None else f"{row.bar:g} {row.unit}".rstrip()
            verdict = "" if row.bar is None else "held" if row.held else "**missed**"
            figure = f"{row.figure:.2f} {row.unit}".rstrip()
            yield f"| {row.work} | {figure} | {bar} | {verdict} | {row.detail} |", row.held


def main(names: list[str]) -> int:
    """Print the table; 1 if a bar is missed, 2 if a row is not known."""
    unknown = [name for name in names if name not in NAMES]
    if unknown:
        sys.stderr.write(f"no rows {', '.join(unknown)}; there are: {', '.join(NAMES)}\n")
        return 2
    sys.path.insert(0, str(HERE.parent))
    missed = False
    with tempfile.TemporaryDirectory(prefix="snugset-bytecode-") as compiled:
        # Every Python that is started keeps what it compiles, as an installed program has it.
        os.environ["PYTHONPYCACHEPREFIX"] = compiled
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        for line, held in lines(names or NAMES):
            missed |= not held
            sys.stdout.write(f"{line}\n")
            sys.stdout.flush()
    return int(missed)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
