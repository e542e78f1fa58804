"""On a terminal: how it starts, and that however it ends the terminal is whole."""

import os
import re
import signal
import subprocess
import sys
from pathlib import Path
from shutil import which

import pytest

from snugset.journal.lock import holder
from snugset.journal.reading import read_records, verify

from .terminal import MAIN, on_terminal

CTRL_Q, F2, F9 = "\x11", "\x1bOQ", "\x1b[20~"
NEW = ("new", "inline-six-bridged-hydraulic", "--engine", "barn-pump-six", "--name", "north")
FIRST = "How far out of flat may the head"


def north(data: Path) -> Path:
    """Where a build begun with `NEW` is kept."""
    return data / "data" / "builds" / "north"


def test_the_demo_opens_at_a_reading_in_a_scratch_folder(tmp_path: Path) -> None:
    with on_terminal(tmp_path, "demo") as terminal:
        terminal.until("A demo build, in")
        terminal.type("40+38; 40+40")
        terminal.until("79 thou")
        terminal.type("\r")
        terminal.until("gap@4E#1")
        terminal.type(CTRL_Q)
        assert terminal.ended() == 0
        assert terminal.is_whole()
        said = terminal.raw.decode()
    (scratch,) = tmp_path.glob("snugset-demo-*")
    assert f"The demo stands in {scratch}; nothing of yours was touched." in said
    assert f"snugset --data {scratch} resume barn-pump-six-spring-rebuild" in said
    assert not (tmp_path / "data").exists()
    (build,) = (scratch / "builds").iterdir()
    assert read_records(build)[-1].kind == "reading"


def test_the_calculators_and_back_on_a_terminal(tmp_path: Path) -> None:
    """Ctrl+F there and back, Ctrl+E and Esc: the bytes arrive, and what was typed stays."""
    with on_terminal(tmp_path, "demo") as terminal:
        terminal.until("A demo build, in")
        terminal.type("40+38; ")
        terminal.until("40+38;")
        terminal.type("\x06")
        terminal.until("Calculators · 20")
        terminal.type("valves\r")
        terminal.until("state  1I=")
        terminal.type("\x06")
        terminal.until("40+38;")
        terminal.type("\x05")
        terminal.until("The working")
        terminal.type(CTRL_Q)
        assert terminal.ended() == 0
        assert terminal.is_whole()


def test_without_a_command_the_list_opens_and_a_key_begins_the_demo(tmp_path: Path) -> None:
    with on_terminal(tmp_path) as terminal:
        terminal.until("No builds yet.")
        terminal.type("d")
        terminal.until("thou ▸")
        terminal.type(CTRL_Q)
        assert terminal.ended() == 0
        assert terminal.is_whole()


@pytest.mark.parametrize(
    "keys", ["note half typed", F9, "\x10"], ids=["typing", "history", "palette"]
)
def test_ctrl_q_leaves_the_terminal_whole_from_wherever(tmp_path: Path, keys: str) -> None:
    with on_terminal(tmp_path, *NEW) as terminal:
        terminal.until(FIRST)
        terminal.type(keys)
        terminal.type(CTRL_Q)
        assert terminal.ended() == 0
        assert terminal.is_whole()
        assert b"Everything answered is kept. To go on: snugset resume north" in terminal.raw
    assert holder(north(tmp_path)) == (False, None)
    assert verify(north(tmp_path)).whole


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT])
def test_a_signal_leaves_the_terminal_whole_and_lets_the_build_go(
    tmp_path: Path, number: signal.Signals
) -> None:
    with on_terminal(tmp_path, *NEW) as terminal:
        terminal.until(FIRST)
        terminal.type(".004")
        terminal.child.send_signal(number)
        assert terminal.ended() == 128 + number
        assert terminal.is_whole()
        assert "Traceback" not in terminal.raw.decode()
    assert (north(tmp_path) / "lock").read_bytes() == b""
    assert verify(north(tmp_path)).whole


@pytest.mark.parametrize("delay", [0.0, 0.2])
def test_a_signal_while_it_starts_leaves_the_terminal_whole(tmp_path: Path, delay: float) -> None:
    with on_terminal(tmp_path, "demo") as terminal:
        terminal.until_raw(b"\x1b[?1049h")
        terminal.read(delay)
        terminal.child.send_signal(signal.SIGTERM)
        assert terminal.ended() == 128 + signal.SIGTERM
        assert terminal.is_whole()


def test_a_terminal_that_goes_away_ends_it_and_lets_the_build_go(tmp_path: Path) -> None:
    with on_terminal(tmp_path, *NEW) as terminal:
        terminal.until(FIRST)
        terminal.type(".004; manual\r")
        terminal.until("How far out of flat may the deck")
        assert terminal.hang_up() == 128 + signal.SIGHUP
    assert (north(tmp_path) / "lock").read_bytes() == b""
    assert [r.kind for r in read_records(north(tmp_path))] == ["begun", "spec"]


