"""A spec sheet filled from a file, or saved to one: the path, then what comes of it."""

from collections.abc import Iterable
from pathlib import Path

from textual import events
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Input

from snugset.filling import NO_CHANGE
from snugset.journal.errors import JournalError
from snugset.printable import counted
from snugset.screens.base import Base, Field, Plain
from snugset.screens.desk import Desk
from snugset.screens.words import hung, joined, wrapped
from snugset.stored import BuildError

_FROM = "Fill the spec sheet from a file · Enter says what it changes"
_TO = "Save the spec sheet to a new file · Enter saves"


class FileScreen(Base):
    """One field for the path; below it the mistakes, the changes, or what was saved."""

    NAME = "file"

    def __init__(self, desk: Desk, *, taking: bool) -> None:
        super().__init__()
        self.desk = desk
        self._taking = taking
        self._told = ""
        """The path whose changes were said; only then they are taken."""
        self._busy = False
        self._words: list[str] = []
        self._style = ""

    def body(self) -> ComposeResult:
        """Give the field and the room for what comes of it."""
        with VerticalScroll(classes="form", can_focus=False):
            label = Plain("ask-path")
            label.add_class("ask")
            yield label
            yield Field(id="path", select_on_focus=False)
        with VerticalScroll(id="mistakes"):
            yield Plain("message")

    def on_mount(self) -> None:
        """Say what is asked."""
        self.query_one("#where", Plain).put(_FROM if self._taking else _TO)
        asks = "Which spec sheet file?" if self._taking else "What is the new file called?"
        self.query_one("#ask-path", Plain).put(f"{asks} Here is {Path.cwd()}")
        if not self._taking:
            self.query_one("#path", Input).value = f"{self.desk.build}-specs.yaml"
        self.query_one("#message", Plain).put("")
        self.query_one("#path", Input).focus()
        self.query_one("#path", Input).select_all()

    def on_input_changed(self) -> None:
        """Another path is another file: what was said of the old one holds no more."""
        self._told = ""

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Read, take or save; one at a time."""
        typed = event.value.strip()
        if not typed:
            self._say(["Type the path of a file."], "bold $warning")
        elif not self._busy:
            self._busy = True
            self.begin_work(self._filling if self._taking else self._saving)

    def _path(self) -> Path:
        return Path(self.query_one("#path", Input).value.strip()).expanduser()

    async def _filling(self) -> None:
        typed = self.query_one("#path", Input).value
        again = self._told == typed
        try:
            found = await self.desk.fill(self._path(), taking=again)
        except (BuildError, RuntimeError) as error:
            self._say([*str(error).split("\n"), "Nothing is taken."], "bold $error")
            return
        except JournalError as error:
            self._say([f"✗ Not kept: {error.message}. Enter tries again."], "bold $error")
            return
        finally:
            self._busy = False
        if again:
            self._told = ""
            self._say(["✓ Taken. Esc goes back.", *found], "$success")
        elif found[-1] == NO_CHANGE:
            self._say([*found, "Esc goes back."])
        else:
            self._say(["Enter again takes it. Esc leaves it.", "", *found])
            self._told = typed

    async def _saving(self) -> None:
        path = self._path()
        try:
            found = await self.desk.save_specs(path)
        except FileExistsError:
            self._say([f"✗ {path} is there already; give another name."], "bold $error")
            return
        except (OSError, RuntimeError) as error:
            why = error.strerror if isinstance(error, OSError) else str(error)
            self._say([f"✗ {path}: {why}; give another path."], "bold $error")
            return
        finally:
            self._busy = False
        left = ["Esc goes back.", *(f"left out: {one}" for one in found.left_out)]
        self._say([f"✓ Saved: {counted(found.count, 'figure')} in {path}", *left], "$success")

    def _say(self, words: Iterable[str], style: str = "") -> None:
        self._words, self._style = list(words), style
        self._show()
        self.query_one("#mistakes").scroll_home(animate=False)

    def _show(self) -> None:
        width = self.query_one("#message").content_size.width or self.size.width - 4
        shown = wrapped([hung(each, width, self._style) for each in self._words], width)
        self.query_one("#message", Plain).put(joined(shown))

    def on_resize(self, event: events.Resize) -> None:
        """Fold what was said anew."""
        super().on_resize(event)
        self.call_after_refresh(self._show)

    def action_down(self) -> None:
        """Show more of what was said."""
        self.query_one("#mistakes").scroll_page_down(animate=False)

    def action_up(self) -> None:
        """Back to the beginning of what was said."""
        self.query_one("#mistakes").scroll_page_up(animate=False)
