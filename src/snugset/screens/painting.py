"""How the bench is laid out and painted: the prompt, what an answer comes to, the view."""

from collections.abc import Sequence
from typing import Protocol, cast

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import Static

from snugset.guide.prompt import Large, Prompt
from snugset.guide.ruling import Decision
from snugset.printable import printable
from snugset.screens import asking, big, figured, room, typed
from snugset.screens.answer import Answer
from snugset.screens.base import Base, Plain
from snugset.screens.beside import FOLLOWING, beside, views
from snugset.screens.desk import Look
from snugset.screens.page import Page
from snugset.screens.progress import head, signed
from snugset.screens.words import joined, text, wrapped
from snugset.typed import TYPE_CHECKING

if TYPE_CHECKING:
    from snugset.screens.app import SnugsetApp

_SAID_FAR = 3
"""Lines of what was said that are kept under the prompt as it is seen from afar."""


class Left(Vertical):
    """The left half; what stands in it is shared out anew when its own size changes."""

    def on_resize(self) -> None:
        """Share the lines out."""
        cast("Painting", self.screen).place()


class Seen(Protocol):
    """A build that is painted: open here, or followed."""

    look: Look

    @property
    def build(self) -> str:
        """Its id."""
        ...


class Painting(Base):
    """The bench's picture; what can be done there is in the screen itself."""

    def __init__(self, desk: Seen, note: str) -> None:
        super().__init__()
        self._seen = desk
        self.chosen_view = ""
        """The view the builder turned to; empty takes the prompt's own."""
        self.shown: Look | None = None
        """The build as it was painted last."""
        self.under: Sequence[Content] = [text(note)] if note else []
        """What stands over the field while nothing is typed: what the last answer came to."""
        self.live: Large | None = None
        """What is being typed, as a figure with its verdict."""
        self.coming: Decision | None = None
        """What is being typed would come to this."""

    def body(self) -> ComposeResult:
        """Lay out the prompt, what an answer comes to, the typing line, and the view."""
        with Horizontal(id="work"):
            with Left(id="ask"):
                yield Static("", id="far", markup=False)
                yield Page("prompt")
                yield Static("", id="large", markup=False)
                yield Page("detail")
                yield Page("under")
                with Horizontal(id="typing"):
                    yield Static("", id="cue", markup=False)
                    yield Answer()
            yield Plain("view")

    @property
    def field(self) -> Answer:
        """The field that is typed in."""
        return self.query_one(Answer)

    @property
    def far(self) -> bool:
        """Whether the prompt is seen from afar; the application keeps it from build to build."""
        return cast("SnugsetApp", self.app).far

    def on_resize(self, event: events.Resize) -> None:
        """Draw everything for the new size."""
        super().on_resize(event)
        self.call_after_refresh(self.place)

    def show(self, look: Look) -> None:
        """Paint a build as it stands; keys count again once it is painted."""
        self.shown = look
        self.live = self.coming = None
        asked = look.prompt
        self.set_class(asked is not None and asked.address.step == "return", "coming-back")
        self.set_class(self.far, "far")
        self.query_one("#cue", Static).update(text(f"{asking.cue(asked)} "))
        self.query_one("#detail", Page).put(asking.detail(asked))
        self.query_one("#prompt", Page).put([])
        proposal = asked.proposal if asked else ""
        self.field.placeholder = printable(f"Enter: {proposal}") if proposal else ""
        self.field.one_key = typed.one_key(asked)
        self.say_under(self.under)
        self.place()
        self.call_after_refresh(self.painted)

    def say_under(self, parts: Sequence[Content]) -> None:
        """Put something over the field."""
        self.query_one("#under", Page).put(parts)
        self._fit()

    def view_name(self) -> str:
        """Name the view that is shown."""
        return views(self._seen.look, self.chosen_view)[0]

    def draw_view(self) -> None:
        """Draw the view for the room that it has."""
        shown = self.query_one("#view", Plain)
        size = shown.content_size
        if self.shown is not None and size.width and size.height:
            drawn = beside(self.shown, self.view_name(), size.width, size.height, self.coming)
            shown.update(drawn, layout=False)

    def foresee(self, live: Large | None, coming: Decision | None) -> None:
        """Show what is being typed: as a figure, and in a view that follows it."""
        before, self.live, self.coming = self.coming, live, coming
        if before is not coming and self.view_name() in FOLLOWING:
            self.draw_view()

    def painted(self) -> None:
        """Take keys again: the prompt is before the builder's eyes."""
        self.place()
        self.field.open()
        self.field.focus()

    def place(self) -> None:
        """Draw what depends on sizes."""
        look = self.shown
        if look is None or not self.is_attached:
            return
        at = str(look.prompt.address) if look.prompt else "finished"
        width, height = self.size
        lines = head(signed(look), at, look.standing, max(1, width - 2))
        if room.small(width, height):
            lines = lines.split("\n")[0]
        self.query_one("#where", Plain).put(lines)
        self._fit()
        self.draw_view()

    def _fit(self) -> None:
        """Let the words of the prompt be seen whatever is said under them."""
        space = self.query_one("#ask").content_size
        under = self.query_one("#under", Page)
        if self.shown is None or not space.width:
            return
        said = len(under.fold(space.width))
        height = max(1, space.height - 1)
        asked = self.shown.prompt
        distant = self.far and figured.suits(asked, space.width, height)
        self.query_one("#far").display = distant
        if distant:
            kept = min(said, _SAID_FAR, max(0, height - 1))
            self._paint_far(space.width, height - kept)
        else:
            kept = self._paint_near(space.width, height, said)
        under.display = kept > 0
        under.styles.height = kept

    def _paint_far(self, width: int, height: int) -> None:
        asked = self.shown.prompt if self.shown else None
        for part in ("#prompt", "#large", "#detail"):
            self.query_one(part).display = False
        large = self.live or (asked.large if asked else None)
        drawn = figured.far(asked, large, self.field.value, width, height)
        self.query_one("#far", Static).update(joined(drawn), layout=False)

    def _paint_near(self, width: int, height: int, said: int) -> int:
        """Paint the prompt, its figure and its details; give the lines left for what was said."""
        asked = self.shown.prompt if self.shown else None
        pad = [text("")] if height >= room.WHOLE[1] - 6 else []
        drawn = figured.figure(self._large(asked), width, max(big.high(1), height // 5))
        large = [*pad, *drawn] if drawn else []
        prompt, detail = self.query_one("#prompt", Page), self.query_one("#detail", Page)
        whole = [*pad, *asking.first(asked, self._seen.build, width, whole=True)]
        every = len(wrapped(whole, width)) + len(large) + len(detail.fold(width)) + said
        if every > height:
            whole = [*pad, *asking.first(asked, self._seen.build, width, whole=False)]
        shares = self._shared(height, width, whole, large, said)
        if large and not shares.large:  # a line of it, rather than nothing
            large = figured.figure(self._large(asked), width, 0)
            shares = self._shared(height, width, whole, large, said)
        words = wrapped([*pad, asking.words(asked)], width)
        if not shares.detail and detail.parts and shares.prompt > len(words):
            whole = [*whole, *detail.parts]  # read on with the same key
        prompt.put(whole, stay=True)
        for part, lines in ((prompt, shares.prompt), (detail, shares.detail)):
            part.display = lines > 0
            part.styles.height = lines
        figure = self.query_one("#large", Static)
        figure.display = shares.large > 0
        figure.styles.height = shares.large
        figure.update(joined(large), layout=False)
        return shares.under

    def _large(self, asked: Prompt | None) -> Large | None:
        return self.live or (asked.large if asked else None)

    def _shared(
        self, height: int, width: int, whole: list[Content], large: list[Content], said: int
    ) -> room.Shares:
        """Share the lines out; the words are kept with the line that stands over them."""
        asked = self.shown.prompt if self.shown else None
        pad = [text("")] if height >= room.WHOLE[1] - 6 else []
        return room.share(
            height,
            words=len(wrapped([*pad, asking.words(asked)], width)) + 1,
            prompt=len(wrapped(whole, width)),
            large=len(large),
            firm=self.live is not None,
            detail=len(self.query_one("#detail", Page).fold(width)),
            under=said,
        )

    def action_view(self) -> None:
        """Turn to the next view."""
        self.chosen_view = views(self._seen.look, self.chosen_view)[1]
        self.draw_view()

    def action_down(self) -> None:
        """Show the rest of the prompt, then of what was said."""
        pages = self._pages()
        next((page for page in pages if page.more), pages[-1]).turn(1)

    def action_up(self) -> None:
        """Go back to what stands before."""
        for page in reversed(self._pages()):
            if page.turn(-1):
                return

    def _pages(self) -> list[Page]:
        """Give the texts that may be longer than their places, as they are read."""
        names = ("#under", "#prompt", "#detail")  # what is being typed comes first
        if not self.field.value:
            names = ("#prompt", "#detail", "#under")
        found = [self.query_one(name, Page) for name in names]
        return [page for page in found if page.display] or found[:1]
