"""The application: the list of builds, and the bench of the one that is open."""

import asyncio
import errno
import gc
from collections.abc import Iterable
from importlib import import_module
from time import monotonic

from rich.console import RenderableType
from textual.app import App, SystemCommand
from textual.driver import Driver
from textual.drivers.linux_driver import LinuxDriver
from textual.screen import Screen
from textual.worker import WorkerFailed

from snugset.clock import now, utc
from snugset.journal.errors import OpenElsewhere
from snugset.journal.owner import Owner
from snugset.journal.shelf import Entry
from snugset.screens import commands, looks
from snugset.screens.builds import BuildsScreen
from snugset.screens.doors import Doors, Opening, Start
from snugset.screens.terminal import Terminal
from snugset.typed import TYPE_CHECKING

if TYPE_CHECKING:
    from snugset.screens.desk import Desk

_BENCH = "snugset.screens.bench"
"""Loaded after the first picture: the whole guide comes with it."""
_PAUSE = 0.2
"""Seconds between two tries to open a build that is open elsewhere."""

_FOLLOW = "snugset.screens.follow"


class SnugsetApp(App[None]):
    """Snugset on a terminal's whole screen."""

    TITLE = "Snugset"
    CSS = looks.CSS
    ENABLE_COMMAND_PALETTE = True

    def __init__(self, doors: Doors, start: Start = None, head: Entry | None = None) -> None:
        super().__init__()
        self.doors = doors
        self.shelf = doors.shelf
        self.forms: dict[str, dict[str, str]] = {}
        """What is typed in the calculators' forms, by build and calculator."""
        self.failure: BaseException | None = None
        """What ended the screens, where something went wrong."""
        self.ended = 0
        """The signal that ended them; 0 for none."""
        self.far = False
        """Whether the bench is seen from afar; kept as long as the program runs."""
        self._start = start
        self._head = head
        """What is known of the build that opens first, before it is read."""
        self._builds: BuildsScreen
        self._desk: Desk | None = None
        for theme in looks.THEMES:
            self.register_theme(theme)
        self.theme = looks.DARK.name
        self.animation_level = "none"  # a text that glides costs a slow line many pictures

    def get_driver_class(self) -> type[Driver]:
        """Give the driver of a terminal that may go away, in place of the library's own."""
        found = super().get_driver_class()
        if found.__name__ == "WebDriver":
            from snugset.screens.browser import Browser  # noqa: PLC0415 - in a browser only

            return Browser
        return Terminal if found is LinuxDriver else found

    async def on_mount(self) -> None:
        """Show the list; what was asked for opens over it once the first picture stands."""
        self._builds = BuildsScreen(opening=self._start is not None, head=self._head)
        await self.push_screen(self._builds)
        self.call_after_refresh(self._go_on)

    def _go_on(self) -> None:
        """Open what was asked for; without it, load what opening a build will need."""
        if self._start is not None:
            self._builds.make(self._start, must=True)
        else:
            self.run_worker(self._listed(), name="listed", group="listed")

    async def _listed(self) -> None:
        """Load once the list stands: two that load and read take the processor from each other."""
        await self._builds.listed.wait()
        self._get_ready()

    def _get_ready(self) -> None:
        """Load what the first reading needs, once nothing waits to be painted."""
        self.run_worker(_prepare, thread=True, name="ready", group="ready", exclusive=True)

    async def open_build(self, opening: Opening) -> None:
        """Open a build on the bench; JournalError or ValueError if it cannot be."""
        if opening.follow:
            follow = await asyncio.to_thread(import_module, _FOLLOW)
            await self.push_screen(await follow.stand_beside(opening), self._builds.taken_over)
            return
        bench = await asyncio.to_thread(import_module, _BENCH)
        owner = Owner.here(person=self.doors.person, since=utc(now()))
        until = monotonic() + self.doors.patience
        while True:
            try:
                screen = await bench.sit_down(opening, owner)
                break
            except OpenElsewhere:
                if monotonic() >= until:
                    raise
                await asyncio.sleep(_PAUSE)
        self._desk = screen.desk
        await self.push_screen(screen)
        screen.call_after_refresh(self._get_ready)

    def fail(self, error: Exception) -> None:
        """End, since there is nothing to go on with."""
        self.failure = self.failure or error
        self.exit(return_code=1)

    def end(self, number: int) -> None:
        """End because a signal says so."""
        self.ended = self.ended or number
        self.exit(return_code=128 + number)

    def let_go(self) -> None:
        """Let the build go that is open, once what is being kept is kept."""
        if self._desk is not None:
            self._desk.drop()

    def _handle_exception(self, error: Exception) -> None:
        """End at a fault; the terminal gets a sentence from whoever runs this, not a traceback."""
        self._return_code = 1
        self.failure = self.failure or (error.error if isinstance(error, WorkerFailed) else error)
        if self._exception is None:  # a test that drives the application waits for it
            self._exception = error
            self._exception_event.set()
        self._close_messages_no_wait()

    def panic(self, *_renderables: RenderableType) -> None:
        """End, since the terminal can no longer be read."""
        self.fail(OSError(errno.EIO, "the terminal can no longer be read"))

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Offer this screen's commands, from their one declaration, and the looks."""
        for command in commands.of(getattr(screen, "NAME", "")):
            method = getattr(screen, f"action_{command.name}", None)
            if method is not None and command.name != "palette":
                title = f"{command.palette} ({command.shown})"
                yield SystemCommand(title, command.help, method)
        for theme in looks.THEMES:
            words = theme.name.removeprefix("bench-")

            def choose(chosen: str = theme.name) -> None:
                self.theme = chosen

            yield SystemCommand(f"Look: {words}", "The colours of the screens.", choose)


def _prepare() -> None:
    """Load the bench and the calculators; on another thread, so that no key waits."""
    import_module(_BENCH)
    import_module("snugset.trade.calculators")
    if not gc.isenabled():  # as whoever starts the screens left it, for a quicker start
        gc.freeze()
        gc.enable()
