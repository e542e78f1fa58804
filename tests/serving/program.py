"""The real program: `snugset serve` as a process, and a terminal in memory for what it draws."""

import os
import re
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from queue import Empty, Queue
from threading import Thread

import pyte

MAIN = "import sys; from snugset.cli import main; sys.exit(main())"
NEW = ("new", "inline-six-bridged-hydraulic", "--engine", "barn-pump-six", "--name", "north")
FIRST = "How far out of flat may the head"
SECOND = "How far out of flat may the deck"
PATIENCE = 30.0
"""Seconds after which a test gives up."""


class Glass:
    """What a terminal shows of the bytes it was given."""

    def __init__(self, width: int = 80, height: int = 24) -> None:
        self._screen = pyte.Screen(width, height)
        self._stream = pyte.ByteStream(self._screen)

    def draw(self, data: bytes) -> None:
        """Take bytes that were drawn."""
        # The emulator shows the private parameters of two sequences as letters: leave them out.
        self._stream.feed(re.sub(rb"\x1b\[[<>=?][0-9;]*\$?[a-zA-Z]", b"", data))

    def resize(self, width: int, height: int) -> None:
        """Give it another size."""
        self._screen.resize(height, width)

    @property
    def text(self) -> str:
        """All lines."""
        return "\n".join(self._screen.display)


def environ(folder: Path) -> dict[str, str]:
    """Give an environment whose home, data and scratch folders are the test's."""
    for name in ("home", "scratch"):
        (folder / name).mkdir(exist_ok=True)
    return {
        **{k: v for k, v in os.environ.items() if not k.startswith(("SNUGSET", "XDG", "TEXTUAL"))},
        "HOME": str(folder / "home"),
        "TMPDIR": str(folder / "scratch"),
        "SNUGSET_DATA": str(folder / "data"),
        "SNUGSET_PERSON": "Wren",
        "PYTHONUTF8": "1",
    }


def run(folder: Path, *words: str, typed: str = "") -> str:
    """Run one command to its end; what it wrote."""
    done = subprocess.run(
        [sys.executable, "-c", MAIN, *words],
        input=typed,
        stdout=subprocess.PIPE,
        text=True,
        env=environ(folder),
        timeout=60,
        check=True,
    )
    return done.stdout


def begin(folder: Path) -> Path:
    """Begin a build; its folder."""
    run(folder, *NEW)
    return folder / "data" / "builds" / "north"


class Server:
    """`snugset serve`, and the terminal it was started in."""

    def __init__(self, child: "subprocess.Popen[str]") -> None:
        self.child = child
        self.lines: list[str] = []
        self._fresh: Queue[str] = Queue()
        self._reader = Thread(target=self._read, daemon=True)
        self._reader.start()

    def _read(self) -> None:
        assert self.child.stdout is not None
        for line in self.child.stdout:
            self._fresh.put(line)

    def until(self, pattern: str) -> "re.Match[str]":
        """Wait for a line that was not looked at before."""
        ends = time.monotonic() + PATIENCE
        while True:
            try:
                line = self._fresh.get(timeout=max(0.0, ends - time.monotonic()))
            except Empty:
                raise AssertionError(f"{pattern} was not said: {self.lines}") from None
            self.lines.append(line)
            if found := re.search(pattern, line):
                return found

    def code(self) -> str:
        """Wait for the next pairing code."""
        return "".join(self.until(r"Pairing code: (\d{4}) (\d{4})").groups())

    def enter(self) -> None:
        """Press Enter in its terminal."""
        assert self.child.stdin is not None
        self.child.stdin.write("\n")
        self.child.stdin.flush()

    def rest(self) -> str:
        """Give all lines that were not looked at, once it has ended."""
        self._reader.join(PATIENCE)
        found = []
        while not self._fresh.empty():
            found.append(self._fresh.get())
        return "".join(found)

    def ended(self) -> int:
        """Wait for its end; the exit code."""
        return self.child.wait(PATIENCE)


@contextmanager
def serving(
    folder: Path, *words: str, code: str = MAIN, more: Mapping[str, str] | None = None
) -> Iterator[Server]:
    """Serve a data folder on a free loopback port."""
    with subprocess.Popen(
        [sys.executable, "-c", code, "serve", "--port", "0", *words],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**environ(folder), **(more or {})},
    ) as child:
        server = Server(child)
        try:
            yield server
        finally:
            if child.poll() is None:
                child.terminate()
                try:
                    child.wait(PATIENCE)
                except subprocess.TimeoutExpired:
                    child.kill()
            if child.stdin is not None:
                child.stdin.close()


def address(server: Server) -> str:
    """Give the address that the builder is told, without its last stroke."""
    return server.until(r"(http://[\d.]+:\d+)/")[1]
