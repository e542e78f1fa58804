"""What is around the program is a stranger's too: streams, surroundings, words of a command."""

import os
import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from snugset.bench import Bench
from snugset.cli import main
from snugset.journal.reading import verify
from snugset.plain import sit

from .evil import evil_build
from .journals import forged
from .opened import OWNER, demo_records
from .process import MAIN, run


@pytest.fixture(scope="module")
def data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    data = tmp_path_factory.mktemp("world") / "data"
    evil_build(data)
    return data


def sound(text: str, code: int, data: Path) -> None:
    assert code in (0, 1, 2)
    assert "Traceback" not in text
    assert "fault inside" not in text
    assert not (data / "crash.log").exists()


@pytest.mark.parametrize("closed", ["<&-", ">&-", "2>&-", "<&- >&- 2>&-"])
@pytest.mark.parametrize("words", ["list", "resume evil --plain", "sheet evil --as html", "-x"])
def test_a_stream_that_is_closed_reads_nothing_and_writes_nothing(
    closed: str, words: str, data: Path
) -> None:
    line = f'exec "$0" -c "$1" {words} {closed}'
    ran = subprocess.run(
        ["/bin/sh", "-c", line, sys.executable, MAIN],
        capture_output=True,
        timeout=60,
        check=False,
        env={**os.environ, "SNUGSET_DATA": str(data), "HOME": str(data.parent)},
    )
    sound((ran.stdout + ran.stderr).decode(), ran.returncode, data)
    assert (ran.returncode == 2) == (words == "-x")
    assert verify(data / "builds" / "evil").whole


AROUND = {
    "a width of nothing": {"COLUMNS": "0", "LINES": "0"},
    "a width below nothing": {"COLUMNS": "-5", "LINES": "-9"},
    "a width without an end": {"COLUMNS": "9" * 40, "LINES": "9" * 40},
    "a width that is none": {"COLUMNS": "\x1b[2J", "LINES": "ten"},
    "a terminal that is none": {"TERM": "../../etc/\x1b[2J", "COLORTERM": "\x1b"},
    "a language that is none": {"LANG": "xx_YY.ZZZ", "LC_ALL": "xx_YY.ZZZ", "PYTHONUTF8": "0"},
    "letters of one byte": {"PYTHONIOENCODING": "latin-1", "PYTHONUTF8": "0"},
    "letters of another age": {"PYTHONIOENCODING": "cp037"},
    "a zone without an end": {"TZ": ":/dev/zero"},
    "no place to work in": {"TMPDIR": "/nowhere"},
    "a driver of one's own": {"TEXTUAL": "devtools,debug", "TEXTUAL_DRIVER": "os:system"},
}


@pytest.mark.parametrize("name", AROUND)
def test_surroundings_that_make_no_sense(name: str, data: Path) -> None:
    ran = run("sheet", "evil", data=data, patience=120, **AROUND[name])
    sound(ran.out.decode("utf-8", "replace"), ran.code, data)
    assert ran.code == 0
    assert len(ran.out) > 10_000


@pytest.mark.parametrize(
    ("place", "said"),
    [
        ("/dev/null", "a file stands where a folder belongs"),
        ("/etc/passwd", "a file stands where a folder belongs"),
        ("/" + "x" * 5000, "too long"),
        (os.fsdecode(b"/nowhere/\xff\xfe"), "no builds"),
        ("/nowhere/\x1b[2J", "no builds"),
    ],
)
def test_a_data_folder_that_is_none(
    place: str, said: str, data: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code = main(["verify", "x", "--data", place])
    streams = capsys.readouterr()
    told = f"{streams.out}{streams.err}"
    sound(told, code, data)
    assert code == 1
    assert said in told
    assert "\x1b" not in told


HALVES = os.fsdecode(b"\xff\xed\xa0\x80")
LINES = (
    *(f"{HALVES}", f"resume {HALVES}", f"check {HALVES}", f"sheet evil --out /nowhere/{HALVES}"),
    *(f"new {HALVES} --engine x", f"figure {HALVES} x=1", f"figure preload gap={HALVES}"),
    *(f"replay {HALVES}", f"restore {HALVES}", f"backup evil /nowhere/{HALVES}", f"crank {HALVES}"),
    *(f"attach evil {HALVES}", f"revise evil {HALVES} --reason x", f"specs evil {HALVES}"),
    *(f"serve --port {HALVES}", f"serve --host {HALVES}", f"serve --host {'x' * 300}"),
    *(f"new inline-six-bridged-hydraulic --engine barn-pump-six --name {HALVES}",),
)


@pytest.mark.parametrize("line", LINES, ids=ascii)
def test_words_that_are_no_letters(
    line: str, data: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SNUGSET_DATA", str(data))
    monkeypatch.setenv("SNUGSET_PERSON", "Wren")
    before = sorted(data.rglob("*"))
    code = main(line.split())
    streams = capsys.readouterr()
    sound(f"{streams.out}{streams.err}", code, data)
    assert code
    assert streams.err.strip()
    assert sorted(data.rglob("*")) == before


def test_the_home_of_nobody_is_a_name_like_any_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    typed: Iterator[str] = iter(["copy ~no-such-person/x", "quit"])
    shown: list[str] = []
    folder = forged(tmp_path / "b", list(demo_records())[:60])
    with Bench.open(
        folder, owner=OWNER, clock=lambda: datetime(2026, 3, 6, 18, 30, tzinfo=UTC), fresh=True
    ) as bench:
        sit(bench, lambda _: next(typed), shown.append)
    assert any("Not copied: there is no folder" in line for line in shown)
