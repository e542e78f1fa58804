"""The program behind one tab, started without a shell and always ended."""

import asyncio
from asyncio.subprocess import PIPE, Process
from collections.abc import Sequence
from contextlib import suppress

from aiohttp import web
from textual_serve.app_service import AppService
from textual_serve.download_manager import DownloadManager

_KEEPING = 8.0
"""Seconds to finish what is being kept; then it is told by signal, and at last killed."""
_ENDING = 3.0


class Child(AppService):
    """One program, its screen on one line to a browser."""

    def __init__(self, argv: Sequence[str], line: web.WebSocketResponse) -> None:
        super().__init__(
            argv[0],
            write_bytes=line.send_bytes,
            write_str=line.send_str,
            close=line.close,  # type: ignore[arg-type]  # what it gives back is not looked at
            download_manager=DownloadManager(),
        )
        self._argv = tuple(argv)

    async def _open_app_process(self, width: int = 80, height: int = 24) -> Process:
        """Start it; nothing that a browser sent is among its arguments."""
        self._process = process = await asyncio.create_subprocess_exec(
            *self._argv,
            stdin=PIPE,
            stdout=PIPE,
            stderr=PIPE,
            env=self._build_environment(width=width, height=height),
        )
        self._stdin = process.stdin
        return process

    async def run(self) -> None:
        """Carry what it draws until it ends; then the browser is told."""
        try:
            await super().run()
        finally:
            with suppress(ConnectionError):
                await self.remote_close()

    async def end(self) -> None:
        """End it: it keeps what it is keeping and lets its build go, or else it is killed."""
        process = self._process
        if process is None:
            return
        await self.send_meta({"type": "quit"})
        if self._task is not None:
            self._task.cancel()
            await asyncio.wait([self._task])
        if process.stdin is not None:
            process.stdin.close()
        for patience, urge in ((_KEEPING, process.terminate), (_ENDING, process.kill)):
            with suppress(TimeoutError):
                # What it still draws is read, or it would wait for that for ever.
                await asyncio.wait_for(process.communicate(), patience)
                return
            with suppress(ProcessLookupError):
                urge()
        await process.communicate()
