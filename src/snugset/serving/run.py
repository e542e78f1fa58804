"""Listening, saying where, and ending when the builder says so."""

import asyncio
import signal
import socket
import sys
from collections.abc import Callable, Sequence
from typing import TextIO

from aiohttp import web

from snugset.serving.asking import is_address, is_loopback, named
from snugset.serving.devices import Places
from snugset.serving.pairing import Pairing
from snugset.serving.site import Site

_ENDINGS = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)
_LAST_WORDS = 15.0
"""Seconds that programs have to end in, when the server ends."""


def serve(
    argv: Sequence[str],
    *,
    host: str,
    port: int,
    sessions: int,
    paired: bool,
    show: Callable[[str], None],
) -> None:
    """Serve the program `argv` to browsers until a signal ends it.

    `show` says a line to the builder. OSError if the address cannot be listened on. A code is asked
    for where others than this machine can reach the address, or where it is `paired` anyway.
    """
    listening = listen(host, port)
    with listening:
        asyncio.run(_serve(argv, listening, host, sessions, paired=paired, show=show))


def listen(host: str, port: int) -> socket.socket:
    """Listen on one address; OSError if there is no such one here, or it is in use."""
    found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE)
    family, _, _, _, address = found[0]
    return socket.create_server(address[:2], family=family)


async def _serve(
    argv: Sequence[str],
    listening: socket.socket,
    host: str,
    sessions: int,
    *,
    paired: bool,
    show: Callable[[str], None],
) -> None:
    address, port = listening.getsockname()[:2]
    pairing = Pairing(show) if paired or not is_loopback(address) else None
    names = () if is_address(host) else (host,)
    site = Site(argv=argv, places=Places(sessions), pairing=pairing, names=names)
    runner = web.AppRunner(site.app(), access_log=None, shutdown_timeout=_LAST_WORDS)
    await runner.setup()
    ended = asyncio.Event()
    loop = asyncio.get_running_loop()
    for number in _ENDINGS:
        loop.add_signal_handler(number, ended.set)
    try:
        await web.SockSite(runner, listening).start()
        for line in _greeting(address, port, paired=pairing is not None):
            show(line)
        if pairing is not None:
            pairing.begin()
            _on_enter(sys.stdin, pairing.begin)
        await ended.wait()
    finally:
        await runner.cleanup()


def _greeting(address: str, port: int, *, paired: bool) -> list[str]:
    anywhere = address in ("0.0.0.0", "::")  # noqa: S104 - looked at, not listened on
    where = named("THIS-MACHINE'S-ADDRESS" if anywhere else address, port)
    lines = [f"The bench in a browser: http://{where}/"]
    if paired:
        lines.append(
            "What is sent is not encrypted: on a network you trust only. "
            "A device that is paired can do what you can do in Snugset."
        )
    return [*lines, "Ctrl+C ends it; everything answered is kept."]


def _on_enter(stream: TextIO | None, do: Callable[[], None]) -> None:
    """Do something at each line that the builder enters; nothing where nobody can."""
    if stream is None:
        return
    loop = asyncio.get_running_loop()

    def line() -> None:
        if stream.readline():
            do()
        else:
            loop.remove_reader(stream.fileno())

    try:
        loop.add_reader(stream.fileno(), line)
    except (OSError, ValueError):  # a file, or nothing: no line will ever come
        return
