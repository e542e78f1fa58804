"""The devices that were let in, and the places for their tabs."""

import asyncio
import hashlib
import secrets
import time
from collections import Counter
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

_MOST = 256
"""Devices remembered; the oldest is forgotten first."""
PATIENCE = 4.0
"""Seconds a fresh tab waits for a place: that of the page it replaces is just being freed."""
_PAUSE = 0.1


class FullError(Exception):
    """All places are taken."""


class Devices:
    """Tokens that were given out. What is kept cannot be turned back into one."""

    def __init__(self) -> None:
        self._known: dict[bytes, None] = {}

    def admit(self) -> str:
        """Give a token to one device: 256 random bits."""
        token = secrets.token_urlsafe(32)
        self._known[_digest(token)] = None
        while len(self._known) > _MOST:
            del self._known[next(iter(self._known))]
        return token

    def knows(self, token: str) -> bool:
        """Tell whether a token was given out."""
        return _digest(token) in self._known


class Places:
    """A program runs for each tab; there are only so many."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._taken: Counter[bytes] = Counter()

    @property
    def taken(self) -> int:
        """How many are taken."""
        return self._taken.total()

    def room(self, token: str) -> bool:
        """Tell whether a device may load the page: a page it has open is about to be replaced."""
        return self.taken - self._taken[_digest(token)] < self._most

    @asynccontextmanager
    async def place(self, token: str, *, patience: float = PATIENCE) -> AsyncIterator[None]:
        """Hold a place; FullError if none is freed in time."""
        until = time.monotonic() + patience
        while self.taken >= self._most:
            if time.monotonic() >= until:
                raise FullError
            await asyncio.sleep(_PAUSE)
        who = _digest(token)
        self._taken[who] += 1
        try:
            yield
        finally:
            self._taken[who] -= 1


def _digest(token: str) -> bytes:
    return hashlib.sha256(token.encode("utf-8", "replace")).digest()
