"""Beginning a build, going on with it, and the demo: line by line."""

import io
import os
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

import pytest

from snugset.commands import demonstrating, sitting
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.journal.reading import read_records, verify
from snugset.journal.shelf import Shelf
from snugset.shipped import engines, procedures
from snugset.values import replace

from .shell import ENGINE, MAIN, NEW, PROCEDURE, SPECS, Shell

COVER = "72 lbf·in; engine maker's leaflet (invented), p. 6"


def people(shell: Shell, build: str) -> set[str]:
    return {record.person for record in read_records(Shelf(shell.data).folder(build))}


def test_new_begins_a_build_says_where_and_opens_it(shell: Shell) -> None:
    out = shell.ok(*NEW, "--name", "North field pump").out
    folder = shell.data / "builds" / "north-field-pump"
    assert out.startswith(f"Begun: north-field-pump, kept in {folder}\n")
    assert "Spec sheet · spec.head-flatness" in out
    assert out.endswith("Everything answered is kept. To go on: snugset resume north-field-pump\n")
    assert verify(folder).whole


def test_new_takes_paths_as_well_and_the_engine_gives_the_name(shell: Shell) -> None:
    out = shell.ok("new", PROCEDURE, "--engine", ENGINE, "--specs", SPECS).out
    assert out.startswith("Begun: barn-pump-six-invented,")
    assert "Spec sheet · spec.cover-torque" in out


def test_answers_are_kept_and_resume_goes_on_behind_them(shell: Shell) -> None:
    shell.ok(*NEW, "--specs", SPECS, "--name", "one", typed=f"{COVER}\nquit\n")
    (build,) = shell.ok("list", "--json").json
    assert build["step"] == "manual"
    out = shell.ok("resume", "one").out
    assert "return" in out


def test_resume_without_a_name_takes_the_newest(shell: Shell) -> None:
    for name in ("first", "second"):
        shell.ok(*NEW, "--name", name)
    times = iter(("2026-03-01", "2026-03-02"))
    for name in ("second", "first"):
        day = next(times)
        folder = Shelf(shell.data).folder(name)
        with Journal.open(folder, owner=Owner.here(person="Wren", since="")) as journal:
            entry = next(e for e in Shelf(shell.data).builds() if e.id == name)
            assert entry.head is not None
            journal.append([], replace(entry.head, updated=f"{day}T10:00:00Z"))
    assert shell.ok("resume").out.endswith("snugset resume first\n")


@pytest.mark.parametrize(
    ("words", "person"),
    [((), "Wren"), (("--person", "Ash"), "Ash")],
)
def test_the_person_is_the_option_else_the_environment(
    shell: Shell, words: tuple[str, ...], person: str
) -> None:
    shell.ok(*NEW, "--name", "one", *words, typed="none\nquit\n")
    assert people(shell, "one") == {person}


def test_the_person_is_else_the_login_name(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("SNUGSET_PERSON")
    monkeypatch.setenv("LOGNAME", "ash")
    shell.ok(*NEW, "--name", "one")
    assert people(shell, "one") == {"ash"}
    monkeypatch.setattr("getpass.getuser", nobody)
    shell.ok(*NEW, "--name", "two")
    assert people(shell, "two") == {"somebody"}


def nobody() -> str:
    raise KeyError(os.getuid())


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (
            ("new", "inline-six-bridged", "--engine", "barn-pump-six"),
            1,
            (
                "snugset: there is no procedure file “inline-six-bridged” (did you mean "
                "“inline-six-bridged-hydraulic”?); give a path, or a name that is shipped: "
                f"{', '.join(procedures())}\n"
            ),
        ),
        (
            ("new", "inline-six-bridged-hydraulic", "--engine", "."),
            1,
            (
                "snugset: there is no engine file “.”; give a path, or a name that is shipped: "
                f"{', '.join(engines())}\n"
            ),
        ),
        (
            ("new", "inline-six-bridged-hydraulic"),
            2,
            (
                "snugset: --engine is missing; type: snugset new PROCEDURE --engine FILE "
                "[--specs FILE] [--name TEXT] [--person NAME]\n"
            ),
        ),
        (
            (*NEW, "--specs", "nope.yaml"),
            1,
            "nope.yaml: No such file or directory; check the path\n",
        ),
        (
            (*NEW, "--name", "two\nlines"),
            1,
            "A build needs a name of 1 to 200 letters that can be seen.\n",
        ),
        (
            (*NEW, "--person", "\x1b[31m"),
            2,
            (
                "snugset: a person's name has 1 to 120 letters that can be seen; "
                "give it: --person NAME\n"
            ),
        ),
    ],
)
def test_what_cannot_be_begun_is_said_and_nothing_is_made(
    shell: Shell, words: tuple[str, ...], code: int, says: str
) -> None:
    assert shell(*words) == (code, "", says)
    assert shell.ok("list", "--json").json == []


