"""How long commands take to start, against a bare ``python -c pass``."""

import os
import sys
import time
from collections.abc import Iterator
from functools import partial

from bench.table import MAIN, Row, interleaved, part_finished, ratio
from snugset.shipped import demo, engines, procedures

BAR = 5.0
RUNS = 21
_QUIET = [(os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0)]


def started(arguments: list[str], environ: dict[str, str]) -> float:
    """Run Python once; milliseconds."""
    began = time.perf_counter()
    child = os.posix_spawn(
        sys.executable, [sys.executable, *arguments], environ, file_actions=_QUIET
    )
    _, status = os.waitpid(child, 0)
    took = time.perf_counter() - began
    if status:
        raise SystemExit(f"{arguments} ended with {os.waitstatus_to_exitcode(status)}")
    return took * 1e3


def commands() -> dict[str, tuple[list[str], float | None]]:
    """Name the commands: their words, and the bar where there is one."""
    engine, specs = str(engines()["barn-pump-six"]), str(demo().with_name("specs.yaml"))
    procedure = str(procedures()["inline-six-bridged-hydraulic"])
    return {
        "`list`": (["list"], BAR),
        "`list --json`": (["list", "--json"], BAR),
        "`check` of an engine file": (["check", engine], BAR),
        "`check` of a spec sheet": (["check", specs], BAR),
        "`check` of a procedure and its groups": (["check", procedure], None),
        "`figure`": (["figure"], None),
        "`--help`": (["--help"], None),
    }


def rows() -> Iterator[Row]:
    """Measure every command by turns."""
    with part_finished() as data:
        environ = {**os.environ, "SNUGSET_DATA": str(data)}
        cases = {
            "pass": partial(started, ["-c", "pass"], environ),
            **{
                name: partial(started, ["-c", MAIN, *words], environ)
                for name, (words, _) in commands().items()
            },
        }
        times = interleaved(cases, RUNS)
    for name, (_, bar) in commands().items():
        figure, detail = ratio(times, name, "pass")
        yield Row(f"start of {name} against `python -c pass`", figure, "×", bar, detail)
