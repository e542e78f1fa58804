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
    """The most memory that it held, to the last hundredth of a second."""


def _held(pid: int) -> float:
    """Give the most memory that a process has held, MiB; 0 where the system has no such file.

    What the system says at the end counts this process too, from which the other was started.
    """
    try:
        lines = Path(f"/proc/{pid}/status").read_text("ascii", "replace").splitlines()
    except OSError:
        return 0.0
    return next((int(s.split()[1]) / 1024 for s in lines if s.startswith("VmHWM:")), 0.0)


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
        held = 0.0
        while True:
            held = max(held, _held(child.pid))
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
            held or used.ru_maxrss / 1024**2,
        )


def peak() -> float:
    """Give the most memory that this process held, in MiB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
