"""Puts the application on a stage: a shelf of its own, a clock that is told, pictures."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path

from textual import events
from textual.app import App
from textual.keys import _character_to_key
from textual.pilot import Pilot
from textual.widgets import Input

from driving import START, Table, table
from snugset.bench import head_of
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.journal.shelf import Shelf
from snugset.play import Paced
from snugset.screens.answer import Answer
from snugset.screens.app import SnugsetApp
from snugset.screens.bench import BenchScreen
from snugset.screens.desk import Look
from snugset.screens.doors import Doors, New, Opening, Start

SIZES = ((80, 24), (100, 30), (160, 48))
OWNER = Owner.here(person="Wren", since="")
PACE = 45
"""Seconds between two answers of the demo."""


@dataclass(slots=True)
class Stage:
    """A shelf with builds, and the application over it."""

    shelf: Shelf
    clock: Paced

    def put(self, told: Table, build: str = "barn-pump-six") -> Path:
        """Put a build on the shelf as a table in memory has it."""
        folder = self.shelf.new_folder(build)
        self.clock.moment = max(self.clock.moment, told.now)
        Journal.create(
            folder,
            owner=OWNER,
            records=told.records,
            head=head_of(told.plan, told.state, told.now),
        ).close()
        return folder

    def opening(self, folder: Path, *, fresh: bool = True, note: str = "") -> Opening:
        """Open a build with the stage's clock."""
        return Opening(folder=folder, clock=self.clock, fresh=fresh, note=note)

    def app(self, start: Start = None) -> SnugsetApp:
        """Give the application; N and D begin and open what is on this shelf."""

        def begin(new: New) -> Opening:
            return self.opening(self.put(table(specs=False), new.name or "new"))

        def demo() -> Opening:
            return self.opening(self.put(at("gap@4I#1"), "demo"))

        return SnugsetApp(
            Doors(
                shelf=self.shelf,
                person="Wren",
                demo=demo,
                begin=begin,
                procedures=("inline-six-bridged-hydraulic",),
                engines=("barn-pump-six",),
            ),
            start,
        )

    def at(self, address: str) -> SnugsetApp:
        """Give the application, open at a place of the demo build."""
        return self.app(self.opening(self.put(at(address))))


def stage(data: Path) -> Stage:
    """Set a stage in a folder."""
    return Stage(Shelf(data), Paced(START))


@cache
def at(address: str) -> Table:
    """Give the demo build as it stands when an address is first asked; it is only read."""
    return table().until(address)


class Player:
    """Plays the application by its keys."""

    def __init__(self, app: SnugsetApp, pilot: Pilot[None]) -> None:
        self.app = app
        self.pilot = pilot

    async def press(self, *keys: str) -> None:
        """Press keys, each once what came of the one before is painted."""
        for key in keys:
            self.strike(key)
            await self.settled()

    def strike(self, key: str) -> None:
        """Press a key, and wait for nothing."""
        character = {"space": " ", "enter": "\r"}.get(key, key if len(key) == 1 else None)
        name = _character_to_key(key) if len(key) == 1 else key
        event = events.Key(name, character)
        event.set_sender(self.app)
        self.app.post_message(event)

    async def type(self, text: str) -> None:
        """Type a text, letter by letter."""
        await self.press(*("space" if c == " " else c for c in text))

    async def say(self, text: str) -> None:
        """Type an answer and give it."""
        if text:
            self.app.screen.query_one(Answer).value = text
        await self.press("enter")

    async def settled(self) -> None:
        """Wait until nothing is being kept or made, and the screen is painted."""
        for _ in range(2):
            await self.painted()
            while any(not worker.is_finished for worker in self.app.workers):
                await asyncio.sleep(0.002)
            await self.painted()

    async def painted(self) -> None:
        """Wait until what was sent has arrived and the screen is painted."""
        for pump in (self.app, self.app.screen, self.app.screen):
            done = asyncio.Event()
            pump.call_after_refresh(done.set)
            await asyncio.wait_for(done.wait(), 10)

    @property
    def bench(self) -> BenchScreen:
        """The bench; it must be the screen that is shown."""
        assert isinstance(self.app.screen, BenchScreen), self.app.screen
        return self.app.screen

    @property
    def look(self) -> Look:
        """What the bench shows."""
        return self.bench.desk.look

    @property
    def asked(self) -> str:
        """The address that is asked; empty when the build is finished."""
        return str(self.look.prompt.address) if self.look.prompt else ""

    @property
    def typed(self) -> str:
        """What stands in the field."""
        return self.bench.field.value

    def field(self, name: str) -> Input:
        """A field of a form."""
        return self.app.screen.query_one(f"#{name}", Input)

    @property
    def picture(self) -> str:
        """What stands on the screen."""
        return picture(self.app)


def picture(app: App[None]) -> str:
    """Give what stands on the screen as plain text, a line a row."""
    strips = app.screen._compositor.render_strips()
    return "\n".join(strip.text.rstrip() for strip in strips) + "\n"


@asynccontextmanager
async def playing(app: SnugsetApp, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Player]:
    """Run the application without a terminal."""
    async with app.run_test(size=size) as pilot:
        player = Player(app, pilot)
        await player.settled()
        yield player
    app.let_go()


def moment(text: str) -> datetime:
    """Read a time."""
    return datetime.fromisoformat(text)
