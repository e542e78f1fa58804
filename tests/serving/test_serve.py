"""The program served: the same screen, on a line that may end at any moment."""

import asyncio
import json
import os
import shutil
import signal
import subprocess
import time
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from pathlib import Path

import pytest
from aiohttp import ClientSession, ClientWebSocketResponse, CookieJar, WSMsgType

from snugset.commands.declare import Place
from snugset.commands.served import argv
from snugset.journal.lock import Lock, holder
from snugset.journal.owner import Owner
from snugset.journal.reading import read_records, verify

from .program import FIRST, MAIN, PATIENCE, SECOND, Glass, address, begin, environ, serving

CLEAR = "\x15"
"""Empties the field."""
_AGAIN = 5.0
"""Seconds after which a key is pressed again."""


class Tab:
    """A tab of a browser that shows nothing: what would stand on its terminal."""

    def __init__(self, line: ClientWebSocketResponse) -> None:
        self.line = line
        self.glass = Glass()

    async def until(self, words: str, keys: str = "") -> None:
        """Wait for words on the screen, pressing keys until they are there.

        Keys pressed before a prompt is painted are dropped: they are pressed again after a while.
        """
        ends = time.monotonic() + PATIENCE
        again, pressed = time.monotonic(), False
        while words not in self.glass.text:
            assert time.monotonic() < ends, self.glass.text
            if keys and time.monotonic() >= again:
                if pressed and keys != "\r":  # what was not dropped, if anything, is wiped first
                    await self.line.send_json(["stdin", CLEAR])
                    await asyncio.sleep(0.3)
                pressed = True
                await self.line.send_json(["stdin", keys])
                again = time.monotonic() + _AGAIN
            with suppress(TimeoutError):
                message = await self.line.receive(timeout=_AGAIN)
                assert message.type is WSMsgType.BINARY, (message, self.glass.text)
                self.glass.draw(message.data)


@asynccontextmanager
async def tab(url: str, session: ClientSession) -> AsyncIterator[Tab]:
    """Open a tab: the page, then its line."""
    async with session.get(url) as page:
        assert page.status == 200
    async with session.ws_connect(f"{url}/ws", origin=url) as line:
        await line.send_json(["resize", {"width": 80, "height": 24}])
        yield Tab(line)


@pytest.fixture
async def session() -> AsyncIterator[ClientSession]:
    """Give a browser that shows nothing."""
    async with ClientSession(cookie_jar=CookieJar(unsafe=True)) as made:
        yield made


