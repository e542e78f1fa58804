"""What a browser gets, and what it gets nothing of."""

import asyncio
import os
import re
import signal
import sys
import time

import pytest
from aiohttp import WSMsgType, WSServerHandshakeError

from snugset.serving.child import Child
from snugset.serving.pairing import Pairing
from snugset.serving.site import FULL, LIBRARY, PAGES

from .conftest import STUBBORN, Serve, Served, until

FOREIGN = "http://rebound.example"
WAYS_IN = ("/", "/pair", "/ws", "/static/js/textual.js", "/page/bench.js", "/page/plain.css")


async def pair(served: Served, code: str, origin: str | None = None) -> int:
    answer = await served.client.post(
        "/pair",
        data={"code": code},
        headers={"Origin": origin or served.url},
        allow_redirects=False,
    )
    return answer.status


async def test_on_this_machine_the_bench_is_given_at_once(serve: Serve) -> None:
    async with serve() as served:
        page = await served.client.get("/")
        assert page.status == 200
        assert 'id="terminal"' in await page.text()
        cookie = page.headers["Set-Cookie"]
        assert "HttpOnly" in cookie
        assert "SameSite=Strict" in cookie
        async with served.line() as line:
            await until(line, b"words:")
            await line.send_json(["stdin", "17+18"])
            await until(line, b"D17+18")
            await line.send_json(["resize", {"width": 85, "height": 36}])
            assert b'"width": 85' in await until(line, b"resize")


async def test_elsewhere_a_device_gets_nothing_before_it_is_paired(serve: Serve) -> None:
    async with serve(paired=True) as served:
        page = await served.client.get("/")
        assert "Pair this device" in await page.text()
        assert "Set-Cookie" not in page.headers
        for path in ("/static/js/textual.js", "/page/bench.js", "/page/bench.html", "/nothing"):
            assert (await served.client.get(path)).status == 403
        with pytest.raises(WSServerHandshakeError, match="403"):
            await served.client.ws_connect("/ws", origin=served.url)
        assert served.site.places.taken == 0


async def test_the_code_lets_one_device_in(serve: Serve) -> None:
    async with serve(paired=True) as served:
        code = served.code
        assert await pair(served, f"{code[:4]} {code[4:]}") == 303
        assert 'id="terminal"' in await (await served.client.get("/")).text()
        async with served.line() as line:
            await until(line, b"words:")
        served.client.session.cookie_jar.clear()
        assert await pair(served, code) == 403, "used up"
        assert "Pair this device" in await (await served.client.get("/")).text()


async def test_a_wrong_code_gets_no_cookie_and_takes_time(serve: Serve) -> None:
    async with serve(paired=True) as served:
        wrong = f"{(int(served.code) + 1) % 10**8:08}"
        before = time.monotonic()
        answer = await served.client.post(
            "/pair", data={"code": wrong}, headers={"Origin": served.url}
        )
        assert time.monotonic() - before >= served.site.penalty
        assert answer.status == 403
        assert "Set-Cookie" not in answer.headers
        assert "That is not the code" in await answer.text()
        assert (await served.client.get("/page/bench.js")).status == 403


async def test_wrong_codes_sent_at_once_are_tried_one_after_the_other(serve: Serve) -> None:
    async with serve(paired=True) as served:
        served.site.penalty = 0.4
        wrong = f"{(int(served.code) + 1) % 10**8:08}"
        before = time.monotonic()
        assert await asyncio.gather(*(pair(served, wrong) for _ in range(3))) == [403, 403, 403]
        assert time.monotonic() - before >= 3 * served.site.penalty


@pytest.mark.parametrize("form", [{}, {"code": ""}, {"code": "0" * 900}, {"other": "1"}])
async def test_a_form_that_says_nothing_pairs_nobody(serve: Serve, form: dict[str, str]) -> None:
    async with serve(paired=True) as served:
        answer = await served.client.post("/pair", data=form, headers={"Origin": served.url})
        assert answer.status == 403
        large = await served.client.post(
            "/pair", data={"code": "0" * 5000}, headers={"Origin": served.url}
        )
        assert large.status == 413
        assert await pair(served, served.code) == 303


