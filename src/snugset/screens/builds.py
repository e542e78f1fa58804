"""The builds of the shelf: where each stands, what it waits for; new, resume, demo."""

import asyncio
from collections.abc import Callable, Collection, Sequence
from contextlib import suppress
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import Protocol, cast

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from snugset.journal.errors import JournalError, OpenElsewhere
from snugset.journal.lock import holder
from snugset.journal.owner import Owner
from snugset.journal.shelf import Entry, Shelf
from snugset.screens.base import Base, Plain
from snugset.screens.doors import Doors, Opening
from snugset.screens.words import joined, lines, text
from snugset.values import dataclass

NONE = (
    "No builds yet.",
    "",
    "D opens a part-finished build of an invented engine: look round, nothing of yours is touched.",
    "N begins a build of your own.",
)

_LINES = 2
"""Lines of a build; as many as there is room for are read and shown at once, the others after."""
_LONGEST = 2.0
"""Seconds that a picture is waited for."""
MOMENT = "One moment: the build is set out …"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelved:
    """A build on the shelf, and who has it open."""

    entry: Entry
    held: bool
    owner: Owner | None
    """None where the holder is not known, or there is none."""


def on_shelf(shelf: Shelf, newest: int = 0) -> tuple[Shelved, ...]:
    """Read the shelf, or only its newest builds; JournalError if its folder cannot be read."""
    found = []
    for entry in shelf.builds(newest=newest):
        held, owner = holder(shelf.path / entry.id)
        found.append(Shelved(entry=entry, held=held, owner=owner))
    return tuple(found)


def row(build: Shelved) -> Content:
    """Give a build in two lines: its name and when it was worked on, then where it stands."""
    head = build.entry.head
    if head is None:
        return joined([text(build.entry.id, "bold"), text(f"    {build.entry.wrong}", "bold")])
    stamp = head.updated.replace("T", " ").removesuffix("Z")[:16]
    stands = "finished" if head.step == "finished" else f"at {head.step}"
    waits = f" · waits for {head.waiting_for}" if head.waiting_for else ""
    first = text(head.name, "bold").append(text(f"   {stamp} UTC", "italic"))
    held = [text(f"    open elsewhere{_by(build.owner)}", "bold")] if build.held else []
    return joined([first, text(f"    {stands}{waits}"), *held])


def _by(owner: Owner | None) -> str:
    if owner is None:
        return ""
    since = owner.since.replace("T", " ").removesuffix("Z")[:16]
    return f": {owner.person or 'somebody'} on {owner.host} since {since} UTC"


class Builds(Protocol):
    """What these screens need of the application."""

    shelf: Shelf
    doors: Doors

    async def open_build(self, opening: Opening) -> None:
        """Open a build on the bench; JournalError or ValueError if it cannot be."""
        ...

    def fail(self, error: Exception) -> None:
        """End, since there is nothing to go on with."""
        ...


def app_of(screen: Base) -> Builds:
    """Give the application as these screens know it."""
    return cast("Builds", screen.app)


