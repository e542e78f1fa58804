"""What every screen has: its commands from the one declaration, a title line and a footer."""

from collections.abc import Awaitable, Callable, Collection
from typing import cast

from textual import events
from textual.app import ComposeResult, ScreenError
from textual.content import Content
from textual.css.query import NoMatches
from textual.screen import Screen
from textual.widgets import Input, Static

from snugset.printable import printable
from snugset.screens import commands, room
from snugset.screens.words import lines, text
from snugset.typed import Any


class Plain(Static):
    """A text widget that takes content only."""

    def __init__(self, id: str) -> None:  # noqa: A002 - the library's own name
        super().__init__("", id=id, markup=False)

    def put(self, content: Content | str) -> None:
        """Show a text; it takes no room when it is empty."""
        shown = text(content) if isinstance(content, str) else content
        self.display = bool(shown.plain)
        self.update(shown)


class Field(Input):
    """A field; what the program puts into it is shown, and never drives the terminal."""

    def validate_value(self, value: str) -> str:
        """Take a text without what could not be seen."""
        return printable(value)


class Base(Screen[object]):
    """A screen whose keys come from the declaration."""

    NAME = ""

    def __init_subclass__(cls) -> None:
        cls.BINDINGS = [*commands.bindings(cls.NAME)]
        super().__init_subclass__()

    def compose(self) -> ComposeResult:
        """Lay out: where one is, whether the terminal is too small, the body, the keys."""
        yield Plain("where")
        yield Plain("small")
        yield from self.body()
        yield Static("", id="keys", markup=False)

    def body(self) -> ComposeResult:
        """Give what stands between the two lines."""
        yield from ()

    def idle(self) -> Collection[str]:
        """Name the commands that have nothing to act on now; the footer leaves them out."""
        return ()

    def on_resize(self, event: events.Resize) -> None:
        """Fit what stands about the body to the terminal."""
        self.frame(event.size.width, event.size.height)

    def frame(self, width: int, height: int) -> None:
        """Write the footer; in a terminal that is too small say so, and leave out what can be."""
        small = room.small(width, height)
        for name, holds in (
            ("tiny", room.tiny(width, height)),
            ("low", small and height < room.LOW),
            ("flat", height < room.FLAT),
        ):
            self.set_class(holds, name)
        notice = text(room.notice(width, height), "reverse").truncate(max(1, width - 2))
        self.query_one("#small", Plain).put(notice if small else "")
        lines_ = room.footer_lines(width, height)
        keys = commands.footer(self.NAME, width - 2, lines_, self.idle())
        footer = self.query_one("#keys", Static)
        footer.styles.height = len(keys)
        footer.update(lines(keys))
        self.call_after_refresh(self.see_focused)

    def see_focused(self) -> None:
        """Let the field that is typed in be seen, whatever the terminal's size has become."""
        if isinstance(self.focused, Input):
            self.focused.scroll_visible(animate=False)

    def begin_work(self, work: Callable[[], Awaitable[None]], *, anew: bool = False) -> None:
        """Do something that waits, without holding up a key; `anew` gives up what is under way.

        The work is handed over uncalled, so that nothing is left over where it never begins.
        """
        name = getattr(work, "__name__", "") or getattr(work, "func", work).__name__

        async def done() -> None:
            try:
                await work()
            except (NoMatches, ScreenError):
                # It is done, and there is nothing left to show it on: the program is being left.
                if self.is_running and self.app.is_running:
                    raise

        self.run_worker(cast("Any", done), name=name, group=name, exclusive=anew)

    def action_calculators(self) -> None:
        """Show the calculators over this screen, with the build that is open."""
        from snugset.screens.calculators import (  # noqa: PLC0415 - it is itself such a screen
            CalculatorsScreen,
        )

        self.app.push_screen(CalculatorsScreen(getattr(self, "desk", None)))

    def action_leave(self) -> None:
        """Go one screen back."""
        self.app.pop_screen()

    def action_help(self) -> None:
        """Show the keys of this screen."""
        from snugset.screens.help import Help  # noqa: PLC0415 - help is itself such a screen

        self.app.push_screen(Help(self.NAME))

    def action_suspend(self) -> None:
        """Go to the shell; fg there comes back."""
        self.app.action_suspend_process()

    def action_palette(self) -> None:
        """Find a command by its words."""
        self.app.action_command_palette()

    async def action_quit(self) -> None:
        """Leave; everything answered is on disk."""
        await self.app.action_quit()
