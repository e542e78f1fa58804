"""Runs the program on a pseudo-terminal, and reads what a terminal would show."""

import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

import pyte

MAIN = "import sys; from snugset.cli import main; sys.exit(main())"
_CONTROLLING = "import fcntl, termios; fcntl.ioctl(0, termios.TIOCSCTTY, 0)"
"""Makes the terminal the child's own, so that it is told when the terminal goes away."""
PATIENCE = 30.0
"""Seconds after which a test gives up."""


class Terminal:
    """One program on a terminal of its own."""

    def __init__(
        self, words: tuple[str, ...], environ: Mapping[str, str], size: tuple[int, int], code: str
    ) -> None:
        self.screen = pyte.Screen(*size)
        self._stream = pyte.ByteStream(self.screen)
        self.raw = b""
        """Everything that was written, as it was written."""
        self._master, slave = pty.openpty()
        self._tty = os.ttyname(slave)
        _resize(slave, size)
        self.before = termios.tcgetattr(slave)
        self.child = subprocess.Popen(
            [sys.executable, "-c", f"{_CONTROLLING}\n{code}", *words],
            stdin=slave,
            stdout=slave,
            stderr=slave,
            env={
                **{key: value for key, value in os.environ.items() if key != "TEXTUAL_FPS"},
                "TERM": "xterm-256color",
                **environ,
            },
            start_new_session=True,
        )
        self._slave = slave
        """Kept open, so that what was written and the modes can be read after the end."""

    def read(self, seconds: float = 0.05) -> bool:
        """Take in what is written within a time; tell whether there was anything."""
        ready, _, _ = select.select([self._master], [], [], seconds)
        if not ready:
            return False
        try:
            found = os.read(self._master, 65536)
        except OSError:
            return False
        self.raw += found
        self._stream.feed(found.replace(b"\x1b[<u", b"").replace(b"\x1b[>25u", b""))
        return bool(found)

    def until(self, text: str) -> None:
        """Wait until a text stands on the screen."""
        end = time.monotonic() + PATIENCE
        while text not in self.shown:
            assert time.monotonic() < end, f"no {text!r} on:\n{self.shown}"
            assert self.child.poll() is None or self.read(), f"ended without {text!r}: {self.shown}"
            self.read()

    def until_raw(self, written: bytes) -> None:
        """Wait until something was written, whatever it shows."""
        end = time.monotonic() + PATIENCE
        while written not in self.raw:
            assert time.monotonic() < end, self.raw
            self.read()

    def type(self, text: str) -> None:
        """Type on the keyboard, once nothing more is being painted: earlier keys are dropped."""
        while self.read(0.1):
            pass
        os.write(self._master, text.encode())

    @property
    def shown(self) -> str:
        """What stands on the screen."""
        return "\n".join(line.rstrip() for line in self.screen.display)

    def ended(self) -> int:
        """Wait for the end; the exit code."""
        end = time.monotonic() + PATIENCE
        while self.child.poll() is None:
            assert time.monotonic() < end, f"still running:\n{self.shown}"
            self.read()
        while self.read(0.1):
            pass
        return self.child.returncode

    def hang_up(self) -> int:
        """Take the terminal away, as a closed window does; the exit code."""
        os.close(self._slave)
        os.close(self._master)
        self._slave = self._master = -1
        return self.child.wait(PATIENCE)

    def modes(self) -> list[object]:
        """The terminal's modes now."""
        return termios.tcgetattr(self._slave)

    def resize(self, size: tuple[int, int]) -> None:
        """Change the window's size."""
        self.screen.resize(size[1], size[0])
        _resize(self._slave, size)
        os.killpg(self.child.pid, signal.SIGWINCH)

    def close(self) -> None:
        """End whatever is left."""
        if self.child.poll() is None:
            self.child.kill()
        self.child.wait()
        for handle in (self._master, self._slave):
            if handle >= 0:
                os.close(handle)

    def is_whole(self) -> bool:
        """Tell whether the terminal is as it was found: picture, cursor, modes."""
        left = self.raw.rfind(b"\x1b[?1049l")
        return (
            self.raw.count(b"\x1b[?1049h") == self.raw.count(b"\x1b[?1049l")
            and self.raw.rfind(b"\x1b[?25h") >= self.raw.rfind(b"\x1b[?25l")
            and all(
                self.raw.rfind(b"\x1b[?%dl" % mode) >= self.raw.rfind(b"\x1b[?%dh" % mode)
                for mode in (1000, 1003, 1006, 2004, 1004)
            )
            and (left >= 0 or b"\x1b[?1049h" not in self.raw)
            and self.modes() == self.before
        )


def _resize(handle: int, size: tuple[int, int]) -> None:
    fcntl.ioctl(handle, termios.TIOCSWINSZ, struct.pack("HHHH", size[1], size[0], 0, 0))


@contextmanager
def on_terminal(
    data: Path,
    *words: str,
    size: tuple[int, int] = (80, 24),
    code: str = MAIN,
    **environ: str,
) -> Iterator[Terminal]:
    """Run the program with these words on its command line, its data in a folder of the test's."""
    kept = {
        "SNUGSET_DATA": str(data / "data"),
        "SNUGSET_PERSON": "Wren",
        "TMPDIR": str(data),
        "HOME": str(data),
        "PYTHONUTF8": "1",
    }
    terminal = Terminal(words, {**kept, **environ}, size, code)
    try:
        yield terminal
    finally:
        terminal.close()
