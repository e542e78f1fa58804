"""Wherever text comes out it is text: nothing of it drives a terminal, a page or a table."""

import csv
import io
import json
import shutil
import unicodedata
from datetime import UTC, datetime
from pathlib import Path

import pytest

from screens.terminal import on_terminal
from snugset.bench import Bench
from snugset.journal.owner import Owner

from .evil import CONTROLS, EVIL, MARKUP, cut_builds, evil_build, evil_records
from .journals import forged
from .opened import open_bench
from .process import run

COMMANDS = (
    *(("list",), ("list", "--json"), ("verify", "evil"), ("specs", "evil")),
    *(("sheet", "evil", "--as", form) for form in ("html", "md", "csv", "json")),
    *(("resume", "evil", "--plain"), ("resume", "\x1b[2J"), ("verify", "\x1b]0;owned\x07")),
    *(("order", "evil"), ("cards", "evil"), ("attach", "evil", "\x1b[2J.png")),
    *(("backup", "evil", "/nowhere/\x1b]0;owned\x07.zip"), ("restore", "\x1b[2J.zip")),
    *(("revise", "evil", "\x1b[31m"), ("demo", "\x1b[2J"), ("serve", "\x1b[2J")),
    *(("check", "\x1b[31m.yaml"), ("figure", "\x1b[2J"), ("\x1b[2J",), ("sheet", "../../x")),
)
SEEN = frozenset("\n\u00a0\u2009\u200c\u200d\u202f")
DRIVES = (
    b"\x1b]0;owned",
    b"\x1b]52",
    b"\xc2\x9b",
    "\u202e".encode(),
    "\u2066".encode(),
)


@pytest.fixture(scope="module")
def data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    data = tmp_path_factory.mktemp("evil") / "data"
    assert open_bench(evil_build(data))
    return data


@pytest.fixture(scope="module")
def cut(data: Path) -> Path:
    """Builds that stand in the middle, and files that somebody might name."""
    beside = data.parent / "cut"
    cut_builds(beside / "data")
    (beside / "evil.yaml").write_text(
        f"snugset: specs/1\nfigures:\n  bore: {{value: 1 in, source: x}}\n  '{MARKUP[:90]}': {{}}\n"
        '  stroke: "\\e[2J"\n',
        "utf-8",
    )
    (beside / f"a{CONTROLS[:20]}.yaml").write_text(f"snugset: {CONTROLS}\n", "utf-8")
    return beside


@pytest.mark.parametrize("words", COMMANDS, ids=lambda words: ascii(" ".join(words))[:30])
def test_nothing_a_command_writes_drives_a_terminal(words: tuple[str, ...], data: Path) -> None:
    before = {path for path in data.parent.rglob("*") if path.name != "lock"}
    ran = run(*words, data=data)
    text = ran.out.decode("utf-8")
    strange = (
        {c for c in text if not c.isprintable()} - SEEN - ({"\r"} if "csv" in words else set())
    )
    assert not strange, strange
    assert not {c for c in text if unicodedata.bidirectional(c) in ("RLO", "LRI", "RLI", "LRO")}
    assert "Traceback" not in text
    assert "fault inside" not in text
    assert text
    assert {path for path in data.parent.rglob("*") if path.name != "lock"} == before


def test_nothing_that_is_asked_line_by_line_drives_a_terminal(tmp_path: Path) -> None:
    builds = tmp_path / "data" / "builds"
    builds.mkdir(parents=True)
    forged(builds / "evil", evil_records()[:200], name=EVIL)
    for words in (("resume", "evil", "--plain"), ("resume", "evil", "--plain", "--follow")):
        text = run(*words, data=builds.parent).out.decode("utf-8")
        assert "You are back. Read this before touching anything." in text
        assert "=1+1|" in text, "somebody's words are shown"
        assert not {c for c in text if not c.isprintable()} - SEEN


def test_json_is_json_and_says_what_was_typed(data: Path) -> None:
    assert json.loads(run("sheet", "evil", "--as", "json", data=data).out)
    (listed,) = json.loads(run("list", "--json", data=data).out)
    assert listed["id"] == "evil"


def test_no_cell_of_a_table_begins_a_formula(data: Path) -> None:
    rows = list(
        csv.DictReader(io.StringIO(run("sheet", "evil", "--as", "csv", data=data).out.decode()))
    )
    assert rows
    assert all(not (row["reason"] + row["typed"] + row["build"]).startswith("=") for row in rows)
    assert rows[0]["build"].startswith("'=1+1")


