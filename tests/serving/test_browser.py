"""The bench in a real browser: where SNUGSET_BROWSER is set, and then nothing is skipped."""

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import Any, ClassVar

import pytest

from snugset.commands import demonstrating
from snugset.journal.reading import read_records, verify

from .program import NEW, PATIENCE, address, begin, run, serving

if not os.environ.get("SNUGSET_BROWSER"):
    pytest.skip(
        "a browser is driven where SNUGSET_BROWSER is set; it needs chromium, chromedriver and the "
        "extra browser",
        allow_module_level=True,
    )

from .browser import Tablet, tablet


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Tablet]:
    with tablet(tmp_path_factory.mktemp("profile")) as made:
        yield made


@pytest.fixture
def chrome(browser: Tablet) -> Tablet:
    """Give the browser, empty-handed: no cookie, nothing asked for."""
    browser.driver.get("about:blank")
    browser.driver.execute_cdp_cmd("Network.clearBrowserCookies", {})
    browser.hold(1024, 768)
    browser.listen()
    browser.driver.get_log("browser")
    browser.asked.clear()
    browser.sizes.clear()
    return browser


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a data folder with the demo at a reading, months ago; it is copied, never changed."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tempfile, "tempdir", str(tmp_path_factory.mktemp("demo")))
        return demonstrating.make().parent.parent


def only(chrome: Tablet, url: str) -> bool:
    """Tell whether nothing was asked for but what this server has, and no script failed."""
    chrome.listen()
    ours = (f"{url}/", f"{url.replace('http', 'ws', 1)}/", "data:", "about:")
    outside = [asked for asked in chrome.asked if not asked.startswith(ours)]
    failed = [e["message"] for e in chrome.driver.get_log("browser") if e["level"] == "SEVERE"]
    assert not outside
    assert not [message for message in failed if "403" not in message]
    return len(chrome.asked) > 0


def pair(chrome: Tablet, url: str, code: str) -> None:
    chrome.driver.get(url)
    chrome.find("#code").send_keys(code)
    chrome.touch("form button")


def walk_to(chrome: Tablet, place: str) -> None:
    """Touch what is asked, one prompt after the other, until a place is asked."""
    for _ in range(24):
        text = chrome.settled()
        if place in text.splitlines()[0]:
            return
        if "1  one" in text:
            chrome.keys("1")
        else:
            chrome.done()
    pytest.fail(text)


def test_pair_walk_read_by_touch_close_the_tab_and_come_back(
    chrome: Tablet, demo: Path, tmp_path: Path
) -> None:
    shutil.copytree(demo, tmp_path / "data")
    (build,) = (tmp_path / "data" / "builds").iterdir()
    with serving(tmp_path, "--pair", "--sessions", "1") as server:
        url, code = address(server), server.code()
        wrong = f"{(int(code) + 1) % 10**8:08}"
        pair(chrome, url, wrong)
        chrome.wait("return document.querySelector('[role=alert]').textContent.includes('not the')")
        assert not chrome.driver.get_cookies()
        assert not chrome.driver.find_elements("css selector", "#terminal")

        pair(chrome, url, f"{code[:4]} {code[4:]}")
        chrome.until("Barn pump six")
        (cookie,) = chrome.driver.get_cookies()
        assert cookie["httpOnly"]
        assert cookie["sameSite"] == "Strict"
        chrome.done()
        # Back after months: what is loose, number one again, to the setting point, bridge 4.
        chrome.until("You stood at gap@4I#1")
        chrome.done()
        chrome.until("You stood at", gone=True)
        walk_to(chrome, "gap@4I#1")
        chrome.keys("40+38;")
        chrome.touch('#keys [data-key=" "]')
        chrome.keys("40+40")
        chrome.until("40+38; 40+40")
        chrome.until("79 thou")
        chrome.done()
        chrome.until("gap@4E#1")
        assert read_records(build)[-1].kind == "reading"
        chrome.keys("17+18")
        chrome.until("17+18")

        # The tab is closed with something half typed; another is opened.
        before = chrome.driver.current_window_handle
        chrome.driver.switch_to.new_window("tab")
        after = chrome.driver.current_window_handle
        chrome.driver.switch_to.window(before)
        chrome.driver.close()
        chrome.driver.switch_to.window(after)
        chrome.hold(1024, 768)
        chrome.driver.get(url)
        chrome.until("Barn pump six")
        chrome.done()
        chrome.until("You stood at gap@4E#1")
        chrome.done()
        chrome.until("gap@4E#1")
        assert only(chrome, url)
    assert verify(build).whole


