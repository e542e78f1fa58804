"""Running the screens, and leaving the terminal whole however they end."""

import asyncio
import signal

from snugset.journal.shelf import Entry
from snugset.screens.app import SnugsetApp
from snugset.screens.doors import Doors, Start

ENDINGS = (signal.SIGTERM, signal.SIGHUP, signal.SIGINT)


def run(doors: Doors, start: Start = None, head: Entry | None = None) -> None:
    """Run the screens until they are left.

    `head` says where the build stands that `start` gives; it is shown until that is read.

    Raises what ended them, once the terminal is restored: JournalError or BuildError where the
    build could not be opened, SystemExit at a signal, the exception itself at a fault. Everything
    answered is on disk, and the build is let go.
    """
    app = SnugsetApp(doors, start, head)
    try:
        asyncio.run(_until_left(app))
    finally:
        app.let_go()
    if app.ended:
        raise SystemExit(128 + app.ended)
    if app.failure is not None:
        raise app.failure


async def _until_left(app: SnugsetApp) -> None:
    """Listen for signals before the terminal is touched, and until it is restored."""
    loop = asyncio.get_running_loop()
    for number in ENDINGS:
        loop.add_signal_handler(number, app.end, number)
    await app.run_async()
