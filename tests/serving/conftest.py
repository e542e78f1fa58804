"""A site on a loopback port, and a program that stands in for ours where ours is not the matter."""

import re
import sys
from collections.abc import AsyncIterator, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from dataclasses import dataclass, field

import pytest
from aiohttp import ClientWebSocketResponse, WSMsgType
from aiohttp.test_utils import TestClient, TestServer
from aiohttp.web import Application, Request

from snugset.serving.devices import Places
from snugset.serving.pairing import Pairing
from snugset.serving.site import Site

ECHO = """
import os, sys
def draw(data): os.write(1, b"D" + len(data).to_bytes(4, "big") + data)
os.write(1, b"__GANGLION__\\n")
draw(b"words:" + "|".join(sys.argv[1:]).encode())
while head := sys.stdin.buffer.read(5):
    data = sys.stdin.buffer.read(int.from_bytes(head[1:], "big"))
    if head[:1] == b"D" and data == b"leave":
        os.write(1, b"M" + (15).to_bytes(4, "big") + b'{"type":"exit"}')
        break
    if head[:1] == b"M" and b"quit" in data:
        break
    draw(head[:1] + data)
"""
"""Speaks as the screens' driver speaks, and shows what it is told."""
STUBBORN = "import os, time; os.write(1, b'__GANGLION__\\n'); time.sleep(60)"


@dataclass
class Served:
    """A site, a browser without a screen, and what the builder's terminal shows."""

    site: Site
    client: TestClient[Request, Application]
    shown: list[str] = field(default_factory=list)

    @property
    def url(self) -> str:
        return str(self.client.make_url("/")).rstrip("/")

    @property
    def code(self) -> str:
        return "".join(re.findall(r"\d{4}", self.shown[-1])[:2])

    @asynccontextmanager
    async def line(self) -> AsyncIterator[ClientWebSocketResponse]:
        """Open a line, as the page does."""
        async with self.client.ws_connect("/ws", origin=self.url) as line:
            yield line


Serve = Callable[..., AbstractAsyncContextManager[Served]]


@pytest.fixture
def serve() -> Serve:
    """Give a site, by default without pairing, and with the program that echoes."""

    @asynccontextmanager
    async def served(
        *argv: str, paired: bool = False, places: int = 4, patience: float = 0.3
    ) -> AsyncIterator[Served]:
        shown: list[str] = []
        pairing = Pairing(shown.append) if paired else None
        site = Site(
            argv=argv or (sys.executable, "-c", ECHO),
            places=Places(places),
            pairing=pairing,
            penalty=0.05,
            patience=patience,
        )
        async with TestClient(TestServer(site.app())) as client:
            if pairing is not None:
                pairing.begin()
            yield Served(site, client, shown)

    return served


async def until(line: ClientWebSocketResponse, words: bytes) -> bytes:
    """Read what is drawn until it holds some words."""
    seen = b""
    while words not in seen:
        message = await line.receive(timeout=30)
        assert message.type is WSMsgType.BINARY, (message, seen)
        seen += message.data
    return seen
