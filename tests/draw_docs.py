"""Draws the pictures in the documents from the program itself: ``python tests/draw_docs.py``.

The clock is told, so the same program draws the same picture. Nothing in it is fetched from
anywhere: no font, no style.
"""

import asyncio
import re
import sys
import tempfile
from datetime import datetime
from pathlib import Path

from driving import ANSWERS, ROOT
from screens.stage import playing, stage
from snugset.commands.demonstrating import OPENS_AT, entry_at
from snugset.journal.reading import read_records
from snugset.play import play, read_answers_file

SIZE = (100, 30)
TYPED = "40+38; 40+40"
BENCH = ROOT / "docs" / "bench.svg"
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


def drawn(picture: str) -> str:
    """Take out of a picture what would be fetched, and name fonts that are there."""
    own = _LEFT_OUT.sub("", picture)
    for named, there in _FONTS.items():
        own = own.replace(named, there)
    own = re.sub(r"[ \t]+$", "", own, flags=re.MULTILINE)
    return re.sub(r"\n{3,}", "\n\n", own).strip() + "\n"


if __name__ == "__main__":
    BENCH.write_text(asyncio.run(bench()), "utf-8")
    sys.stdout.write(f"drawn: {BENCH}\n")