@pytest.mark.parametrize("path", WAYS_IN)
@pytest.mark.parametrize("paired", [False, True], ids=["open", "paired"])
async def test_a_foreign_page_gets_403_and_nothing_else(
    serve: Serve, path: str, *, paired: bool
) -> None:
    async with serve(paired=paired) as served:
        if paired:
            assert await pair(served, served.code) == 303
        else:
            await served.client.get("/")
        for headers in ({"Origin": FOREIGN}, {"Origin": "null"}, {"Host": "rebound.example"}):
            method = "POST" if path == "/pair" else "GET"
            answer = await served.client.request(
                method, path, headers=headers, allow_redirects=False
            )
            assert answer.status == 403
            assert await answer.text() == "403: Forbidden"
            assert "Set-Cookie" not in answer.headers


async def test_a_line_or_a_form_must_say_which_page_it_comes_from(serve: Serve) -> None:
    async with serve(paired=True) as served:
        answer = await served.client.post("/pair", data={"code": served.code})
        assert answer.status == 403
        assert await pair(served, served.code, FOREIGN) == 403
        assert await pair(served, served.code) == 303, "the code was not used up by them"
        for origin in (None, FOREIGN):
            with pytest.raises(WSServerHandshakeError, match="403"):
                await served.client.ws_connect("/ws", origin=origin)


async def test_who_names_two_pages_at_once_gets_nothing(serve: Serve) -> None:
    async with serve(paired=True) as served:
        code = served.code
        for pages in ((served.url, FOREIGN), (FOREIGN, served.url), (served.url, served.url)):
            headers = [("Origin", page) for page in pages]
            answer = await served.client.post("/pair", data={"code": code}, headers=headers)
            assert answer.status == 403
            assert await answer.text() == "403: Forbidden"
        assert await pair(served, code) == 303, "the code was not used up by them"


async def test_nothing_of_the_address_reaches_the_program(serve: Serve) -> None:
    async with serve() as served:
        await served.client.get("/")
        for query in ("?delay=1&ping=http://rebound.example", "?fontsize=99"):
            answer = await served.client.get(f"/{query}", allow_redirects=False)
            assert (answer.status, answer.headers["Location"]) == (303, "/")
        query = "/ws?width=9&height=9&argv=--version;reboot"
        async with served.client.ws_connect(query, origin=served.url) as line:
            seen = await until(line, b"words:")
            await line.send_json(["stdin", "end"])
            seen += await until(line, b"Dend")
        assert seen == b"words:Dend"


async def test_every_answer_forbids_what_is_outside(serve: Serve) -> None:
    async with serve(paired=True) as served:
        for path in ("/", "/page/plain.css", "/nothing"):
            headers = (await served.client.get(path)).headers
            policy = dict(
                part.strip().split(" ", 1) for part in headers["Content-Security-Policy"].split(";")
            )
            assert policy["default-src"] == "'none'"
            assert policy["script-src"] == "'self'"
            assert policy["frame-ancestors"] == "'none'"
            assert policy["connect-src"].split()[0] == "'self'"
            assert headers["X-Content-Type-Options"] == "nosniff"
            assert headers["Referrer-Policy"] in ("no-referrer", "same-origin")
            assert "aiohttp" not in headers["Server"]


def test_our_pages_name_nothing_outside_and_all_they_name_is_there() -> None:
    for page in PAGES.iterdir():
        text = page.read_text(encoding="utf-8").replace("http://www.w3.org/2000/svg", "")
        assert "//" not in re.sub(r"^ *//.*| // .*", "", text, flags=re.MULTILINE).replace(
            "ws://${location.host}", ""
        )
        for folder, name in re.findall(r"[\"'(]/(page|static)/([\w./-]+)", text):
            assert ({"page": PAGES, "static": LIBRARY}[folder] / name).is_file(), name


async def test_over_the_limit_a_plain_page_says_so(serve: Serve) -> None:
    async with serve(places=1) as served:
        await served.client.get("/")
        async with served.line() as line:
            await until(line, b"words:")
            again = await served.client.get("/")
            assert again.status == 200, "loaded again, on the device that has the place"
            served.client.session.cookie_jar.clear()
            other = await served.client.get("/")
            assert other.status == 503
            assert "All places are taken" in await other.text()
            assert "Set-Cookie" not in other.headers