@pytest.fixture(scope="session")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Begin a build once; it is copied, never changed."""
    return begin(tmp_path_factory.mktemp("begun"))


@pytest.fixture
def build(begun: Path, tmp_path: Path) -> Path:
    """Give a build of the test's own, in the test's data folder."""
    there = tmp_path / "data" / "builds" / begun.name
    shutil.copytree(begun, there)
    return there


async def test_a_tab_that_is_closed_loses_nothing_and_comes_back_where_it_stood(
    tmp_path: Path, build: Path, session: ClientSession
) -> None:
    with serving(tmp_path, "--sessions", "1") as server:
        url = address(server)
        async with tab(url, session) as first:
            await first.until("north")
            await first.until(FIRST, "\r")
            await first.until("▸ .004; manual", ".004; manual")
            await first.until(SECOND, "\r")
            await first.until("▸ .00", ".00")
        # At once, as a page that is loaded again: the old program may still be ending.
        async with tab(url, session) as again:
            await again.until("north")
            await again.until("You stood at spec.deck-flatness", "\r")
            await again.until(SECOND, "\r")
            await again.line.send_json(["stdin", "\x11"])
            while (await again.line.receive(timeout=PATIENCE)).type is WSMsgType.BINARY:
                pass
            assert again.line.closed
        await asyncio.to_thread(_let_go, build)
        assert holder(build) == (False, None)
        server.child.send_signal(signal.SIGTERM)
        assert server.ended() == 0
        assert not [line for line in server.lines if "Traceback" in line]
    assert verify(build).whole
    assert "spec" in [record.kind for record in read_records(build)]


async def test_a_build_that_is_being_let_go_is_waited_for(
    tmp_path: Path, build: Path, session: ClientSession
) -> None:
    lock = Lock.take(build, Owner.here(person="Ash", since="2026-03-06T17:40:00Z"))
    try:
        with serving(tmp_path) as server:
            async with tab(address(server), session) as opened:
                await opened.until("open elsewhere")
                await opened.until("One moment", "\r")
                # It loads first what opens a build: longer than that, shorter than its patience.
                await asyncio.sleep(2.5)
                assert FIRST not in opened.glass.text
                lock.release()
                await opened.until(FIRST)
    finally:
        if holder(build)[0]:
            lock.release()


async def test_the_server_ends_its_programs_with_it(
    tmp_path: Path, build: Path, session: ClientSession
) -> None:
    with serving(tmp_path) as server:
        async with tab(address(server), session) as opened:
            await opened.until("north")
            await opened.until(FIRST, "\r")
            assert holder(build)[0]
            server.child.send_signal(signal.SIGINT)
            assert server.ended() == 0
    assert (build / "lock").read_bytes() == b""


@pytest.mark.parametrize("how", ["killed", "terminated"])
async def test_a_program_whose_server_is_gone_lets_its_build_go(
    tmp_path: Path, build: Path, session: ClientSession, how: str
) -> None:
    """Nothing is left behind by a server that could not end its programs."""
    with serving(tmp_path) as server:
        async with tab(address(server), session) as opened:
            await opened.until("north")
            await opened.until(FIRST, "\r")
            held, owner = holder(build)
            assert held
            assert owner is not None
            if how == "killed":
                server.child.kill()
            else:
                os.kill(owner.pid, signal.SIGTERM)
            await asyncio.to_thread(_let_go, build)
    assert holder(build) == (False, None)
    assert (build / "lock").read_bytes() == b"", "let go in good order"


def _let_go(build: Path) -> None:
    ends = time.monotonic() + PATIENCE
    while holder(build)[0] and time.monotonic() < ends:
        time.sleep(0.05)


def test_a_code_is_asked_for_where_it_is_wanted_and_enter_shows_another(tmp_path: Path) -> None:
    with serving(tmp_path, "--pair") as server:
        first = server.code()
        server.enter()
        assert server.code() != first
        server.child.send_signal(signal.SIGTERM)
        assert server.ended() == 0
        assert any("not encrypted" in line for line in server.lines)


def test_on_this_machine_no_code_is_shown(tmp_path: Path) -> None:
    with serving(tmp_path) as server:
        server.until("Ctrl.C ends it")
        server.enter()
        server.child.send_signal(signal.SIGTERM)
        assert server.ended() == 0
        assert not [line for line in server.lines if "code" in line]


MISSING = "import sys; sys.modules['aiohttp'] = None\n"


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        ((), MISSING + MAIN, "-m pip install '.[serve]'"),
        (("--host", "203.0.113.9"), MAIN, "203.0.113.9, port 0 cannot be listened on"),
        (("--sessions", "0"), MAIN, "--sessions takes a whole number from 1 to 32"),
        (("--sessions", "1_0"), MAIN, "--sessions takes a whole number"),
    ],
)
def test_what_cannot_be_served_is_said_in_a_sentence(
    tmp_path: Path, words: tuple[str, ...], code: str, says: str
) -> None:
    with serving(tmp_path, *words, code=code) as server:
        assert says in server.until("snugset: ").string
        assert server.ended() == 1
        assert not [line for line in server.lines if "Traceback" in line]


_FORM = b"POST /pair HTTP/1.1\r\nHost: HOST\r\nOrigin: http://HOST\r\nContent-Length: 1\r\n"
NOT_REQUESTS = (
    b"GARBAGE \x1b[31m\xff",
    b"GET / HTTP/1.1\r\nHost: a\r\nHost: b",
    b"GET / HTTP/1.1",
    b"GET / HTTP/1.1\r\nHost: HOST:\xff",
    b"GET /page/../site.py HTTP/1.1\r\nHost: HOST",
    b"OPTIONS * HTTP/1.1\r\nHost: HOST",
    _FORM + b"Content-Type: multipart/form-data; boundary=x",
    _FORM + b"Content-Type: application/x-www-form-urlencoded; charset=nope",
)


async def test_what_is_no_request_is_refused_and_the_terminal_stays_quiet(
    tmp_path: Path, session: ClientSession
) -> None:
    with serving(tmp_path, "--pair") as server:
        url = address(server)
        code = server.code()
        host, port = url.removeprefix("http://").split(":")
        for sent in NOT_REQUESTS:
            reader, writer = await asyncio.open_connection(host, int(port))
            writer.write(sent.replace(b"HOST", f"{host}:{port}".encode()) + b"\r\n\r\nx")
            assert int((await reader.readline()).split()[1]) in (400, 403), sent
            writer.close()
        async with session.post(
            f"{url}/pair", data={"code": code}, headers={"Origin": url}
        ) as page:
            assert 'id="terminal"' in await page.text()
        server.until("A device is paired")
        server.child.send_signal(signal.SIGTERM)
        assert server.ended() == 0
        assert server.rest() == ""


FAULT = """
from snugset.serving.devices import Places
def room(*_): raise RuntimeError("planted")
Places.room = room
"""


async def test_a_fault_is_a_sentence_and_its_details_are_written_down(
    tmp_path: Path, session: ClientSession
) -> None:
    with serving(tmp_path, code=FAULT + MAIN) as server:
        async with session.get(address(server)) as page:
            assert page.status == 500
            assert "planted" not in await page.text()
        server.until("a fault inside Snugset stopped this .RuntimeError.")
        server.child.send_signal(signal.SIGTERM)
        assert server.ended() == 0
        assert "Traceback" not in server.rest()
    assert "planted" in (tmp_path / "data" / "crash.log").read_text()


def test_the_data_folder_of_the_command_is_the_programs(tmp_path: Path) -> None:
    place = Place({"SNUGSET_DATA": "elsewhere"}, tmp_path / "of the; command")
    assert argv(place, "--Wren")[-2:] == (str(tmp_path / "of the; command"), "--Wren")


def test_a_program_with_nobody_at_the_other_end_ends_by_itself(tmp_path: Path) -> None:
    place = Place({}, tmp_path / "data")
    done = subprocess.run(
        argv(place, "Wren"),
        input=b"",
        capture_output=True,
        env={**environ(tmp_path), "TEXTUAL_DRIVER": "textual.drivers.web_driver:WebDriver"},
        timeout=60,
        check=False,
    )
    assert done.returncode == 128 + signal.SIGHUP
    assert json.dumps({"type": "exit"}).encode() in done.stdout
    assert done.stderr == b""
