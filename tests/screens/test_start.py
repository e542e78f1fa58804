"""Starting: what is loaded before the first picture stands, and what only after it."""

import subprocess
import sys
from pathlib import Path

import pytest

from driving import ANSWERS
from snugset.commands import demonstrating
from snugset.journal.reading import read_records
from snugset.journal.shelf import Shelf
from snugset.play import play

CODE = """
import asyncio, sys
from pathlib import Path
from snugset.journal.shelf import Shelf
from snugset.screens.app import SnugsetApp
from snugset.screens.doors import Doors, Opening

folder = Path({folder!r})
doors = Doors(shelf=Shelf(Path({data!r})), person="Wren", demo=None, begin=None)
app = SnugsetApp(doors, (lambda: Opening(folder=folder)) if {opened} else None)
seen = []
display = app._display

def first(screen, picture):
    if type(screen).__name__ == "BuildsScreen" and not seen:
        seen.extend(m for m in ("snugset.trade", "snugset.guide") if m in sys.modules)
        seen.append("painted")
    display(screen, picture)

app._display = first

async def main():
    async with app.run_test() as pilot:
        while "snugset.trade.calculators" not in sys.modules:
            await pilot.pause(0.02)

asyncio.run(main())
app.let_go()
print(*seen)
"""


@pytest.mark.parametrize("opened", [False, True], ids=["list", "build"])
def test_guide_and_calculators_are_loaded_after_the_first_picture_and_not_before(
    tmp_path: Path,
    opened: bool,  # noqa: FBT001
) -> None:
    folder = play(ANSWERS, Shelf(tmp_path), stop_before=20, at_once=True).folder
    done = subprocess.run(
        [sys.executable, "-c", CODE.format(folder=str(folder), data=str(tmp_path), opened=opened)],
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    assert done.stdout.split() == ["painted"]


def test_a_demo_that_is_written_at_once_holds_the_same_records(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    whole = read_records(play(ANSWERS, Shelf(tmp_path / "played")).folder)
    made = read_records(demonstrating.make())
    assert made == whole[: len(made)]
    assert len(made) > 200