async def test_a_line_over_the_limit_waits_for_a_place_and_then_is_told(serve: Serve) -> None:
    async with serve(places=1, patience=3.0) as served:
        await served.client.get("/")
        async with served.line() as first:
            await until(first, b"words:")
            async with served.line() as second:
                await asyncio.sleep(0.2)
                await first.close()
                await until(second, b"words:")
                served.site.patience = 0.2
                async with served.line() as third:
                    message = await third.receive(timeout=10)
                    assert message.type is WSMsgType.CLOSE
                    assert message.data == FULL


@pytest.mark.parametrize("said", ["", "[]", '["stdin"]', "[" * 30_000, '["stdin", "\\ud800"]'])
async def test_a_line_that_says_what_is_not_understood_is_closed(serve: Serve, said: str) -> None:
    async with serve() as served:
        await served.client.get("/")
        async with served.line() as line:
            await until(line, b"words:")
            await line.send_str(said)
            while (message := await line.receive(timeout=10)).type is WSMsgType.BINARY:
                pass
            assert message.type is WSMsgType.CLOSE
            assert message.data == 1008


async def test_a_line_that_sends_bytes_in_place_of_words_is_closed(serve: Serve) -> None:
    async with serve() as served:
        await served.client.get("/")
        async with served.line() as line:
            await until(line, b"words:")
            await line.send_bytes(b'["stdin", "17"]')
            while (message := await line.receive(timeout=10)).type is WSMsgType.BINARY:
                pass
            assert (message.type, message.data) == (WSMsgType.CLOSE, 1003)


async def test_a_program_that_ends_closes_its_line(serve: Serve) -> None:
    async with serve() as served:
        await served.client.get("/")
        async with served.line() as line:
            await until(line, b"words:")
            await line.send_json(["stdin", "leave"])
            assert (await line.receive(timeout=10)).type is WSMsgType.CLOSE
    async with serve(sys.executable, "-c", "") as served:
        await served.client.get("/")
        async with served.line() as line:
            assert (await line.receive(timeout=10)).type is WSMsgType.CLOSE


DEAF = f"import signal\nsignal.signal(signal.SIGTERM, signal.SIG_IGN)\n{STUBBORN}"


@pytest.mark.parametrize(
    ("program", "seconds", "end_by"),
    [(STUBBORN, (0.2, 5.0), signal.SIGTERM), (DEAF, (3.0, 0.2), signal.SIGKILL)],
    ids=["stubborn", "deaf"],
)
async def test_a_program_that_will_not_end_is_ended(
    serve: Serve,
    monkeypatch: pytest.MonkeyPatch,
    program: str,
    seconds: tuple[float, float],
    end_by: signal.Signals,
) -> None:
    """One that takes no notice of being told is killed."""
    monkeypatch.setattr("snugset.serving.child._KEEPING", seconds[0])
    monkeypatch.setattr("snugset.serving.child._ENDING", seconds[1])
    ended: list[int | None] = []
    end = Child.end

    async def noted(self: Child) -> None:
        await end(self)
        assert self._process is not None
        ended.append(self._process.returncode)

    monkeypatch.setattr(Child, "end", noted)
    async with serve(sys.executable, "-c", program) as served:
        await served.client.get("/")
        async with served.line():
            await asyncio.sleep(0.5)
        for _ in range(100):
            if ended:
                break
            await asyncio.sleep(0.1)
    assert ended == [-end_by]
    assert served.site.places.taken == 0


async def test_a_site_that_closes_ends_all_programs(serve: Serve) -> None:
    async with serve() as served:
        await served.client.get("/")
        async with served.line() as line, served.line() as other:
            for each in (line, other):
                await until(each, b"words:")
            assert served.site.places.taken == 2
            await served.client.server.close()
            assert served.site.places.taken == 0


def test_the_code_is_said_to_the_builder_alone(capfd: pytest.CaptureFixture[str]) -> None:
    shown: list[str] = []
    Pairing(shown.append).begin()
    assert len(shown) == 1
    assert "".join(capfd.readouterr()) == ""
    assert not [name for name in os.environ if "PAIR" in name.upper()]
