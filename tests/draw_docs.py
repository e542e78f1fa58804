"""Draws all pictures in the documents from the program itself: ``python tests/draw_docs.py``.

The clock is told, so the same program draws the same picture. Nothing in it is fetched from
anywhere: no font, no style.
"""

import asyncio
import re
import sys
import tempfile
from datetime import datetime, timedelta
from pathlib import Path

from textual.widgets import Input

from driving import ANSWERS, ROOT
from screens.stage import at, playing, stage
from snugset.commands.demonstrating import OPENS_AT, entry_at
from snugset.journal.reading import read_records
from snugset.play import play, read_answers_file
from snugset.values import replace

SIZE = (100, 30)
TYPED = "40+38; 40+40"
BENCH = ROOT / "docs" / "bench.svg"
FOLDER = ROOT / "docs" / "pictures"
MOMENTS: dict[str, tuple[str, tuple[str, ...]]] = {
    "builds": ("gap@4E#1", ("escape",)),
    "spec-prompt": ("spec.cover-torque", tuple("72")),
    "spec-sheet": ("manual", ("f8", *["down"] * 4)),
    "tighten": ("head-tighten@2.3", ()),
    "crank": ("points.turn@P1#1", ()),
    "working": ("gap@4E#1", (*"40+38;40+40", "ctrl+e")),
    "order": ("lengths#1", ()),
    "calculators": ("gap@4E#1", ("ctrl+f",)),
    "calculator": ("gap@4E#1", ("ctrl+f", *"clamp", "enter")),
    "history": ("head-tighten@2.3", ("f9", "f3")),
    "return": ("gap@4E#1", ()),
}
"""The guide's pictures: where the demo stands, and the keys that are pressed there."""
_LEFT_OUT = re.compile(r"@font-face\s*\{.*?\}|<!--.*?-->|<circle [^>]*/>", re.DOTALL)
"""Fonts to be fetched, whose library it is, and the buttons of a window that is not there."""
_FONTS = {"Fira Code, monospace": "monospace", "arial": "sans-serif"}


async def bench() -> str:
    """Draw the bench with the demo open at a reading that is being typed."""
    with tempfile.TemporaryDirectory() as scratch:
        there = stage(Path(scratch))
        stop = entry_at(read_answers_file(ANSWERS), OPENS_AT)
        folder = play(ANSWERS, there.shelf, stop_before=stop, at_once=True).folder
        there.clock.moment = datetime.fromisoformat(read_records(folder)[-1].at)
        async with playing(there.app(there.opening(folder)), SIZE) as player:
            player.bench.field.cursor_blink = False
            await player.type(TYPED)
            return drawn(player.app.export_screenshot(title="snugset demo"))


async def moment(name: str) -> str:
    """Draw one of the guide's pictures: the demo at an address, once some keys were pressed."""
    address, keys = MOMENTS[name]
    told = at(address)
    if name == "return":
        told = replace(told, records=list(told.records))
        told.away(timedelta(days=9))
    with tempfile.TemporaryDirectory() as scratch:
        there = stage(Path(scratch))
        app = there.app(there.opening(there.put(told)))
        async with playing(app, SIZE) as player:
            await player.press(*keys)
            for field in app.screen.query(Input):
                field.cursor_blink = False
            await player.settled()
            return drawn(app.export_screenshot(title="snugset"))


def drawn(picture: str) -> str:
    """Take out of a picture what would be fetched, and name fonts that are there."""
    own = _LEFT_OUT.sub("", picture)
    for named, there in _FONTS.items():
        own = own.replace(named, there)
    own = re.sub(r"[ \t]+$", "", own, flags=re.MULTILINE)
    return re.sub(r"\n{3,}", "\n\n", own).strip() + "\n"


async def every() -> dict[Path, str]:
    """Draw every picture, by the file that it is kept in."""
    found = {BENCH: await bench()}
    for name in MOMENTS:
        found[FOLDER / f"{name}.svg"] = await moment(name)
    return found


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for file, picture in asyncio.run(every()).items():
        file.write_text(picture, "utf-8")
        sys.stdout.write(f"drawn: {file}\n")
