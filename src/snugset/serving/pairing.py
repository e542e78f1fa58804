"""The code that lets one more device in: shown in the terminal, typed in the browser."""

import hmac
import secrets
import time
from collections.abc import Callable
from enum import Enum, auto

DIGITS = 8
LIFE = 300.0
"""Seconds a code can be used."""
TRIES = 5
"""Wrong tries after which a code is gone."""
IN_A_ROW = 3
"""Codes that may go in wrong tries before the builder must ask for another."""

_LONGEST = 64


class Tried(Enum):
    """What a try came to."""

    PAIRED = auto()
    WRONG = auto()
    NONE = auto()
    """There is no code that could be right: used, expired, or gone in wrong tries."""


class Pairing:
    """At most one code is good at a time; it lets one device in.

    `show` says a line to the builder, at the terminal.
    """

    def __init__(
        self,
        show: Callable[[str], None],
        *,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._show = show
        self._clock = clock
        self._code = ""
        self._until = 0.0
        self._left = 0
        self._gone = 0

    def begin(self) -> None:
        """Show a fresh code, because the builder asks for one; the one before is good no more."""
        self._gone = 0
        self._fresh()

    def look(self) -> None:
        """Notice that a device asks to come in: an expired code is followed by a fresh one."""
        if self._code and self._clock() >= self._until:
            self._fresh()

    def answer(self, typed: str) -> Tried:
        """Try a code; a right one is used up by it."""
        if not self._code or self._clock() >= self._until:
            return Tried.NONE
        plain = "".join(letter for letter in typed[:_LONGEST] if letter not in " -")
        if hmac.compare_digest(plain.encode("utf-8", "replace"), self._code.encode()):
            self._code = ""
            self._gone = 0
            self._show("A device is paired. For a code for the next one press Enter here.")
            return Tried.PAIRED
        self._left -= 1
        if self._left == 0:
            self._burnt()
        return Tried.WRONG

    def _fresh(self) -> None:
        self._code = "".join(secrets.choice("0123456789") for _ in range(DIGITS))
        self._until = self._clock() + LIFE
        self._left = TRIES
        half = DIGITS // 2
        minutes = round(LIFE / 60)
        self._show(
            f"Pairing code: {self._code[:half]} {self._code[half:]}   "
            f"(one device, {minutes} minutes, {TRIES} tries)"
        )

    def _burnt(self) -> None:
        """Follow a code that went in wrong tries by another, but not for ever."""
        self._code = ""
        self._gone += 1
        if self._gone < IN_A_ROW:
            self._show(f"{TRIES} wrong tries: that code is good no more.")
            self._fresh()
        else:
            self._show(
                f"{TRIES} wrong tries on each of {IN_A_ROW} codes: nobody is let in now. "
                "If it was you, press Enter here for a fresh code."
            )