SIZES = ((1024, 768), (800, 1280))


@pytest.mark.parametrize("size", SIZES, ids="{0[0]}x{0[1]}".format)
def test_80_by_24_and_keys_for_a_finger_fit_the_tablet_and_its_turning(
    chrome: Tablet, tmp_path: Path, size: tuple[int, int]
) -> None:
    begin(tmp_path)
    with serving(tmp_path) as server:
        url = address(server)
        chrome.hold(*size)
        chrome.driver.get(url)
        chrome.until("north")
        for held in (size, size[::-1], size):
            chrome.hold(*held)
            wide, high = held
            chrome.wait(f"return innerWidth === {wide} && innerHeight === {high}")
            chrome.until("quit")
            keys = chrome.driver.execute_script(
                "return [...document.querySelectorAll('#keys button')].map((key) => {"
                "const r = key.getBoundingClientRect();"
                "return [r.left, r.top, r.right, r.bottom, key.scrollWidth > key.clientWidth];})"
            )
            assert len(keys) == 29
            for left, top, right, bottom, cut in keys:
                assert right - left >= 44
                assert bottom - top >= 44
                assert left >= 0
                assert top >= 0
                assert right <= wide
                assert bottom <= high
                assert not cut
            terminal = chrome.driver.execute_script(
                "const r = document.querySelector('.xterm-screen').getBoundingClientRect();"
                "return [r.right, r.bottom];"
            )
            assert terminal[0] <= wide
            assert terminal[1] <= high
        assert chrome.told(3)
        assert all(columns >= 80 and rows >= 24 for columns, rows in chrome.sizes)
        assert only(chrome, url)


def test_no_keyboard_of_the_tablet_comes_up_unless_letters_are_wanted(
    chrome: Tablet, tmp_path: Path
) -> None:
    begin(tmp_path)
    with serving(tmp_path) as server:
        chrome.driver.get(address(server))
        chrome.until("north")
        mode = "return document.querySelector('#terminal textarea').getAttribute('inputmode')"
        assert chrome.wait(mode) == "none"
        chrome.touch("#letters")
        assert chrome.wait(mode) == "text"
        assert chrome.find("#letters").get_attribute("aria-pressed") == "true"
        chrome.touch("#letters")
        assert chrome.wait(mode) == "none"
        # A touch of the screen is a touch of the program.
        chrome.touch(".xterm-screen")
        chrome.done()
        chrome.until("How far out of flat")


class Elsewhere(BaseHTTPRequestHandler):
    """Somebody else's page, on another port of this machine: browsers send our cookie from it."""

    page = ""
    asked: ClassVar[list[str]] = []

    def do_GET(self) -> None:
        """Give the page, and remember that it was asked for."""
        self.asked.append(self.path)
        self.send_response(200)
        self.send_header("Content-Type", "text/html")
        self.end_headers()
        self.wfile.write(self.page.encode())

    def log_message(self, format: str, *args: Any) -> None:  # noqa: A002, ANN401 - as declared
        """Say nothing."""


@contextmanager
def elsewhere(page: str) -> Iterator[tuple[str, list[str]]]:
    """Serve somebody else's page; its address, and what was asked of it."""
    asked: list[str] = []
    handler = type("Page", (Elsewhere,), {"page": page, "asked": asked})
    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        thread = Thread(target=server.serve_forever, daemon=True)
        thread.start()
        try:
            yield f"http://127.0.0.1:{server.server_port}", asked
        finally:
            server.shutdown()
            thread.join(PATIENCE)


FOREIGN = """<!DOCTYPE html><title>waiting</title><iframe src="BENCH/"></iframe><script>
const got = [];
const line = new Promise((done) => {
  const socket = new WebSocket("BENCH/ws".replace("http", "ws"));
  socket.onopen = () => { got.push("line"); socket.send('["stdin", "\\\\r"]'); };
  socket.onmessage = () => got.push("screen");
  socket.onclose = done;
});
const read = (path, more) => fetch("BENCH" + path, {credentials: "include", ...more})
  .then((answer) => answer.text()).then((text) => text && got.push(path), () => null);
const blind = read("/pair", {method: "POST", mode: "no-cors", body: "code=1"});
const tries = [line, blind, read("/"), read("/page/bench.js"), read("/pair", {method: "POST"})];
Promise.all(tries)
  .then(() => { document.title = "got: " + got.join(); });
</script>"""


