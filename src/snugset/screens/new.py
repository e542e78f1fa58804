"""Beginning a build: procedure, engine, spec sheet, name."""

import asyncio
from functools import partial
from pathlib import Path

from textual import events
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Input

from snugset.journal.errors import JournalError
from snugset.screens.base import Base, Field, Plain
from snugset.screens.builds import app_of, told
from snugset.screens.doors import New
from snugset.screens.typed import shipped_as
from snugset.screens.words import flowed, joined, text

FIELDS = (
    ("procedure", "Procedure: a number below, or a file"),
    ("engine", "Engine: a number below, or a file"),
    ("specs", "Spec sheet: a file, or leave it empty and be asked"),
    ("name", "What this build is called; empty takes the engine's name"),
)
_WHERE = "A new build · Enter goes on, from the last begins · ↑ ↓ another field"
_HEADS = {
    "procedure": "Shipped procedures; a number, or part of a name, takes one:",
    "engine": "Shipped engines, all invented; your own is a file:",
}


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
        shipped = app_of(self).doors.procedures
        self.query_one("#where", Plain).put(_WHERE)
        if len(shipped) == 1:
            self.query_one("#procedure", Input).value = shipped[0]
        self.query_one("#message", Plain).put("")
        self.query_one("#procedure", Input).focus()

    def on_resize(self, event: events.Resize) -> None:
        """Set the list anew."""
        super().on_resize(event)
        self._offer()

    def on_descendant_focus(self, _event: events.DescendantFocus) -> None:
        """Show what can be taken for this field."""
        self._offer()

    def _offer(self) -> None:
        known = self._known(self._here)
        words = [f"{number} {name}" for number, name in enumerate(known, 1)]
        rows = [text(_HEADS.get(self._here, ""), "italic"), *flowed(words, self.size.width - 2)]
        self.query_one("#facts", Plain).put(joined(rows) if known else "")

    @property
    def _here(self) -> str:
        """The field that is typed in."""
        here = self.focused.id if isinstance(self.focused, Input) else None
        return here or FIELDS[0][0]

    def _known(self, name: str) -> tuple[str, ...]:
        doors = app_of(self).doors
        return {"procedure": doors.procedures, "engine": doors.engines}.get(name, ())

    def _go(self, by: int) -> None:
        names = [name for name, _ in FIELDS]
        at = (names.index(self._here) + by) % len(names)
        self.query_one(f"#{names[at]}", Input).focus()

    def action_lower(self) -> None:
        """Go to the next field."""
        self._go(1)

    def action_upper(self) -> None:
        """Go to the field before."""
        self._go(-1)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Go to the next field, or begin; a name that nothing is known by stays."""
        names = [name for name, _ in FIELDS]
        at = names.index(event.input.id or names[0])
        self._say("")
        if not self._takes(names[at]):
            return
        if at + 1 < len(names):
            self._go(1)
            return
        if all(map(self._takes, names)):
            self._start()

    def _takes(self, name: str) -> bool:
        """Put a shipped name in place of its number; else say what is wrong, and go there."""
        field, known = self.query_one(f"#{name}", Input), self._known(name)
        if not known:
            return True
        field.value = shipped_as(field.value, known)
        field.cursor_position = len(field.value)
        typed = field.value
        if typed in known or "." in typed or "/" in typed or Path(typed).is_file():
            return True
        wrong = f"no shipped {name} is meant by “{typed}”" if typed else f"{name} is empty"
        self._say(f"{wrong[0].upper()}{wrong[1:]}: give a number below, or a file.")
        field.focus()
        return False

    def _start(self) -> None:
        """Begin it, once."""
        names = [name for name, _ in FIELDS]
        typed = {name: self.query_one(f"#{name}", Input).value.strip() for name in names}
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
