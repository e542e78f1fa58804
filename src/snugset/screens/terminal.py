"""The terminal's driver, for a terminal that may go away while it is written to."""

import os
from queue import Full

from textual.drivers.linux_driver import LinuxDriver

_PATIENCE = 0.1
"""Seconds between two looks whether the writing thread is still there."""


class Terminal(LinuxDriver):
    """The library's driver; a write never waits for a writing thread that has ended.

    That thread ends when the terminal has gone. What waited for it would wait for ever, and with
    it the build that is held.
    """

    def _get_terminal_size(self) -> tuple[int, int]:
        """Ask the terminal itself: COLUMNS and LINES, where they are set, do not follow it."""
        try:
            width, height = os.get_terminal_size(self.fileno)
        except OSError:
            return super()._get_terminal_size()
        return (width, height) if width and height else super()._get_terminal_size()

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
