"""Listening, saying where, and ending when the builder says so."""

import asyncio
import logging
import signal
import socket
import sys
from collections.abc import Callable, Sequence
from typing import TextIO

from aiohttp import web
from aiohttp.http_exceptions import HttpProcessingError

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
    fault: Callable[[Exception], object],
) -> None:
    """Serve the program `argv` to browsers until a signal ends it.

    `show` says a line to the builder, `fault` writes down what should not have happened. A code is
    asked for where others than this machine can reach the address, or where it is `paired` anyway.
    OSError if the address cannot be listened on.
    """
    listening = listen(host, port)
    with listening:
        address = listening.getsockname()[0]
        pairing = Pairing(show) if paired or not is_loopback(address) else None
        site = Site(
            argv=argv,
            places=Places(sessions),
            pairing=pairing,
            names=() if is_address(host) else (host,),
        )
        asyncio.run(_serve(site, listening, show, _Faults(fault)))


class _Faults(logging.Handler):
    """Hands on what went wrong in here; what others send that is no request is their affair."""

    def __init__(self, fault: Callable[[Exception], object]) -> None:
        super().__init__(logging.ERROR)
        self._fault = fault

    def emit(self, record: logging.LogRecord) -> None:
        """Hand on the exception that a record carries."""
        error = record.exc_info[1] if record.exc_info else None
        if isinstance(error, Exception) and not isinstance(error, HttpProcessingError):
            self._fault(error)


def listen(host: str, port: int) -> socket.socket:
    """Listen on one address; OSError if there is no such one here, or it is in use."""
    found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE)
    family, _, _, _, address = found[0]
    return socket.create_server(address[:2], family=family)


async def _serve(
    site: Site, listening: socket.socket, show: Callable[[str], None], faults: logging.Handler
) -> None:
    address, port = listening.getsockname()[:2]
    log = logging.getLogger(__name__)
    log.propagate = False
    log.addHandler(faults)
    runner = web.AppRunner(site.app(), access_log=None, logger=log, shutdown_timeout=_LAST_WORDS)
    await runner.setup()
    ended = asyncio.Event()
    loop = asyncio.get_running_loop()
    for number in _ENDINGS:
        loop.add_signal_handler(number, ended.set)
    try:
        await web.SockSite(runner, listening).start()
        for line in _greeting(address, port, paired=site.pairing is not None):
            show(line)
        if site.pairing is not None:
            site.pairing.begin()
            _on_enter(sys.stdin, site.pairing.begin)
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