CRASH = """
from snugset.screens.bench import BenchScreen
def action_why(self):
    raise RuntimeError("planted [bold]")
BenchScreen.action_why = action_why
"""
LATER = """
from snugset.bench import Bench
def say(self, typed, at=None):
    raise RuntimeError("planted [bold]")
Bench.say = say
"""
DRAWN = """
from snugset.screens.page import Page
put = Page.put
def failing(self, parts, **stay):
    if any("not had" in p.plain for p in parts):
        raise RuntimeError("planted [bold]")
    put(self, parts, **stay)
Page.put = failing
"""


@pytest.mark.parametrize(
    ("plant", "keys"),
    [(CRASH, F2), (LATER, ".004\r"), (DRAWN, "none")],
    ids=["key", "thread", "draw"],
)
def test_a_crash_leaves_the_terminal_whole_a_sentence_and_a_log(
    tmp_path: Path, plant: str, keys: str
) -> None:
    with on_terminal(tmp_path, *NEW, code=plant + MAIN) as terminal:
        terminal.until(FIRST)
        terminal.type(keys)
        assert terminal.ended() == 1
        assert terminal.is_whole()
        said = terminal.raw.decode().rpartition("\x1b[?1006l")[2]
    assert "Traceback" not in said
    log = tmp_path / "data" / "crash.log"
    sentence = "snugset: a fault inside Snugset stopped this (RuntimeError); what was answered is "
    assert said.strip().startswith(sentence)
    assert said.strip().endswith(f"The details are in {log}")
    assert "RuntimeError: planted [bold]" in log.read_text("utf-8")
    assert (north(tmp_path) / "lock").read_bytes() == b""
    assert verify(north(tmp_path)).whole


def test_a_build_that_is_open_elsewhere_is_told_as_line_by_line(tmp_path: Path) -> None:
    with on_terminal(tmp_path, *NEW) as one:
        one.until(FIRST)
        with on_terminal(tmp_path, "resume", "north") as two:
            assert two.ended() == 1
            assert two.is_whole()
            assert re.search(rb"snugset: north is open elsewhere, by Wren on ", two.raw)
        with on_terminal(tmp_path) as listed:
            listed.until("open elsewhere: Wren on ")
            listed.type(CTRL_Q)
            assert listed.ended() == 0


def test_a_dumb_terminal_gets_the_lines(tmp_path: Path) -> None:
    with on_terminal(tmp_path, *NEW, TERM="dumb") as terminal:
        terminal.until("in >")
        assert b"\x1b" not in terminal.raw
        terminal.type("quit\n")
        assert terminal.ended() == 0
        assert terminal.is_whole()


@pytest.mark.parametrize(
    ("words", "term"), [(("--plain", "demo"), "xterm-256color"), (("demo",), "")]
)
def test_plain_and_a_terminal_without_a_name_get_the_lines(
    tmp_path: Path, words: tuple[str, ...], term: str
) -> None:
    with on_terminal(tmp_path, *words, TERM=term) as terminal:
        terminal.until("thou >")
        assert b"\x1b" not in terminal.raw
        terminal.type("quit\n")
        assert terminal.ended() == 0


def test_a_pipe_gets_the_lines(tmp_path: Path) -> None:
    environ = {
        **os.environ,
        "TERM": "xterm",
        "SNUGSET_DATA": str(tmp_path),
        "TMPDIR": str(tmp_path),
    }
    done = subprocess.run(
        [sys.executable, "-c", MAIN, "demo"],
        input="quit\n",
        capture_output=True,
        text=True,
        env=environ,
        timeout=60,
        check=True,
    )
    assert "thou > " in done.stdout
    assert "\x1b" not in done.stdout + done.stderr


@pytest.mark.parametrize("stream", ["stdin", "stdout", "stderr"])
def test_one_stream_that_is_no_terminal_is_enough_for_the_lines(
    tmp_path: Path, stream: str
) -> None:
    """The screen would be drawn into the file, and its keys read from it."""
    aside = tmp_path / "aside"
    aside.write_text("quit\n", "utf-8")
    number = ("stdin", "stdout", "stderr").index(stream)
    mode = "os.O_RDONLY" if stream == "stdin" else "os.O_WRONLY | os.O_TRUNC"
    turn = f"import os; os.dup2(os.open({str(aside)!r}, {mode}), {number})\n"
    with on_terminal(tmp_path, "demo", code=turn + MAIN) as terminal:
        if stream == "stderr":
            terminal.until("thou >")
        if stream != "stdin":
            terminal.type("quit\n")
        assert terminal.ended() == 0
        assert b"\x1b" not in terminal.raw


def test_without_colour_there_are_only_greys(tmp_path: Path) -> None:
    """Set to nothing it counts as well."""
    with on_terminal(tmp_path, NO_COLOR="", COLORTERM="truecolor") as terminal:
        terminal.until("No builds yet.")
        terminal.type(CTRL_Q)
        assert terminal.ended() == 0
    seen = set(re.findall(rb"[34]8;2;(\d+);(\d+);(\d+)", terminal.raw))
    assert seen
    assert all(red == green == blue for red, green, blue in seen)


