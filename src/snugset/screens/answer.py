"""The field that is typed in: it drops keys until the next prompt is painted."""

from time import monotonic
from typing import ClassVar

from textual import events
from textual.message import Message

from snugset.guide.answer import LONGEST
from snugset.printable import printable
from snugset.screens.base import Field

MOST = LONGEST + 200
"""Letters that the field takes: more than an answer may have, so that the guide says so."""


class Answer(Field):
    """Takes what is typed; Enter, or one key where one key is enough, gives it."""

    HELD: ClassVar[float] = 0.8
    """Seconds within which the same key again, with nothing typed between, is one that is held
    down: it counts once, so that a held Enter confirms one fastener. Keyboards repeat after half a
    second, some after two thirds, and then many times a second."""

    class Given(Message):
        """An answer, as typed."""

        def __init__(self, typed: str) -> None:
            super().__init__()
            self.typed = typed

    class Held(Message):
        """A key that is held down was counted once already."""

    def __init__(self) -> None:
        super().__init__(id="answer", select_on_focus=False, max_length=MOST)
        self.busy = True
        """Whether the next prompt is not painted yet: keys are dropped."""
        self.one_key: dict[str, str] = {}
        """Keys that answer at once while nothing is typed, and the text that they give."""
        self._open = 0.0
        """When the prompt was painted; a key struck before that is dropped, however late it is."""
        self._last = ""
        """The key that gave the last answer, if none was struck since."""
        self._last_at = -self.HELD

    def open(self) -> None:
        """Take keys from now on: the prompt is painted."""
        if self.busy:
            self.busy = False
            self._open = monotonic()

    def begin(self, typed: str) -> None:
        """Begin an answer for the builder to go on with."""
        if not self.busy:
            self.value = typed
            self.cursor_position = len(typed)

    async def _on_key(self, event: events.Key) -> None:
        early = self.busy or event.time < self._open
        quick = self.one_key.get(event.character or "") if not self.value else None
        if event.key == "enter" or quick is not None:
            event.stop()
            event.prevent_default()
            self._struck(event, self.value if quick is None else quick, early=early)
        elif early and (event.is_printable or event.key in ("backspace", "delete")):
            event.stop()
            event.prevent_default()
        elif not early:
            self._last = ""

    def _on_paste(self, event: events.Paste) -> None:
        event.stop()
        event.prevent_default()
        if self.busy or event.time < self._open:
            return
        self._last = ""
        whole = " ".join(event.text.split())
        self.insert_text_at_cursor(printable(whole)[: MOST - len(self.value)])

    def _struck(self, event: events.Key, typed: str, *, early: bool) -> None:
        """Give an answer, unless the key is held down or the prompt is not painted yet."""
        held = event.key == self._last and event.time - self._last_at < self.HELD
        if early and event.key != self._last:
            return
        self._last, self._last_at = event.key, event.time
        if held and not early:
            self.post_message(self.Held())
        elif not early:
            self.busy = True
            self.post_message(self.Given(typed))
