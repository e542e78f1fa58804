"""Copying the build that is open to another place, whatever its own disk does."""

from functools import partial
from pathlib import Path

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Input

from snugset.journal.errors import JournalError
from snugset.paths import typed_path
from snugset.screens.base import Base, Field, Plain
from snugset.screens.desk import Desk
from snugset.screens.words import joined, lines, text


class CopyScreen(Base):
    """One field: the file to write."""

    NAME = "copy"

    def __init__(self, desk: Desk, file: str = "") -> None:
        super().__init__()
        self.desk = desk
        self._file = file
        self._busy = False

    def body(self) -> ComposeResult:
        """Give the field."""
        label = Plain("ask-file")
        label.add_class("ask")
        label.put("The file to write, on another disk if this one fails")
        yield Plain("facts")
        with VerticalScroll(classes="form", can_focus=False):
            yield label
            yield Field(self._file, id="file")
        yield Plain("message")

    def on_mount(self) -> None:
        """Say what it is for."""
        self.query_one("#where", Plain).put(f"A copy of {self.desk.build}")
        self.query_one("#facts", Plain).put(
            "Everything that was acknowledged goes into one new file. snugset restore puts it on "
            "the shelf again, here or on another machine."
        )
        self.query_one("#message", Plain).put("")
        self.query_one("#file", Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Write the copy."""
        event.stop()
        typed = event.value.strip()
        if typed and not self._busy:
            self._busy = True
            self.begin_work(partial(self._copy, typed_path(typed).absolute()))

    async def _copy(self, target: Path) -> None:
        message = self.query_one("#message", Plain)
        try:
            digest, spoiled = await self.desk.copy(target)
        except (JournalError, ValueError) as error:
            message.put(text(f"✗ Not copied: {error}", "bold $error"))
        else:
            done = lines([f"✓ It is in {target}.", f"Digest {digest}", "Esc goes back."])
            wrong = [f"✗ Not whole: {words}" for words in spoiled]
            message.put(joined([lines(wrong, "bold $error"), done]) if wrong else done)
        self._busy = False
