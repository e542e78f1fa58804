"""How the bench is laid out and painted: the prompt, what an answer comes to, the view."""

from collections.abc import Sequence

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import Static

from snugset.screens import asking, typed
from snugset.screens.answer import Answer
from snugset.screens.base import Base, Plain
from snugset.screens.beside import beside
from snugset.screens.desk import Desk, Look
from snugset.screens.page import Page
from snugset.screens.progress import head, signed
from snugset.screens.words import text, wrapped


class Painting(Base):
    """The bench's picture; what can be done there is in the screen itself."""

    def __init__(self, desk: Desk, note: str) -> None:
        super().__init__()
        self.desk = desk
        self.chosen_view = ""
        """The view the builder turned to; empty takes the prompt's own."""
        self.shown: Look | None = None
        """The build as it was painted last."""
        self.under: Sequence[Content] = [text(note)] if note else []
        """What stands over the field while nothing is typed: what the last answer came to."""

    def body(self) -> ComposeResult:
        """Lay out the prompt, what an answer comes to, the typing line, and the view."""
        with Horizontal(id="work"):
            with Vertical(id="ask"):
                yield Page("prompt")
                yield Page("under")
                with Horizontal(id="typing"):
                    yield Static("", id="cue", markup=False)
                    yield Answer()
            yield Plain("view")

    @property
    def field(self) -> Answer:
        """The field that is typed in."""
        return self.query_one(Answer)

    def on_resize(self, event: events.Resize) -> None:
        """Draw everything for the new size."""
        super().on_resize(event)
        self.call_after_refresh(self._place)

    def show(self, look: Look) -> None:
        """Paint a build as it stands; keys count again once it is painted."""
        self.shown = look
        asked = look.prompt
        self.set_class(asked is not None and asked.address.step == "return", "coming-back")
        self.query_one("#cue", Static).update(text(f"{asking.cue(asked)} "))
        self.query_one("#prompt", Page).put(asking.parts(asked, self.desk.build))
        self.field.placeholder = f"Enter: {asked.proposal}" if asked and asked.proposal else ""
        self.field.one_key = typed.one_key(asked)
        self.say_under(self.under)
        self._place()
        self.call_after_refresh(self.painted)

    def say_under(self, parts: Sequence[Content]) -> None:
        """Put something over the field."""
        self.query_one("#under", Page).put(parts)
        self._fit()

    def view_name(self) -> str:
        """Name the view that is shown."""
        asked = self.desk.look.prompt
        return self.chosen_view or (asked.view if asked and asked.view else "list")

    def draw_view(self) -> None:
        """Draw the view for the room that it has."""
        shown = self.query_one("#view", Plain)
        size = shown.content_size
        if self.shown is not None and size.width and size.height:
            shown.update(
                beside(self.shown, self.view_name(), size.width, size.height), layout=False
            )

    def painted(self) -> None:
        """Take keys again: the prompt is before the builder's eyes."""
        self._place()
        self.field.open()
        self.field.focus()

    def _place(self) -> None:
        """Draw what depends on sizes."""
        look = self.shown
        if look is None or not self.is_attached:
            return
        at = str(look.prompt.address) if look.prompt else "finished"
        width = max(1, self.size.width - 2)
        self.query_one("#where", Plain).put(head(signed(look), at, look.standing, width))
        self._fit()
        self.draw_view()

    def _fit(self) -> None:
        """Let the words of the prompt be seen whatever is said under them."""
        room = self.query_one("#ask").content_size
        under = self.query_one("#under", Page)
        if self.shown is None or not room.width:
            return
        words = len(wrapped([asking.words(self.shown.prompt)], room.width))
        # Over the words a line is free, under them one says that there is more.
        most = max(1, room.height - 1 - min(words + 2, room.height - 4))
        need = len(under.fold(room.width))
        under.display = need > 0
        under.styles.height = min(need, most)
