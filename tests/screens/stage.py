"""Puts the application on a stage: a shelf of its own, a clock that is told, pictures."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from textual import events
from textual.app import App
from textual.keys import _character_to_key
from textual.pilot import Pilot
from textual.widgets import Input

from driving import START, Table, table
from snugset.guide.walk import occurrences
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.journal.shelf import Shelf
from snugset.play import Paced
from snugset.screens.app import SnugsetApp
from snugset.screens.bench import BenchScreen
from snugset.screens.desk import Look
from snugset.screens.doors import Doors, New, Opening, Start
from snugset.screens.painting import Painting
from snugset.screens.standing import standing
from snugset.stored import head_of

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

    def app(self, start: Opening | Start = None) -> SnugsetApp:
        """Give the application; N and D begin and open what is on this shelf."""
        opening = (lambda: start) if isinstance(start, Opening) else start

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
            opening,
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
            await self.paste(text)
        await self.press("enter")

    async def paste(self, text: str) -> None:
        """Paste a text, as a terminal does."""
        self.app.post_message(events.Paste(text))
        await self.settled()

    async def settled(self) -> None:
        """Wait until nothing is being kept or made, and the screen is painted."""
        await self.painted(until_kept=True)

    async def painted(self, *, until_kept: bool = False) -> None:
        """Wait until what was sent has arrived and the screen is painted."""
        async with asyncio.timeout(20):
            quiet = 0
            while quiet < 2:
                done = asyncio.Event()
                self.app.screen.call_after_refresh(done.set)
                with suppress(TimeoutError):  # the screen may change under it
                    await asyncio.wait_for(done.wait(), 0.3)
                if self._quiet(until_kept=until_kept):
                    quiet += 1
                else:
                    quiet = 0
                    await asyncio.sleep(0.003)

    def _quiet(self, *, until_kept: bool) -> bool:
        """Tell whether no message is under way, and nothing is being kept."""
        screen = self.app.screen
        pumps = (self.app, screen, *screen.walk_children())
        return all(pump._message_queue.empty() for pump in pumps) and not (
            until_kept and any(not worker.is_finished for worker in self.app.workers)
        )

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

    @property
    def words(self) -> str:
        """The same in one line; where there is a view beside it, only what stands at the left."""
        rows = self.picture.splitlines()
        if isinstance(self.app.screen, Painting):
            ask = self.app.screen.query_one("#ask").region
            rows = [row[ask.x : ask.right] for row in rows[ask.y : ask.bottom]]
        return " ".join(" ".join(rows).split())


def as_looked(told: Table) -> Look:
    """Give what a screen sees of a build in memory."""
    found = occurrences(told.plan, told.state, told.now)
    return Look(
        plan=told.plan,
        state=told.state,
        prompt=told.asked,
        standing=standing(told.plan, found, told.asked.address),
        records=tuple(told.records),
        outcome=None,
    )


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
        async with asyncio.timeout(20):
            while app._start and not isinstance(app.screen, BenchScreen):  # noqa: ASYNC110 - the app has no event for it
                await asyncio.sleep(0.005)
        await player.settled()
        yield player
    app.let_go()
