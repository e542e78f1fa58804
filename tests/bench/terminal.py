"""A program on a pseudo-terminal, timed by what it writes."""

import os
import pty
import select
import signal
import struct
import sys
import termios
import time
from collections.abc import Iterator
from contextlib import contextmanager
from fcntl import ioctl
from pathlib import Path

PATIENCE = 30.0
"""Seconds after which nothing more is expected."""


class Running:
    """A Python with these words, its data in a folder; used through `running`."""

    def __init__(self, words: list[str], data: Path, size: tuple[int, int] = (80, 24)) -> None:
        environ = {
            **os.environ,
            "TERM": "xterm-256color",
            "SNUGSET_DATA": str(data),
            "SNUGSET_PERSON": "Wren",
            "TMPDIR": str(data),
            "HOME": str(data),
            "PYTHONUTF8": "1",
        }
        self._words = words
        self.pid, self._handle = pty.fork()
        if self.pid == 0:
            ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", size[1], size[0], 0, 0))
            os.execve(sys.executable, [sys.executable, *words], environ)  # noqa: S606 - no shell
        self._began = time.perf_counter()
        self.raw = b""
        """What was written since `key` was struck last, or from the start."""

    def until(self, mark: str) -> float:
        """Wait for a text; milliseconds since the start or the last key."""
        while mark.encode() not in self.raw:
            if not self._read(PATIENCE):
                raise SystemExit(f"{self._words}: no {mark!r} in {self.raw[-3000:]!r}")
        return (time.perf_counter() - self._began) * 1e3

    def settle(self, seconds: float) -> None:
        """Let it write for so long."""
        end = time.perf_counter() + seconds
        while (left := end - time.perf_counter()) > 0:
            self._read(left)

    def key(self, typed: str) -> None:
        """Strike a key."""
        self.raw = b""
        self._began = time.perf_counter()
        os.write(self._handle, typed.encode())

    def worked(self) -> float:
        """Milliseconds of processor time so far, of all its threads; only Linux tells it."""
        tasks = Path(f"/proc/{self.pid}/task").glob("*/schedstat")
        return sum(int(task.read_text().split()[0]) for task in tasks) / 1e6

    def end(self) -> None:
        """End it."""
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self._handle)

    def _read(self, seconds: float) -> bool:
        if not select.select([self._handle], [], [], seconds)[0]:
            return False
        try:
            found = os.read(self._handle, 65536)
        except OSError:  # it has ended
            return False
        self.raw += found
        return bool(found)


@contextmanager
def running(words: list[str], data: Path) -> Iterator[Running]:
    """Run Python on a terminal of its own until the block ends."""
    child = Running(words, data)
    try:
        yield child
    finally:
        child.end()
