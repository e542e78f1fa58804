"""Beginning a build: procedure, engine, spec sheet, name."""

import asyncio
from functools import partial

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Input

from snugset.journal.errors import JournalError
from snugset.screens.base import Base, Field, Plain
from snugset.screens.builds import app_of, told
from snugset.screens.doors import New
from snugset.screens.words import lines, text

FIELDS = (
    ("procedure", "Procedure: a file, or one that is shipped"),
    ("engine", "Engine: a file, or one that is shipped"),
    ("specs", "Spec sheet: a file, or leave it empty and be asked"),
    ("name", "What this build is called; empty takes the engine's name"),
)


class NewScreen(Base):
    """A form of four fields; Enter goes to the next, and from the last begins."""

    NAME = "new"

    def __init__(self) -> None:
        super().__init__()
        self._busy = False
        """Whether a build is being begun; one press begins one."""

    def body(self) -> ComposeResult:
        """Give the fields."""
        with VerticalScroll(classes="form", can_focus=False):
            for name, words in FIELDS:
                label = Plain(f"ask-{name}")
                label.add_class("ask")
                label.put(words)
                yield label
                yield Field(id=name)
        yield Plain("facts")
        with VerticalScroll(id="mistakes", can_focus=False):
            yield Plain("message")

    def on_mount(self) -> None:
        """Propose what is shipped where there is only one."""
        doors = app_of(self).doors
        self.query_one("#where", Plain).put("A new build · Enter goes on, from the last begins")
        self.query_one("#facts", Plain).put(
            lines(
                [
                    f"Shipped procedures: {', '.join(doors.procedures)}",
                    f"Shipped engines, all invented: {', '.join(doors.engines)}",
                ],
                "italic",
            )
        )
        if len(doors.procedures) == 1:
            self.query_one("#procedure", Input).value = doors.procedures[0]
        self.query_one("#message", Plain).put("")
        self.query_one("#procedure", Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Go to the next field, or begin."""
        names = [name for name, _ in FIELDS]
        at = names.index(event.input.id or names[0])
        if at + 1 < len(names):
            self.query_one(f"#{names[at + 1]}", Input).focus()
            return
        typed = {name: self.query_one(f"#{name}", Input).value.strip() for name in names}
        for name in ("procedure", "engine"):
            if not typed[name]:
                self._say(f"{name.capitalize()} is empty: give a file, or a shipped name.")
                self.query_one(f"#{name}", Input).focus()
                return
        if not self._busy:
            self._busy = True
            self._say("")
            self.begin_work(partial(self._begin, New(**typed)))

    async def _begin(self, new: New) -> None:
        """Begin it off the event loop; the list of builds opens it."""
        doors = app_of(self).doors
        try:
            opening = await asyncio.to_thread(doors.begin, new)
        except (JournalError, OSError, ValueError) as error:
            self._say(told(error))
            self._busy = False
            return
        self.dismiss(opening)

    def _say(self, words: str) -> None:
        """Show every mistake, one a line."""
        self.query_one("#message", Plain).put(text(words, "bold $error"))
        self.query_one("#mistakes").can_focus = True
