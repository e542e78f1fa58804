"""Memory at its most, after a whole V8 build was answered on the screen, against the bare app."""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from bench.table import Row, interleaved

BAR = 1.6
RUNS = 1
_ANSWERS = Path(__file__).parents[1] / "walk" / "v8-bridged-hydraulic-answers.yaml"
_ALONE = """
import sys
sys.modules.update(dict.fromkeys(("numpy", "uncertainties", "scipy", "pytest")))
"""
"""The tests' libraries, which an installed program has not, are not to be had."""
_MOST = """
from pathlib import Path
import resource
status = Path("/proc/self/status")
if status.is_file():
    print(next(int(l.split()[1]) for l in status.open() if l.startswith("VmHWM")) / 1024)
else:
    print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024**2)
"""
"""The program's own: on Linux `ru_maxrss` may be that of the process which started it."""
_BARE = """
import asyncio
from textual.app import App
from textual.widgets import Static

class Bare(App):
    def compose(self):
        yield Static("Bare frame")

async def main():
    async with Bare().run_test(size=(80, 24)) as pilot:
        await pilot.pause()

asyncio.run(main())
"""
_WHOLE = """
import asyncio, sys
from pathlib import Path
from snugset.files.answers import Person, Wait
from snugset.guide.address import Address
from snugset.journal.shelf import Shelf
from snugset.play import Paced, play, read_answers_file
from snugset.screens.app import SnugsetApp
from snugset.screens.doors import Doors, Opening

file, data = Path(sys.argv[1]), Path(sys.argv[2])
answers = read_answers_file(file)
folder = play(file, Shelf(data), stop_before=0).folder
clock = Paced(answers.start)
doors = Doors(shelf=Shelf(data), person="Wren", demo=None, begin=None)
app = SnugsetApp(doors, lambda: Opening(folder=folder, clock=clock, fresh=True))

async def main():
    async with app.run_test(size=(80, 24)) as pilot:
        while app._desk is None or "snugset.trade.calculators" not in sys.modules:
            await pilot.pause(0.05)
        desk = app._desk
        for entry in answers.answers:
            if isinstance(entry, Wait):
                clock.advance(entry.time.number("s"))
                await desk.refresh()
            elif not isinstance(entry, Person):
                clock.advance(answers.pace.number("s"))
                await desk.say(entry.text, Address.parse(entry.at))
            app.screen.show(desk.look)
            await pilot.pause()
        assert desk.look.prompt is None, desk.look.prompt

asyncio.run(main())
app.let_go()
"""


def most(code: str, *words: str) -> float:
    """Run Python; the most memory that it held, MiB."""
    done = subprocess.run(
        [sys.executable, "-c", f"{_ALONE}\n{code}\n{_MOST}", *words],
        stdout=subprocess.PIPE,
        text=True,
        check=True,
    )
    return float(done.stdout.split()[-1])


def whole() -> float:
    """Answer a whole build in a folder of its own."""
    with TemporaryDirectory(prefix="snugset-bench-") as data:
        return most(_WHOLE, str(_ANSWERS), data)


def rows() -> Iterator[Row]:
    """Run both by turns, without a terminal: every frame is made, none is written."""
    # The first run of each is not counted: it compiles the library, and that takes memory too.
    found = interleaved({"bare": lambda: most(_BARE), "whole": whole}, RUNS, warm=1)
    bare, ours = median(found["bare"]), median(found["whole"])
    detail = f"{ours:.0f} MiB against {bare:.0f} MiB"
    yield Row("memory after a whole V8 build against the bare app", ours / bare, "×", BAR, detail)