def test_every_mistake_in_the_files_is_told_with_its_place_and_nothing_is_made(
    shell: Shell,
) -> None:
    text = SPECS.read_text("utf-8")
    Path("bad.yaml").write_text(
        text.replace("0.047 in", "0,047 in").replace("head-thread", "head-tread"), "utf-8"
    )
    code, out, err = shell(*NEW, "--specs", "bad.yaml")
    assert (code, out) == (1, "")
    first, second = err.splitlines()
    assert re.match(r"bad\.yaml:\d+:\d+: .*has a comma; write “0\.047 in”", first)
    assert re.match(r"bad\.yaml:\d+:\d+: .*“head-tread” \(did you mean “head-thread”\?\)", second)
    assert shell.ok("list", "--json").json == []


def test_an_unknown_build_is_said_with_the_near_ones(shell: Shell) -> None:
    shell.ok(*NEW, "--name", "north-pump")
    assert shell("resume", "nort-pum") == (
        1,
        "",
        "snugset: there is no build “nort-pum”; did you mean “north-pump”?\n",
    )


def test_a_build_that_is_open_elsewhere_says_by_whom(shell: Shell) -> None:
    shell.ok(*NEW, "--name", "one")
    other = Owner.here(person="Ash", since="2026-03-06T17:40:00Z")
    with Journal.open(Shelf(shell.data).folder("one"), owner=other):
        code, out, err = shell("resume", "one")
    assert (code, out) == (1, "")
    assert err.startswith("snugset: one is open elsewhere, by Ash on ")
    assert err.endswith(
        "; close it there first, or look on, read only: snugset resume one --follow\n"
    )


def test_a_build_that_is_open_elsewhere_is_looked_at(shell: Shell) -> None:
    shell.ok(*NEW, "--name", "one")
    folder = Shelf(shell.data).folder("one")
    before = (folder / "journal.sqlite").read_bytes()
    with Journal.open(folder, owner=Owner.here(person="Ash", since="2026-03-06T17:40:00Z")):
        out = shell.ok("resume", "one", "--follow").out
        assert out.startswith("Read only. It is open elsewhere by Ash on ")
    assert "Spec sheet · spec.head-flat" in out
    assert shell.ok("resume", "one", "--follow").out.startswith("Read only. Nobody has it open.")
    assert (folder / "journal.sqlite").read_bytes() == before


def test_a_finished_build_opens_and_says_so(full: Shell) -> None:
    out = full.ok("resume").out
    assert "finished" in out
    assert "To go on" not in out


