"""A build sheet full of hostile notes in a real browser: text, and nothing else."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from snugset.sheets import sheet_text

from .evil import evil_build

if not os.environ.get("SNUGSET_BROWSER"):
    pytest.skip(
        "a browser is driven where SNUGSET_BROWSER is set; it needs chromium, chromedriver and the "
        "extra browser",
        allow_module_level=True,
    )

from serving.browser import Tablet, tablet


@pytest.fixture
def chrome(tmp_path: Path) -> Iterator[Tablet]:
    with tablet(tmp_path / "profile") as made:
        yield made


def test_hostile_notes_are_read_as_text_and_nothing_is_asked_for(
    chrome: Tablet, tmp_path: Path
) -> None:
    page = tmp_path / "sheet.html"
    page.write_text(sheet_text(evil_build(tmp_path / "data"), "html"), "utf-8")
    chrome.listen()
    chrome.asked.clear()
    chrome.driver.get(page.as_uri())
    chrome.wait("return document.readyState === 'complete'")
    chrome.listen()
    assert chrome.asked == [page.as_uri()]
    script = "return document.querySelectorAll(arguments[0]).length"
    for active in (
        "script",
        "iframe",
        "object",
        "link",
        "a[href^=javascript]",
        "[onerror], [onload]",
    ):
        assert chrome.driver.execute_script(script, active) == 0, active
    assert chrome.driver.execute_script(script, "img:not([src^='data:'])") == 0
    text = chrome.driver.execute_script("return document.body.textContent")
    assert "<script>document.title='owned'" in text
    assert "{{7*7}}" in text
    logged = [each["message"] for each in chrome.driver.get_log("browser")]
    assert not [each for each in logged if "favicon" not in each]
    assert chrome.driver.title.startswith("Build sheet")