SCREENS = {
    "history": ("\x1b[20~", "\x1b[B", "\x1bOR"),
    "spec sheet": ("\x1b[19~", "\r"),
    "spec sheet, filled": ("\x1b[19~", "\x1bOQ"),
    "order list": ("\x0f",),
    "calculators": ("\x06", "preload\r", "\x1bOR"),
    "working": ("\x05",),
    "views": ("\x1b[18~", "\x1b[18~", "\x1b[18~", "\x1b[18~", "\x1b[18~"),
    "why and far": ("\x1bOQ", "\x1b[24~"),
    "copy": ("\x0e",),
    "help": ("\x1bOP",),
    "palette": ("\x10", "sheet"),
    "builds": ("\x1b",),
    "sheet": ("\x13",),
    "begin": ("\x1b", "n"),
}
"""What is typed to come there from the bench."""
_OWN_WORDS = ("calculators", "working", "help", "palette", "copy", "spec sheet, filled", "begin")
"""Screens that may show no word of the build."""


@pytest.mark.parametrize("name", SCREENS)
def test_nothing_on_a_screen_drives_the_terminal(name: str, data: Path) -> None:
    with on_terminal(data.parent, "resume", "evil", size=(100, 30), SNUGSET_DATA=str(data)) as seen:
        seen.until("Esc")
        for key in SCREENS[name]:
            seen.type(key)
            while seen.read(0.3):
                pass
        assert not [one for one in DRIVES if one in seen.raw]
        assert "=1+1|" in seen.shown or "evil" in seen.shown or name in _OWN_WORDS
        assert "Traceback" not in seen.shown


PASTED = f"\x1b[200~{CONTROLS.replace(chr(27), '')}{EVIL}\x1b[201~"
IN_THE_MIDDLE = {
    "coming back": ("evil-gap", (), "last here"),
    "why, coming back": ("evil-gap", ("\x1bOQ",), ""),
    "coming back from afar": ("evil-gap", ("\x1b[24~",), ""),
    "a reading": ("evil-gap", ("\r", "20+10"), ""),
    "what was refused": ("evil-gap", ("\r", "x =1+1|", "\r"), "=1+1|"),
    "what was pasted": ("evil-gap", ("\r", f"note {PASTED}", "\r"), ""),
    "the working": ("evil-gap", ("\r", "20+10", "\x05"), ""),
    "taking back": ("evil-gap", ("\r", "\x1bOR"), ""),
    "a wait": ("evil-wait", (), "Waiting"),
    "a file that fills nothing": ("evil-gap", ("\x1b[19~", "\x1bOQ", "../evil.yaml\r"), ""),
    "a file with a strange name": ("evil-gap", ("\x1b[19~", "\x1bOQ", f"{PASTED}\r"), ""),
    "a copy with a strange name": ("evil-gap", ("\x0e", f"{PASTED}\r"), ""),
    "another person": ("evil-gap", ("\r", "person =1+1|x", "\r"), "="),
}
"""By what is on the screen: the build, what is typed there, and what is seen."""


@pytest.mark.parametrize("name", IN_THE_MIDDLE)
def test_nothing_in_the_middle_of_a_build_drives_the_terminal(
    name: str, cut: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    build, keys, seen_there = IN_THE_MIDDLE[name]
    monkeypatch.chdir(tmp_path)  # a copy is written where the program was started
    there = shutil.copytree(cut, tmp_path / "cut")
    with on_terminal(there, "resume", build, size=(120, 40)) as seen:
        seen.until("· build ")
        for key in ("", *keys):
            seen.type(key)
            while seen.read(0.3):
                pass
        assert not [one for one in DRIVES if one in seen.raw]
        assert seen_there in seen.shown
        assert "Traceback" not in seen.shown
        assert seen.child.poll() is None


def test_nothing_shown_to_somebody_who_looks_on_drives_the_terminal(data: Path) -> None:
    evil = Owner(person=EVIL, host=EVIL, pid=7, since=EVIL)
    folder = data / "builds" / "evil"
    with (
        Bench.open(folder, owner=evil, clock=lambda: datetime.now(UTC), fresh=True),
        on_terminal(data.parent, size=(100, 30), SNUGSET_DATA=str(data)) as seen,
    ):
        seen.until("open elsewhere")
        seen.type("f")
        seen.until("Read only")
        while seen.read(0.3):
            pass
        assert not [one for one in DRIVES if one in seen.raw]