def test_a_network_file_system_is_warned_of(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[Path] = []

    def warning(path: Path) -> str:
        seen.append(path)
        return "the folder is far away"

    monkeypatch.setattr(sitting, "warn_if_network", warning)
    for words in ((*NEW, "--name", "one"), ("resume",)):
        code, out, err = shell(*words)
        assert (code, err) == (0, "snugset: the folder is far away\n")
        assert out
    assert seen == [shell.data] * 2


def test_a_line_without_end_is_not_read_to_its_end(shell: Shell) -> None:
    """As a device gives it, or a program that never ends its line."""
    shell.ok(*NEW, "--name", "one", typed="note kept\n")

    class Endless(io.StringIO):
        asked = 0

        def readline(self, most: int | None = -1, /) -> str:  # type: ignore[override]
            assert most is not None
            assert 0 < most <= 16 * 1024 * 1024
            self.asked += 1
            return "note also kept\n" if self.asked == 1 else "x" * most

    endless = Endless()
    ran = shell("resume", "one", typed=endless)
    assert (ran.code, endless.asked) == (1, 2)
    assert ran.err == (
        "snugset: a line of the answers has no end; give one answer a line. "
        "What was answered before it is kept\n"
    )
    notes = [r for r in read_records(Shelf(shell.data).folder("one")) if r.kind == "note"]
    assert len(notes) == 2


def test_texts_of_a_build_do_not_drive_the_terminal(shell: Shell) -> None:
    shell.ok(*NEW, "--specs", SPECS, "--name", "one", typed=f"{COVER}\nquit\n")
    folder = Shelf(shell.data).folder("one")
    owner = Owner.here(person="\x1b[31mred\u202e", since="")
    with Journal.open(folder, owner=owner):
        err = shell("resume", "one").err
    assert err.removesuffix("\n").isprintable()


def test_the_demo_opens_at_a_reading_and_touches_nothing_of_the_users(
    shell: Shell, tmp_path: Path
) -> None:
    out = shell.ok("demo", typed="quit\n").out
    (scratch,) = (tmp_path / "scratch").iterdir()
    assert out.startswith(f"The demo stands in {scratch}; nothing of yours is touched.")
    assert f"· {demonstrating.OPENS_AT} ·" in out
    assert "thou > " in out
    assert "return" not in out
    assert f"snugset --data {scratch} resume barn-pump-six-spring-rebuild\n" in out
    assert out.endswith(f"When you are through with it, delete {scratch}\n")
    assert not shell.data.exists()
    assert list((tmp_path / "home").iterdir()) == []
    (build,) = shell.ok("--data", scratch, "list", "--json").json
    assert build["step"] == demonstrating.OPENS_AT


def test_the_demo_takes_the_reading_that_it_asks_for(shell: Shell) -> None:
    out = shell.ok("demo", typed="40+38; 40+40\nquit\n").out
    assert "✓" in out
    assert out.count(f"· {demonstrating.OPENS_AT} ·") == 1


@contextmanager
def sitting_down(shell: Shell, *words: str) -> Iterator["subprocess.Popen[str]"]:
    with subprocess.Popen(
        [sys.executable, "-c", MAIN, *words],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=shell.environ(),
    ) as child:
        try:
            yield child
        finally:
            child.kill()


def read_until(stream: IO[str] | None, text: str) -> str:
    assert stream is not None
    seen = ""
    while text not in seen:
        letter = stream.read(1)
        assert letter, f"it ended without {text!r}: {seen}"
        seen += letter
    return seen


def test_killed_at_a_prompt_it_stands_behind_the_last_acknowledged_answer(shell: Shell) -> None:
    with sitting_down(shell, *NEW, "--specs", str(SPECS), "--name", "one") as child:
        assert child.stdin is not None
        read_until(child.stdout, "lbf·in > ")
        child.stdin.write(f"{COVER}\n\n")
        child.stdin.flush()
        read_until(child.stdout, "· workplace ·")
        child.send_signal(signal.SIGKILL)
        child.wait(timeout=30)
    (build,) = shell.ok("list", "--json").json
    assert build["step"] == "workplace"
    assert shell.ok("verify", "one").out.startswith("one is whole")
    out = shell.ok("resume", "one", typed="\n").out
    assert "workplace" in out


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT])
def test_ended_from_outside_it_lets_go_of_the_build_without_a_word(
    shell: Shell, number: signal.Signals
) -> None:
    with sitting_down(shell, *NEW, "--name", "one") as child:
        read_until(child.stdout, "in > ")
        child.send_signal(number)
        out, err = child.communicate(timeout=30)
    assert child.returncode == 128 + number
    assert (out, err) == ("", "")
    lock = shell.data / "builds" / "one" / "lock"
    assert lock.read_bytes() == b""
    assert shell.ok("verify", "one").code == 0
