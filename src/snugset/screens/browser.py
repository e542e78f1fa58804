"""The driver of a screen in a browser, for a browser that may go away."""

import asyncio
import signal
from contextlib import suppress

from textual import events
from textual.drivers.web_driver import WebDriver


class Browser(WebDriver):
    """The library's driver; when nobody is at the other end any more, the screens end.

    Otherwise they would go on without anybody, and hold the build.
    """

    def start_application_mode(self) -> None:
        """Begin, and hear the end of input on the event loop."""
        self._loop = asyncio.get_running_loop()
        super().start_application_mode()
        # The library begins as if nobody looked. The page has keys of its own: the field is ready
        # for them, wherever the browser's own attention is.
        self._app.call_later(self._app.post_message, events.AppFocus())

    def run_input_thread(self) -> None:
        """Read until the other end is closed, or the screens are left."""
        super().run_input_thread()
        if not self.exit_event.is_set():
            with suppress(RuntimeError):  # the loop has just ended: so did the screens
                self._loop.call_soon_threadsafe(self._gone)

    def on_meta(self, packet_type: str, payload: dict[str, object]) -> None:
        """Do what whoever serves says, behind the size that the library begins with."""
        self._loop.call_soon_threadsafe(self._loop.call_soon, super().on_meta, packet_type, payload)

    def write(self, data: str) -> None:
        """Draw, where anybody is still there to see it."""
        with suppress(BrokenPipeError):
            super().write(data)

    def write_meta(self, data: dict[str, object]) -> None:
        """Say something to whoever serves, where that is still there."""
        with suppress(BrokenPipeError):
            super().write_meta(data)

    def _gone(self) -> None:
        from snugset.screens.app import SnugsetApp  # noqa: PLC0415 - it names this driver

        if isinstance(self._app, SnugsetApp):
            self._app.end(signal.SIGHUP)
