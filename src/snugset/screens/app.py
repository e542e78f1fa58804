"""The application: the list of builds, and the bench of the one that is open."""

import signal
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from textual.app import App, SystemCommand
from textual.binding import BindingType
from textual.screen import Screen

from snugset.bench import BuildError, Clock, now, utc
from snugset.journal.errors import JournalError
from snugset.journal.owner import Owner
from snugset.journal.shelf import Shelf
from snugset.screens import commands, looks
from snugset.screens.bench import BenchScreen
from snugset.screens.builds import BuildsScreen
from snugset.screens.desk import Desk
from snugset.units import prepare


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A build to be opened."""

    folder: Path
    clock: Clock = now
    fresh: bool = False
    """Whether it was begun this moment: there was no break."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Doors:
    """What the shell outside hands the screens: where builds are, and how one is made."""

    shelf: Shelf
    person: str
    demo: Callable[[], Opening]
    """Makes a demo build in a scratch folder."""
    begin: Callable[[str, str, str, str], Opening]
    """Begins a build from procedure, engine, specs (or nothing) and a name, as typed."""


class SnugsetApp(App[None]):
    """Snugset on a terminal's whole screen."""

    TITLE = "Snugset"
    CSS = looks.CSS
    ENABLE_COMMAND_PALETTE = True
    COMMAND_PALETTE_BINDING = "ctrl+p"
    BINDINGS: ClassVar[list[BindingType]] = []

    def __init__(self, doors: Doors, opening: Opening | None = None) -> None:
        super().__init__()
        self.doors = doors
        self.shelf = doors.shelf
        self._opening = opening
        self._desk: Desk | None = None
        for theme in looks.THEMES:
            self.register_theme(theme)
        self.theme = looks.DARK.name

    async def on_mount(self) -> None:
        """Show the list, and over it the build that was asked for."""
        self._end_by_signals()
        await self.push_screen(BuildsScreen())
        if self._opening is not None:
            wrong = await self._open(self._opening)
            if wrong:
                self.exit(message=wrong, return_code=1)
        self.call_after_refresh(self._warm)

    def _warm(self) -> None:
        """Load the factors between units now that the first picture stands."""
        self.run_worker(prepare, thread=True, name="units")

    def _end_by_signals(self) -> None:
        """End cleanly when the terminal or the system says so, leaving the terminal whole."""
        import asyncio  # noqa: PLC0415 - only here

        loop = asyncio.get_running_loop()
        for number in (signal.SIGTERM, signal.SIGHUP):
            loop.add_signal_handler(number, lambda: self.exit(return_code=0))

    async def _open(self, opening: Opening) -> str:
        """Open a build on the bench; what is wrong, empty if nothing is."""
        owner = Owner.here(person=self.doors.person, since=utc(now()))
        try:
            self._desk = await Desk.open(
                opening.folder, owner=owner, clock=opening.clock, fresh=opening.fresh
            )
        except (JournalError, BuildError) as error:
            return str(error)
        await self.push_screen(BenchScreen(self._desk))
        return ""

    async def open_build(self, build: str) -> str:
        """Open a build of the shelf by its id."""
        return await self._guarded(lambda: Opening(folder=self.shelf.path / build))

    async def open_demo(self) -> str:
        """Make the demo and open it."""
        return await self._guarded(self.doors.demo)

    async def open_new(self, procedure: str, engine: str, specs: str, name: str) -> str:
        """Begin a build and open it."""
        return await self._guarded(lambda: self.doors.begin(procedure, engine, specs, name))

    async def _guarded(self, made: Callable[[], Opening]) -> str:
        import asyncio  # noqa: PLC0415 - only here

        try:
            opening = await asyncio.to_thread(made)
        except (JournalError, BuildError, ValueError) as error:
            return str(error)
        return await self._open(opening)

    async def on_unmount(self) -> None:
        """Let the build go."""
        if self._desk is not None:
            self._desk.drop()

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Offer this screen's commands, from their one declaration, and the looks."""
        name = getattr(screen, "NAME", "")
        for command in commands.of(name):
            method = getattr(screen, f"action_{command.name}", None)
            if method is not None:
                yield SystemCommand(command.footer.capitalize(), command.help, method)
        for theme in looks.THEMES:
            words = theme.name.removeprefix("bench-")

            def choose(chosen: str = theme.name) -> None:
                self.theme = chosen

            yield SystemCommand(f"Look: {words}", "The colours of the screens.", choose)


def run(doors: Doors, opening: Opening | None = None) -> int:
    """Run the screens until they are left; the exit code."""
    app = SnugsetApp(doors, opening)
    app.run()
    return app.return_code or 0
