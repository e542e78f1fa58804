"""How long commands take to start, against a bare ``python -c pass``, in interleaved runs.

``python tests/bench/bench_start.py [RUNS]`` prints for each command the median time, its ratio to
the bare start, the same for processor time, and the bar. Other work on the machine disturbs the
first ratio more than the second.
"""

import os
import sys
import tempfile
import time
from statistics import median

from snugset.cli import main
from snugset.shipped import demo, engines, procedures

BAR = 5.0
_MAIN = "import sys; from snugset.cli import main; sys.exit(main())"
_QUIET = [(os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0)]


def started(arguments: list[str], data: str) -> tuple[float, float]:
    """Run Python once; seconds by the clock, and of the processor."""
    began = time.perf_counter()
    child = os.posix_spawn(
        sys.executable,
        [sys.executable, *arguments],
        {**os.environ, "SNUGSET_DATA": data},
        file_actions=_QUIET,
    )
    _, status, used = os.wait4(child, 0)
    took = time.perf_counter() - began
    if status:
        raise SystemExit(f"{arguments} ended with {os.waitstatus_to_exitcode(status)}")
    return took, used.ru_utime + used.ru_stime


def cases() -> dict[str, tuple[list[str], float | None]]:
    """Name what is measured: the arguments of Python, and the bar where there is one."""
    engine, specs = str(engines()["barn-pump-six"]), str(demo().with_name("specs.yaml"))
    procedure = str(procedures()["inline-six-bridged-hydraulic"])
    ours = {
        "list": (["list"], BAR),
        "list --json": (["list", "--json"], BAR),
        "check ENGINE": (["check", engine], BAR),
        "check SPECS": (["check", specs], BAR),
        "check PROCEDURE": (["check", procedure], None),
        "figure": (["figure"], None),
        "--help": (["--help"], None),
    }
    return {
        "python -c pass": (["-c", "pass"], None),
        "import yaml": (["-c", "import yaml"], None),
        **{name: (["-c", _MAIN, *words], bar) for name, (words, bar) in ours.items()},
    }


def measure(runs: int, data: str) -> None:
    """Run everything by turns and print the table."""
    table = cases()
    times: dict[str, list[tuple[float, float]]] = {name: [] for name in table}
    for _ in range(runs):
        for name, (arguments, _) in table.items():
            times[name].append(started(arguments, data))
    bare = [median(column) for column in zip(*times["python -c pass"], strict=True)]
    sys.stdout.write(f"{'':18}{'ms':>8}{'ratio':>8}{'cpu ms':>8}{'ratio':>8}   bar\n")
    for name, (_, bar) in table.items():
        clock, used = (median(column) for column in zip(*times[name], strict=True))
        shown = "" if bar is None else f"{bar:g} {'held' if clock / bare[0] <= bar else 'MISSED'}"
        sys.stdout.write(
            f"{name:18}{clock * 1000:8.1f}{clock / bare[0]:8.2f}"
            f"{used * 1000:8.1f}{used / bare[1]:8.2f}   {shown}\n"
        )


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        os.environ["SNUGSET_DATA"] = folder
        main(["replay", str(demo())])
        measure(int((*sys.argv, "15")[1]), folder)