class BuildsScreen(Base):
    """The first screen."""

    NAME = "builds"

    def __init__(self, *, opening: bool = False, head: Entry | None = None) -> None:
        super().__init__()
        self._making = opening
        """Whether a build is being made or opened; the list is not read meanwhile."""
        self._head = head
        """The build that is being opened, as far as its head tells."""
        self.listed = asyncio.Event()
        """Set once the list, or the newest of it, stands for the first time, or cannot be read."""

    def body(self) -> ComposeResult:
        """Give the list, or with none of them the offer."""
        yield Plain("facts")
        yield OptionList(id="builds", classes="list", markup=False)
        yield Plain("message")

    def on_mount(self) -> None:
        """Say where one is."""
        self.query_one("#where", Plain).put("Snugset · builds")
        moment = text(MOMENT if self._making else "")
        if self._head is not None:
            told = row(Shelved(entry=self._head, held=False, owner=None))
            moment = joined([told, text(""), moment])
        self.query_one("#facts", Plain).put(moment)

    def on_screen_resume(self) -> None:
        """Read the list again: a build may have moved."""
        self.action_again()

    def action_again(self) -> None:
        """Read the shelf, beside the event loop: a build that is being written makes it wait."""
        self.begin_work(self._read, anew=True)

    async def _read(self) -> None:
        try:
            await self._read_newest_first()
        finally:
            self.listed.set()

    async def _read_newest_first(self) -> None:
        shelf, shown = app_of(self).shelf, self.query_one(OptionList).option_count
        room = max(1, self.size.height // _LINES)
        for newest in (0,) if shown else (room, 0):
            if not self.is_current or self._making:
                return
            try:
                builds = await asyncio.to_thread(on_shelf, shelf, newest)
            except JournalError as error:
                self._say(error.message)
                return
            if not self._making:
                self._fill(builds)
            if len(builds) < room:
                return
            await self._pictured()
            self.listed.set()

    async def _pictured(self) -> None:
        """Wait until what was filled in is painted: reading goes on beside, and would delay it."""
        painted = asyncio.Event()
        self.call_after_refresh(painted.set)
        with suppress(TimeoutError):
            async with asyncio.timeout(_LONGEST):
                await painted.wait()

    def _fill(self, builds: Sequence[Shelved]) -> None:
        found = self.query_one(OptionList)
        marked = found.highlighted_option.id if found.highlighted_option else ""
        found.set_options([Option(row(build), id=build.entry.id) for build in builds])
        ids = [build.entry.id for build in builds]
        self.query_one("#facts", Plain).put("" if builds else lines(NONE))
        found.display = bool(builds)
        if builds:
            found.highlighted = ids.index(marked) if marked in ids else 0
            found.focus()
        self.frame(self.size.width, self.size.height)

    def idle(self) -> Collection[str]:
        """Without a build there is none to go on with, or to follow."""
        return () if self.query_one(OptionList).option_count else ("open", "follow")

    def _say(self, words: str) -> None:
        self.query_one("#message", Plain).put(text(words, "bold $error"))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Go on with the marked build."""
        folder = app_of(self).shelf.path / (event.option.id or "")
        self.make(lambda: Opening(folder=folder))

    def action_open(self) -> None:
        """Go on with the marked build."""
        self.query_one(OptionList).action_select()

    def action_follow(self) -> None:
        """Look at the marked build while another program has it open."""
        marked = self.query_one(OptionList).highlighted_option
        if marked is not None and marked.id:
            folder = app_of(self).shelf.path / marked.id
            self.make(lambda: Opening(folder=folder, follow=True))

    def taken_over(self, opening: object) -> None:
        """Open the build that was followed, where that is asked for."""
        if isinstance(opening, Opening):
            self.make(lambda: opening)

    def action_sheet(self) -> None:
        """Write the sheet of the marked build as a page."""
        marked = self.query_one(OptionList).highlighted_option
        if marked is not None and marked.id is not None:
            self.begin_work(partial(self._write_sheet_of, app_of(self).shelf.path / marked.id))

    async def _write_sheet_of(self, folder: Path) -> None:
        sheets = await asyncio.to_thread(import_module, "snugset.sheets")
        message = self.query_one("#message", Plain)
        message.put(text("The build sheet is written …", "italic"))
        try:
            path = await asyncio.to_thread(sheets.keep_sheet, folder)
            message.put(f"The build sheet is in {path}")
        except (JournalError, ValueError) as error:
            self._say(f"No build sheet: {error}.")

    def action_demo(self) -> None:
        """Open the demo."""
        self.make(app_of(self).doors.demo)

    def action_new(self) -> None:
        """Begin a build."""
        from snugset.screens.new import NewScreen  # noqa: PLC0415 - loaded when asked for

        self.app.push_screen(NewScreen(), self._begun)

    def _begun(self, opening: object) -> None:
        """Open the build that was begun on that screen."""
        if isinstance(opening, Opening):
            self.make(lambda: opening)

    def make(self, opening: Callable[[], Opening], *, must: bool = False) -> None:
        """Make a build ready and open it; one at a time.

        `must`: the screens end with what is wrong, where it cannot be opened.
        """
        if self._making and not must:
            return
        self._making = True
        if not must:  # else it stands there already, and says more
            self.query_one("#facts", Plain).put(MOMENT)
        self.begin_work(partial(self._make, opening, must=must))

    async def _make(self, opening: Callable[[], Opening], *, must: bool) -> None:
        app = app_of(self)
        try:
            await app.open_build(await asyncio.to_thread(opening))
            self._say("")
        except (JournalError, OSError, ValueError) as error:
            if must:
                app.fail(error)
            followed = isinstance(error, OpenElsewhere)
            self._say(f"{told(error)}{'. F follows it, read only.' if followed else ''}")
        self._making = False
        self.query_one("#facts", Plain).put("")
        self.action_again()


def told(error: Exception) -> str:
    """Say what is wrong in words for the builder."""
    if isinstance(error, OSError) and error.filename:
        return f"{Path(str(error.filename))}: {error.strerror}; check that it may be used"
    return str(error)
