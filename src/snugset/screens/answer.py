"""The field that is typed in: it drops keys while an answer is being kept."""

from time import monotonic

from textual import events
from textual.message import Message
from textual.widgets import Input

HELD = 0.6
"""Seconds within which another Enter is a key held down, not a second fastener."""


class Answer(Input):
    """Takes what is typed; Enter, or one key where one key is enough, gives it."""

    class Given(Message):
        """An answer, as typed."""

        def __init__(self, typed: str) -> None:
            super().__init__()
            self.typed = typed

    def __init__(self) -> None:
        super().__init__(id="answer", select_on_focus=False)
        self.busy = True
        """Whether the next prompt is not painted yet: keys are dropped."""
        self.one_key: dict[str, str] = {}
        """Keys that answer at once while nothing is typed, and the text that they give."""
        self.watch_held = False
        """Whether a held Enter must count once, as for a fastener."""
        self._entered = -HELD

    async def _on_key(self, event: events.Key) -> None:
        if event.key == "enter":
            event.stop()
            event.prevent_default()
            self._enter()
            return
        if self.busy and (event.is_printable or event.key in ("backspace", "delete")):
            event.stop()
            event.prevent_default()
            return
        quick = self.one_key.get(event.character or "")
        if quick is not None and not self.value:
            event.stop()
            event.prevent_default()
            self._give(quick)
            return
        await super()._on_key(event)

    def _enter(self) -> None:
        """Give what is typed, unless the key is held down or the prompt is not painted yet."""
        now = monotonic()
        held = self.watch_held and now - self._entered < HELD
        self._entered = now
        if not self.busy and not held:
            self._give(self.value)

    def _give(self, typed: str) -> None:
        self.busy = True
        self.post_message(self.Given(typed))