def test_resized_it_is_drawn_for_the_new_size(tmp_path: Path) -> None:
    with on_terminal(tmp_path, "demo") as terminal:
        terminal.until("thou ▸")
        for size in ((160, 48), (100, 30), (80, 24)):
            terminal.resize(size)
            terminal.until("^Q quit")
            terminal.until("Ledger, round 1")
        terminal.type(CTRL_Q)
        assert terminal.ended() == 0
        assert terminal.is_whole()


SHELL = """
import os, sys
home = os.environ["HOME"]
words = " ".join(sys.argv[1:])
with open(f"{home}/go", "w", encoding="utf-8") as file:
    file.write(f"exec {sys.executable} -c '{MAIN}' {words}")
os.environ["PS1"] = "shed> "
os.execvp("bash", ["bash", "--norc", "--noprofile", "-i"])
"""


@pytest.mark.skipif(which("bash") is None, reason="a shell with job control is needed")
def test_ctrl_z_goes_to_the_shell_and_fg_comes_back_painted_whole(tmp_path: Path) -> None:
    code = f"MAIN = {MAIN!r}\n{SHELL}"
    with on_terminal(tmp_path, *NEW, code=code) as terminal:
        terminal.until("shed>")
        terminal.type("bash ~/go\r")
        terminal.until(FIRST)
        terminal.type("note half")
        terminal.until("note half")
        before = terminal.shown
        terminal.type("\x1a")
        terminal.until("Stopped")
        assert terminal.raw.count(b"\x1b[?1049l") == 1, "the shell has its own picture back"
        terminal.type("echo still here\r")
        terminal.until("\nstill here")
        terminal.type("fg\r")
        terminal.until(FIRST)
        terminal.until("note half")
        terminal.type(" typed\r")
        terminal.until("✓ Noted.")
        assert "How far out" in terminal.shown
        assert terminal.shown.splitlines()[:2] == before.splitlines()[:2]
        assert terminal.shown.splitlines()[-1] == before.splitlines()[-1]
        terminal.type(CTRL_Q)
        terminal.until("shed>")
        terminal.type("exit\r")
        assert terminal.ended() == 0
        assert terminal.modes() == terminal.before
    assert read_records(north(tmp_path))[-1].body["text"] == "half typed"
    assert verify(north(tmp_path)).whole


@pytest.mark.parametrize(
    ("term", "colorterm"),
    [
        ("xterm-256color", ""),
        ("xterm-256color", "truecolor"),
        ("screen-256color", ""),
        ("tmux-256color", ""),
        ("xterm-16color", ""),
        ("xterm", ""),
        ("linux", ""),
        ("vt100", ""),
    ],
)
def test_on_each_sort_of_terminal_it_stands_whole_in_colours_that_it_has(
    tmp_path: Path, term: str, colorterm: str
) -> None:
    far = "192.0.2.7 50000 192.0.2.1 22"
    with on_terminal(
        tmp_path, "demo", TERM=term, COLORTERM=colorterm, SSH_CONNECTION=far
    ) as terminal:
        terminal.until("Ledger, round 1")
        terminal.until("^Q quit")
        terminal.type("40+38; 40+40\r")
        terminal.until("gap@4E#1")
        terminal.type(CTRL_Q)
        assert terminal.ended() == 0
        assert terminal.is_whole()
    full = re.search(rb"\x1b\[[0-9;]*[34]8;2;", terminal.raw)
    many = re.search(rb"\x1b\[[0-9;]*[34]8;5;", terminal.raw)
    assert bool(full) is (colorterm == "truecolor")
    assert bool(many) is (term.endswith("256color") and not colorterm)


def test_shrunk_to_almost_nothing_and_back_with_an_answer_being_typed(tmp_path: Path) -> None:
    with on_terminal(tmp_path, "demo") as terminal:
        terminal.until("Ledger, round 1")
        terminal.type("40+38; ")
        for size in ((20, 5), (80, 24), (1, 1), (160, 48), (40, 10), (80, 24)):
            terminal.resize(size)
            terminal.read(0.05)
        terminal.until("Ledger, round 1")
        terminal.type("40+40")
        terminal.until("79 thou")
        terminal.resize((60, 15))
        terminal.until("60x15 is smaller than 80x24")
        terminal.type("\r")
        terminal.until("Exhaust of 4")
        terminal.type(CTRL_Q)
        assert terminal.ended() == 0
        assert terminal.is_whole()


def test_the_terminal_is_asked_for_its_size_whatever_the_environment_says(tmp_path: Path) -> None:
    with on_terminal(tmp_path, "demo", COLUMNS="80", LINES="24") as terminal:
        terminal.until("Ledger, round 1")
        terminal.resize((60, 15))
        terminal.until("60x15 is smaller than 80x24")
        terminal.resize((100, 30))
        terminal.until("Ledger, round 1 ")
        terminal.type(CTRL_Q)
        assert terminal.ended() == 0
        assert terminal.is_whole()
