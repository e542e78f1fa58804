"""From a key's byte on a pseudo-terminal to the frame that shows it, on the largest build."""

from collections.abc import Iterator
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from bench.big import EVENTS, Largest
from bench.table import MAIN, Row, percentile
from bench.terminal import Running, running

KEYS = 150
BARE = """
from textual.app import App
from textual.widgets import Input

class Bare(App):
    def compose(self):
        yield Input(placeholder="Bare field")

Bare().run()
"""
FIRST, SLOWEST, FLAT, FLAT_WORK = 100.0, 33.0, 1.25, 1.1
FEW = 300
"""Events of the same build without the notes, near enough."""
_SHOWN = "QWZX"
"""Letters that end no control sequence, so that they are seen only where they are shown."""
_ERASE = "\x7f"


def opened(child: Running) -> float:
    """Open the build past its return screen; milliseconds that the very first key takes."""
    child.until("You are back")
    child.settle(0.3)
    child.key("Q")
    first = child.until("Q")
    child.settle(0.5)
    child.key(_ERASE)
    child.settle(1)
    child.key("\r")
    child.settle(1.5)
    return first


def typed(child: Running, letter: str, work: list[float]) -> float:
    """Type a letter that stands nowhere yet; milliseconds until it is shown.

    What the processor did for it in all, what it comes to included, is put into `work`.
    """
    before = child.worked()
    child.key(letter)
    took = child.until(letter)
    child.settle(0.06)
    work.append(child.worked() - before)
    child.key(_ERASE)
    child.settle(0.06)
    return took


def rows() -> Iterator[Row]:
    """Type by turns on a build of 5,000 events and on one of a few hundred."""
    with TemporaryDirectory(prefix="snugset-bench-") as folder:
        long, short = Path(folder, "long"), Path(folder, "short")
        Largest(EVENTS).store(long)
        Largest(FEW).store(short)
        words = ["-c", MAIN, "resume", "largest"]
        with (
            running(words, long) as one,
            running(words, short) as other,
            running(["-c", BARE], long) as bare,
        ):
            first = opened(one)
            opened(other)
            bare.until("are field")
            times: dict[str, list[float]] = {"long": [], "short": [], "bare": []}
            work: dict[str, list[float]] = {name: [] for name in times}
            children = {"long": one, "short": other, "bare": bare}
            for number in range(KEYS):
                letter = _SHOWN[number % len(_SHOWN)]
                for name, child in children.items():
                    times[name].append(typed(child, letter, work[name]))
    found = times["long"]
    detail = f"median {median(found):.1f} ms, slowest {max(found):.1f} ms of {KEYS}"
    yield Row("key to frame, 99th percentile", percentile(found, 0.99), "ms", SLOWEST, detail)
    bare_99 = percentile(times["bare"], 0.99)
    detail = f"median {median(times['bare']):.1f} ms; what the machine and the library take"
    yield Row("the same in a bare app with one field", bare_99, "ms", None, detail)
    yield Row("key to frame, the first key", first, "ms", FIRST, "once, 0.3 s after the prompt")
    flat = median(found) / median(times["short"])
    detail = f"median {median(found):.1f} ms against {median(times['short']):.1f} ms"
    yield Row(f"key to frame, {EVENTS} events against {FEW}", flat, "×", FLAT, detail)
    busy, less = median(work["long"]), median(work["short"])
    yield Row(
        f"processor time of a key, {EVENTS} events against {FEW}",
        busy / less,
        "×",
        FLAT_WORK,
        f"{busy:.1f} ms against {less:.1f} ms; a busy machine does not change it",
    )
