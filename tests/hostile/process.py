"""Runs the program by itself, and measures what it takes."""

import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

MAIN = "import sys; from snugset.cli import main; sys.exit(main())"


class Ran(NamedTuple):
    """What came of one run."""

    code: int
    out: bytes
    """What was written, to both streams."""
    milliseconds: float
    """By the processor's clock, so that a busy machine does not count."""
    mebibytes: float
    """The most memory that it held; never less than what this process held when it started it."""


def run(*words: object, data: Path, patience: float = 120, **environ: str) -> Ran:
    """Run the program with these words; TimeoutExpired if it does not end."""
    env: Mapping[str, str] = {
        **os.environ,
        "SNUGSET_DATA": str(data),
        "SNUGSET_PERSON": "Wren",
        "HOME": str(data.parent),
        "PYTHONUTF8": "1",
        **environ,
    }
    with tempfile.TemporaryFile() as out:
        child = subprocess.Popen(
            [sys.executable, "-c", MAIN, *map(str, words)],
            stdin=subprocess.DEVNULL,
            stdout=out,
            stderr=out,
            env=dict(env),
        )
        ends = time.monotonic() + patience
        while True:
            pid, status, used = os.wait4(child.pid, os.WNOHANG)
            if pid:
                break
            if time.monotonic() > ends:
                child.kill()
                child.wait()
                raise subprocess.TimeoutExpired(child.args, patience)
            time.sleep(0.01)
        child.returncode = os.waitstatus_to_exitcode(status)
        out.seek(0)
        return Ran(
            child.returncode,
            out.read(),
            (used.ru_utime + used.ru_stime) * 1000,
            used.ru_maxrss / (1024 if sys.platform == "linux" else 1024 * 1024),
        )


def peak() -> float:
    """Give the most memory that this process held, in MiB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
