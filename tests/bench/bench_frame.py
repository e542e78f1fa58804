"""From exec to the first frame on a pseudo-terminal, against a bare one-widget Textual app."""

import os
import pty
import select
import signal
import struct
import sys
import termios
import time
from collections.abc import Iterator
from fcntl import ioctl
from functools import partial
from pathlib import Path

from bench.table import MAIN, Row, interleaved, part_finished, ratio

RUNS = 15
BARE = """
from textual.app import App
from textual.widgets import Static

class Bare(App):
    def compose(self):
        yield Static("Bare frame")

Bare().run()
"""
LIST, OPENED, PATIENCE = 1.35, 1.7, 30.0


def shown_after(words: list[str], data: Path, *marks: str) -> list[float]:
    """Run Python on a terminal of its own; milliseconds from exec until each text was written."""
    environ = {
        **os.environ,
        "TERM": "xterm-256color",
        "SNUGSET_DATA": str(data),
        "SNUGSET_PERSON": "Wren",
        "TMPDIR": str(data),
        "HOME": str(data),
        "PYTHONUTF8": "1",
    }
    child, handle = pty.fork()
    if child == 0:
        ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        os.execve(sys.executable, [sys.executable, *words], environ)
    began = time.perf_counter()
    raw, times = b"", []
    try:
        for mark in marks:
            while mark.encode() not in raw:
                if not select.select([handle], [], [], PATIENCE)[0]:
                    raise SystemExit(f"{words}: no {mark!r} in {raw[-4000:]!r}")
                raw += os.read(handle, 65536)
            times.append((time.perf_counter() - began) * 1e3)
    finally:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        os.close(handle)
    return times


def rows() -> Iterator[Row]:
    """Measure the list, the demo and resuming; of the last two also the prompt."""
    prompts: dict[str, list[float]] = {"demo": [], "resume": []}

    def first(data: Path, name: str, words: list[str], *marks: str) -> float:
        times = shown_after([*words], data, *marks)
        prompts.get(name, []).append(times[-1])
        return times[0]

    with part_finished() as data:
        ours = ["-c", MAIN]
        times = interleaved(
            {
                "bare": partial(first, data, "bare", ["-c", BARE], "Bare frame"),
                "list": partial(first, data, "list", ours, "Barn pump"),
                "demo": partial(first, data, "demo", [*ours, "demo"], "Snugset", "gap@4I"),
                "resume": partial(
                    first, data, "resume", [*ours, "resume"], "Barn pump", "You are back"
                ),
            },
            RUNS,
        )
    for name, bar in (("list", LIST), ("demo", OPENED), ("resume", OPENED)):
        figure, detail = ratio(times, name, "bare")
        yield Row(f"exec to first frame: {name}", figure, "×", bar, detail)
    for name, found in prompts.items():
        figure, detail = ratio({"bare": times["bare"], name: found[1:]}, name, "bare")
        yield Row(f"exec to the prompt: {name}", figure, "×", None, detail)
