"""A real browser without a window: touched, listened to, and never let out of this machine."""

import base64
import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from time import monotonic, sleep
from typing import Any

from selenium import webdriver
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.actions import interaction
from selenium.webdriver.common.actions.action_builder import ActionBuilder
from selenium.webdriver.common.actions.pointer_input import PointerInput
from selenium.webdriver.common.by import By

from .program import PATIENCE, Glass

FLAGS = (
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)

QUIET = 0.7
"""Seconds without a new picture after which one counts as painted."""
HELD = 1.0
"""Seconds within which the same key is one that is held down."""


class Tablet:
    """The browser of a tablet: what it asked for, and what stands on its terminal."""

    def __init__(self, driver: Any) -> None:  # noqa: ANN401 - a stand-in where it is not installed
        self.driver = driver
        self.glass = Glass()
        self.asked: list[str] = []
        """Every address it asked for since it was last forgotten."""
        self.sizes: list[tuple[int, int]] = []
        """Columns and rows, each time the page told them."""
        self._done_at = 0.0

    def hold(self, width: int, height: int) -> None:
        """Hold it so that it is this wide and high, in CSS pixels."""
        self.driver.execute_cdp_cmd(
            "Emulation.setDeviceMetricsOverride",
            {
                "width": width,
                "height": height,
                "screenWidth": width,
                "screenHeight": height,
                "deviceScaleFactor": 1,
                "mobile": True,
            },
        )
        self.driver.execute_cdp_cmd("Emulation.setTouchEmulationEnabled", {"enabled": True})

    def find(self, selector: str) -> Any:  # noqa: ANN401 - as above
        """Find one element."""
        return self.driver.find_element(By.CSS_SELECTOR, selector)

    def touch(self, selector: str) -> None:
        """Touch an element with a finger."""
        actions = ActionBuilder(
            self.driver, mouse=PointerInput(interaction.POINTER_TOUCH, "finger")
        )
        actions.pointer_action.move_to(self.find(selector)).pointer_down().pointer_up()
        actions.perform()

    def keys(self, text: str) -> None:
        """Touch the page's own keys."""
        for letter in text:
            self.touch(f'#keys [data-key="{letter}"]')

    def done(self) -> None:
        """Touch the largest key, as slowly as a finger: held down it would count once."""
        sleep(max(0.0, self._done_at + HELD - monotonic()))
        self.touch("#keys .done")
        self._done_at = monotonic()

    def listen(self) -> None:
        """Take in what went over the wire since."""
        for entry in self.driver.get_log("performance"):
            message = json.loads(entry["message"])["message"]
            match message:
                case {
                    "method": "Network.requestWillBeSent",
                    "params": {"request": {"url": str(url)}},
                }:
                    self.asked.append(url)
                case {"method": "Network.webSocketCreated", "params": {"url": str(url)}}:
                    self.asked.append(url)
                    self.glass = Glass()
                case {
                    "method": "Network.webSocketFrameReceived",
                    "params": {"response": {"opcode": 2, "payloadData": str(data)}},
                }:
                    self.glass.draw(base64.b64decode(data))
                case {
                    "method": "Network.webSocketFrameSent",
                    "params": {"response": {"payloadData": str(data)}},
                } if data.startswith('["resize"'):
                    size = json.loads(data)[1]
                    self.sizes.append((size["width"], size["height"]))
                    self.glass.resize(*self.sizes[-1])

    def until(self, words: str, *, gone: bool = False) -> str:
        """Wait until words stand on the terminal, or stand there no more; all of it."""
        ends = monotonic() + PATIENCE
        while True:
            self.listen()
            if (words in self.glass.text) is not gone:
                return self.glass.text
            assert monotonic() < ends, f"{words!r}, gone: {gone}\n{self.glass.text}"
            sleep(0.05)

    def settled(self) -> str:
        """Wait until nothing was drawn for a while: a key pressed before that does not count."""
        text, since = "", monotonic()
        ends = since + PATIENCE
        while monotonic() < ends:
            self.listen()
            if self.glass.text != text:
                text, since = self.glass.text, monotonic()
            elif text.strip() and monotonic() - since > QUIET:
                break
            sleep(0.05)
        return text

    def told(self, times: int) -> bool:
        """Wait until the page told its size so many times."""
        ends = monotonic() + PATIENCE
        while len(self.sizes) < times and monotonic() < ends:
            self.listen()
            sleep(0.05)
        return len(self.sizes) >= times

    def wait(self, script: str) -> Any:  # noqa: ANN401 - as above
        """Wait until a script gives something, and give that."""
        ends = monotonic() + PATIENCE
        while True:
            if found := self.driver.execute_script(script):
                return found
            assert monotonic() < ends, script
            sleep(0.05)


@contextmanager
def tablet(profile: Path) -> Iterator[Tablet]:
    """Start the browser with a profile of its own."""
    options = webdriver.ChromeOptions()
    options.binary_location = "/usr/bin/chromium"
    for flag in (*FLAGS, f"--user-data-dir={profile}"):
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"performance": "ALL", "browser": "ALL"})
    driver = webdriver.Chrome(options=options, service=Service("/usr/bin/chromedriver"))
    try:
        driver.set_script_timeout(PATIENCE)
        made = Tablet(driver)
        made.hold(1024, 768)
        yield made
    finally:
        driver.quit()