def test_somebody_elses_page_gets_nothing_even_on_a_device_that_is_paired(
    chrome: Tablet, tmp_path: Path
) -> None:
    build = begin(tmp_path)
    with serving(tmp_path, "--pair") as server:
        url = address(server)
        pair(chrome, url, server.code())
        chrome.until("north")
        chrome.driver.get("about:blank")
        with elsewhere(FOREIGN.replace("BENCH", url)) as (other, _):
            chrome.driver.get(other)
            chrome.wait("return document.title !== 'waiting'")
            assert chrome.driver.title == "got:"
            chrome.driver.switch_to.frame(0)
            assert not chrome.driver.find_elements("css selector", "#terminal")
            chrome.driver.switch_to.default_content()
        chrome.listen()
        refused = [e["message"] for e in chrome.driver.get_log("browser") if "403" in e["message"]]
        assert any("/ws" in message for message in refused)
        # The device itself still has its bench.
        chrome.driver.get(url)
        chrome.until("north")
    assert [record.kind for record in read_records(build)] == ["begun"]


def test_the_page_cannot_be_made_to_ask_outside(chrome: Tablet, tmp_path: Path) -> None:
    begin(tmp_path)
    with serving(tmp_path) as server, elsewhere("") as (other, asked):
        url = address(server)
        chrome.driver.get(f"{url}/?ping={other}/ping&delay=1")
        chrome.until("north")
        assert chrome.driver.current_url == f"{url}/"
        tried = chrome.driver.execute_async_script(
            "const [other, done] = arguments;"
            "const image = new Promise((end) => { const i = new Image(); i.onerror = () => end(1);"
            "i.onload = () => end(0); i.src = other + '/image'; });"
            "const script = new Promise((end) => { const s = document.createElement('script');"
            "s.onerror = () => end(1); s.onload = () => end(0); s.src = other + '/script';"
            "document.head.append(s); });"
            "const fetched = fetch(other + '/fetch', {mode: 'no-cors'}).then(() => 0, () => 1);"
            "Promise.all([image, script, fetched]).then(done);",
            other,
        )
        assert tried == [1, 1, 1]
        assert asked == []


def hostile(url: str) -> str:
    """Give words that would run a script, or ask outside, were they taken for a page."""
    return (
        f"</td></title></style></svg><script>window.hit=1;fetch('{url}/script')</script>"
        f"<img src={url}/image onerror=window.hit=1><link rel=stylesheet href={url}/style>"
        f"\"'><svg onload=window.hit=1><iframe src={url}/frame></iframe>"
    )


def test_a_build_sheet_with_hostile_words_runs_no_script_and_asks_for_nothing(
    chrome: Tablet, tmp_path: Path
) -> None:
    with elsewhere("") as (other, asked):
        evil = hostile(other)
        run(tmp_path, *NEW[:-1], evil[:100], "--person", f"<img src={other}/person>")
        (build,) = (tmp_path / "data" / "builds").iterdir()
        said = f"note {evil}\n.004; {evil}\n.003 ! {evil}\nskip {evil}\nquit\n"
        run(tmp_path, "resume", build.name, "--plain", "--person", evil[:110], typed=said)
        assert len(read_records(build)) > 3
        page = tmp_path / "sheet.html"
        page.write_text(run(tmp_path, "sheet", build.name, "--as", "html"), encoding="utf-8")
        chrome.driver.get(page.as_uri())
        text = chrome.find("body").text
        assert text.count("<script>window.hit=1") > 1, "the words stand there as words"
        assert chrome.driver.execute_script("return window.hit") is None
        assert not chrome.driver.find_elements("css selector", "iframe, [onload], [onerror]")
        chrome.listen()
        files = [each for each in chrome.asked if not each.startswith(("data:", "about:"))]
        assert files == [page.as_uri()]
        assert asked == []
        # The same words, taken for a page, would have done both.
        page.write_text(evil.removeprefix("</td></title></style></svg>"), encoding="utf-8")
        chrome.driver.get(page.as_uri())
        assert chrome.wait("return window.hit") == 1
        assert "/image" in asked


def test_a_bench_that_is_left_says_so_and_opens_again(chrome: Tablet, tmp_path: Path) -> None:
    begin(tmp_path)
    with serving(tmp_path) as server:
        chrome.driver.get(address(server))
        chrome.until("north")
        chrome.find("#terminal textarea").send_keys("\ue009q")  # Ctrl+Q
        chrome.wait("return !document.getElementById('anew').hidden")
        assert "Everything answered is kept" in chrome.find("#cover").text
        chrome.touch("#anew")
        chrome.until("north")
