"""A text that may be longer than its place: its beginning is shown, and that there is more."""

from collections.abc import Sequence

from textual import events
from textual.content import Content
from textual.widgets import Static

from snugset.printable import counted
from snugset.screens.words import joined, wrapped


class Page(Static):
    """Shows as many lines as fit; where some are left out, the last line says how to see them."""

    def __init__(self, id: str) -> None:  # noqa: A002 - the library's own name
        super().__init__("", id=id, markup=False)
        self._parts: Sequence[Content] = ()
        self._first = 0

    def put(self, parts: Sequence[Content], *, stay: bool = False) -> None:
        """Show a text from its beginning, or with `stay` from where it is being read."""
        self._parts = tuple(parts)
        if not stay:
            self._first = 0
        self._show()

    def fold(self, width: int) -> list[Content]:
        """Give its lines at a width."""
        return wrapped(self._parts, width)

    @property
    def parts(self) -> Sequence[Content]:
        """The text, as it was put."""
        return self._parts

    @property
    def more(self) -> bool:
        """Whether there are lines below those that are shown."""
        every, room = self._room()
        return self._first + room < len(every)

    def turn(self, pages: int) -> bool:
        """Go on or back by pages; tell whether anything moved."""
        before = self._first
        _, room = self._room()
        self._first += pages * max(1, room - 1)
        self._show()
        return self._first != before

    def on_resize(self, _event: events.Resize) -> None:
        """Break the lines anew."""
        self._show()

    def on_mouse_scroll_down(self) -> None:
        """Go on a line."""
        self._first += 1
        self._show()

    def on_mouse_scroll_up(self) -> None:
        """Go back a line."""
        self._first -= 1
        self._show()

    def _room(self) -> tuple[list[Content], int]:
        """Give all lines, and how many of them are shown at a time."""
        size = self.content_size
        every = self.fold(size.width) if size.width else []
        if size.height == 1 and len(every) > 1:  # the sign stands beside each line
            every = self.fold(size.width - len(_sign_beside(size.width)))
        return every, size.height if len(every) <= size.height else max(1, size.height - 1)

    def _show(self) -> None:
        every, room = self._room()
        self._first = max(0, min(self._first, len(every) - room))
        shown = every[self._first : self._first + room]
        below = len(every) - self._first - room
        if room < len(every) and self.content_size.height > 1:
            shown.append(self._sign(self._first, below))
        elif shown and below > 0:  # one line alone: the sign stands in it
            words = shown[0].plain.strip()
            whole = self._sign(self._first, below + 1)
            shown = [_followed(shown[0], self.content_size.width) if words else whole]
        self.update(joined(shown), layout=False)

    def _sign(self, above: int, below: int) -> Content:
        parts = [f"▼ {counted(below, 'more line')}: PgDn"] if below else []
        parts += [f"▲ {above}: PgUp"] if above else []
        return Content.styled("   ".join(parts), "reverse")


def _sign_beside(width: int) -> str:
    """Give what stands behind a line that is followed by others."""
    return " ▼ PgDn" if width > 2 * len(" ▼ PgDn") else " ▼"


def _followed(line: Content, width: int) -> Content:
    """Say in a line that is followed by others how to see them."""
    sign = _sign_beside(width)
    kept = line.truncate(max(1, width - len(sign)), ellipsis=True)
    return kept.append(Content.styled(sign, "reverse"))
