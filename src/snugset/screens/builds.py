"""The builds of the shelf: where each stands, what it waits for; new, resume, demo."""

from typing import Protocol, cast

from textual.app import ComposeResult
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from snugset.journal.shelf import Entry, Shelf
from snugset.screens.base import Base, Plain, text


def row(entry: Entry, width: int) -> str:
    """Give a build in one line."""
    if entry.head is None:
        return f"{entry.id:<24} {entry.wrong}"
    head = entry.head
    stands = "finished" if head.step == "finished" else f"at {head.step}"
    waits = f" · waits for {head.waiting_for}" if head.waiting_for else ""
    name = head.name[: max(12, width // 3)]
    stamp = head.updated.replace("T", " ").removesuffix("Z")[:16]
    return f"{name:<{max(12, width // 3)}} {stands}{waits} · {stamp}"


class Builds(Protocol):
    """What this screen needs of the application."""

    shelf: Shelf

    async def open_build(self, build: str) -> str:
        """Open a build; what is wrong, empty if nothing is."""
        ...

    async def open_demo(self) -> str:
        """Make and open the demo."""
        ...

    async def open_new(self, procedure: str, engine: str, specs: str, name: str) -> str:
        """Begin and open a build."""
        ...


def app_of(screen: Base) -> Builds:
    """Give the application as these screens know it."""
    return cast("Builds", screen.app)


class BuildsScreen(Base):
    """The first screen."""

    NAME = "builds"

    def body(self) -> ComposeResult:
        """Give the list, or with none of them the offer."""
        yield Plain("facts")
        yield OptionList(id="builds", classes="list", markup=False)
        yield Plain("message")

    def on_mount(self) -> None:
        """Fill the list."""
        self.query_one("#where", Plain).put("Snugset · builds")
        self.action_again()

    def on_screen_resume(self) -> None:
        """Read the list again: a build may have moved."""
        self.action_again()

    def action_again(self) -> None:
        """Read the shelf."""
        app = app_of(self)
        entries = app.shelf.builds()
        found = self.query_one(OptionList)
        found.clear_options()
        for entry in entries:
            found.add_option(Option(text(row(entry, self.size.width or 80)), id=entry.id))
        self.query_one("#facts", Plain).put(
            "" if entries else "No builds yet. D opens a demo build, N begins one of your own."
        )
        found.display = bool(entries)
        if entries:
            found.highlighted = 0
            found.focus()

    async def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Go on with the marked build."""
        await self._open(event.option.id or "")

    async def _open(self, build: str) -> None:
        app = app_of(self)
        self.query_one("#message", Plain).put(await app.open_build(build))

    def action_open(self) -> None:
        """Go on with the marked build."""
        self.query_one(OptionList).action_select()

    async def action_demo(self) -> None:
        """Open the demo."""
        app = app_of(self)
        self.query_one("#message", Plain).put(await app.open_demo())

    def action_new(self) -> None:
        """Begin a build."""
        from snugset.screens.new import NewScreen  # noqa: PLC0415 - loaded when asked for

        self.app.push_screen(NewScreen())
