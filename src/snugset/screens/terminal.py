"""The terminal's driver, for a terminal that may go away while it is written to."""

from queue import Full

from textual.drivers.linux_driver import LinuxDriver

_PATIENCE = 0.1
"""Seconds between two looks whether the writing thread is still there."""


class Terminal(LinuxDriver):
    """The library's driver; a write never waits for a writing thread that has ended.

    That thread ends when the terminal has gone. What waited for it would wait for ever, and with
    it the build that is held.
    """

    def write(self, data: str) -> None:
        """Hand something to the writing thread."""
        self._hand(data)

    def close(self) -> None:
        """End the writing thread once it has written everything."""
        self._hand(None)
        if self._writer_thread is not None:
            self._writer_thread.join()

    def _hand(self, data: str | None) -> None:
        thread = self._writer_thread
        while thread is not None and thread.is_alive():
            try:
                thread._queue.put(data, timeout=_PATIENCE)  # noqa: SLF001 - it has no other door
            except Full:
                continue
            return
