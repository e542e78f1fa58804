"""The order list: to be read, copied into a message, or written to a file."""

import asyncio
from pathlib import Path

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Input

from snugset.screens.base import Base, Field, Plain
from snugset.screens.desk import Desk
from snugset.screens.words import text
from snugset.writing import write_new


class OrderScreen(Base):
    """What to order and why."""

    NAME = "order"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self._list = ""
        self._busy = False
        """Whether a file is being written; one press writes one."""

    def body(self) -> ComposeResult:
        """Give the list, the name of a file where one is to be written, what came of it."""
        with VerticalScroll(id="scroll"):
            yield Plain("help")
        with VerticalScroll(classes="form", can_focus=False):
            yield Field(id="file")
        yield Plain("message")

    def on_mount(self) -> None:
        """Write the list; it may take a moment on a long build."""
        self.query_one("#where", Plain).put(f"Order list · {self.desk.look.state.name}")
        self.query_one("#message", Plain).put("")
        self.query_one("#file").display = False
        self.begin_work(self._show)

    async def _show(self) -> None:
        self._list = await self.desk.order()
        self.query_one("#help", Plain).put(text(self._list))
        self.query_one("#scroll").focus()

    def action_copy(self) -> None:
        """Hand it to the terminal's clipboard."""
        self.app.copy_to_clipboard(self._list)
        self._say("Handed to the terminal's clipboard. If it takes none: W writes a file.")

    def action_write(self) -> None:
        """Ask for the file's name."""
        field = self.query_one("#file", Input)
        field.display = True
        if not field.value:
            field.value = str(Path.cwd() / f"{self.desk.build}-order.txt")
        field.focus()
        self._say("Enter writes it there.")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Write the file."""
        event.stop()
        if not self._busy and event.value.strip():
            self._busy = True
            self.begin_work(self._write)

    async def _write(self) -> None:
        field = self.query_one("#file", Input)
        try:
            await asyncio.to_thread(_written, field.value.strip(), self._list)
        except FileExistsError:
            self._say("✗ There is such a file already; give another name.")
        except (OSError, RuntimeError, ValueError) as error:
            self._say(f"✗ Not written: {getattr(error, 'strerror', None) or error}.")
        else:
            field.display = False
            self.query_one("#scroll").focus()
            self._say(f"✓ Written to {field.value.strip()}")
        finally:
            self._busy = False

    def _say(self, words: str) -> None:
        self.query_one("#message", Plain).put(text(words, "bold"))


def _written(typed: str, words: str) -> None:
    write_new(Path(typed).expanduser(), words)
