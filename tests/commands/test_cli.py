"""The command line: what is understood, what is said of the rest, and how it ends."""

import os
import re
import stat
import subprocess
import sys
from pathlib import Path

import pytest

import snugset.commands.list as list_command
from snugset.commands import NAMES, load
from snugset.commands.declare import Given, Place
from snugset.values import replace

from .shell import MAIN, NEW, Shell, process


def broken(error: BaseException) -> object:
    def run(_given: Given, _place: Place) -> int:
        raise type(error)(*error.args)

    return replace(list_command.COMMAND, run=run)


@pytest.mark.parametrize("name", NAMES)
def test_the_help_of_a_command_shows_everything_that_it_declares(shell: Shell, name: str) -> None:
    command = load(name)
    assert command.name == name
    out = shell.ok(name, "--help").out
    usage, _, rest = out.partition("\n\n")
    assert " ".join(usage.split()) == f"usage: {command.usage}"
    assert rest.startswith(f"{command.help[0].upper()}{command.help[1:]}"[:60])
    for argument in command.arguments:
        assert re.search(rf"^  {re.escape(argument.name)}\b", out, re.MULTILINE), argument.name
    assert str(shell.data / "crash.log") in out
    assert max(len(line) for line in out.split("\n") if str(shell.data) not in line) <= 80


def test_help_lists_every_command_and_says_where_builds_and_the_crash_log_are(shell: Shell) -> None:
    for word in ("--help", "-h"):
        out = shell.ok(word).out
        said = " ".join(out.split())
        for name in NAMES:
            command = load(name)
            assert f"{command.usage.removeprefix('snugset ')} {command.help}" in said
        assert f"Builds are kept in {shell.data}/builds\n" in out
        assert f"An unexpected fault is written down in {shell.data}/crash.log\n" in out


def test_version(shell: Shell) -> None:
    assert shell.ok("--version").out == "snugset 0.1.0\n"
    assert shell.ok("new", "--version").out == "snugset 0.1.0\n"


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("lst",), "there is no command “lst” (did you mean “list”?); see: snugset --help"),
        (
            ("list", "--jsn"),
            "snugset list has no option “--jsn” (did you mean “--json”?); see: snugset list --help",
        ),
        (("list", "--json=yes"), "--json takes no value; leave out “=yes”"),
        (("list", "--json", "--json"), "--json is there twice; leave one out"),
        (("list", "extra"), "“extra” is one word too many; type: snugset list [--all] [--json]"),
        (("backup", "x"), "FILE is missing; type: snugset backup BUILD FILE"),
        (("restore", " "), "FILE is empty; type: snugset restore FILE"),
        (("list", "--data"), "--data needs a value; type: --data DIR"),
        (("list", "--data="), "--data is empty; type: --data DIR"),
        (("resume", "--person", "--data=x"), "--person needs a value; type: --person NAME"),
        (
            ("sheet", "x", "--as", "pdf"),
            (
                "--as is html, md, csv or json, not “pdf”; type: snugset sheet BUILD "
                "[--as html|md|csv|json] [--out FILE] [--replace]"
            ),
        ),
        (("list", "-o", "x"), "snugset list has no option “-o”; see: snugset list --help"),
        (("-x",), "snugset list has no option “-x”; see: snugset list --help"),
    ],
)
def test_what_is_not_understood_is_said_in_one_sentence_with_the_fix(
    shell: Shell, words: tuple[str, ...], says: str
) -> None:
    assert shell(*words) == (2, "", f"snugset: {says}\n")


@pytest.mark.parametrize(
    "words",
    [
        ("--data", "elsewhere", "list"),
        ("list", "--data", "elsewhere"),
        ("--data=elsewhere",),
        ("--plain", "list", "--data=elsewhere"),
    ],
)
def test_the_data_folder_is_given_before_or_after_the_command(
    shell: Shell, words: tuple[str, ...]
) -> None:
    assert "There are no builds in elsewhere/builds yet." in shell.ok(*words).out


def test_the_home_folder_of_nobody_is_a_name_like_another(
    shell: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SNUGSET_DATA", "~nobody-of-this-name/x")
    assert "~nobody-of-this-name/x/builds" in shell.ok().out


def test_words_after_two_hyphens_are_no_options(shell: Shell) -> None:
    code, _, err = shell("resume", "--", "--odd")
    assert (code, err.split(";")[0]) == (1, f"snugset: there are no builds in {shell.data}/builds")


def test_a_fault_inside_is_a_sentence_and_a_log_for_the_owner(
    shell: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(list_command, "COMMAND", broken(KeyError("\x1b[31m\u202ered")))
    code, out, err = shell("list")
    log = shell.data / "crash.log"
    assert (code, out) == (1, "")
    assert err == (
        "snugset: a fault inside Snugset stopped this (KeyError); what was answered is kept. "
        f"The details are in {log}\n"
    )
    assert stat.S_IMODE(log.stat().st_mode) == 0o600
    assert stat.S_IMODE(shell.data.stat().st_mode) == 0o700
    text = log.read_text("utf-8")
    assert "Traceback" in text
    assert "KeyError" in text
    assert "\x1b" not in text
    assert "\u202e" not in text


def test_a_broken_installation_is_a_sentence_too(
    shell: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    for module in ("snugset.stored", "snugset.play"):
        monkeypatch.setitem(sys.modules, module, None)
    code, out, err = shell("replay", "answers.yaml")
    assert (code, out) == (1, "")
    assert err.startswith("snugset: a fault inside Snugset stopped this (ModuleNotFoundError); ")


def test_faults_are_written_one_after_the_other_until_the_log_is_large(
    shell: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(list_command, "COMMAND", broken(KeyError("one")))
    log = shell.data / "crash.log"
    shell("list")
    once = log.stat().st_size
    shell("list")
    assert log.stat().st_size == 2 * once
    log.write_bytes(b"x" * (1024 * 1024 + 1))
    shell("list")
    assert log.stat().st_size == once


def test_a_crash_log_that_leads_elsewhere_is_not_followed(
    shell: Shell, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(list_command, "COMMAND", broken(KeyError("one")))
    shell.data.mkdir()
    kept = tmp_path / "kept"
    kept.write_text("mine", "utf-8")
    (shell.data / "crash.log").symlink_to(kept)
    code, _, err = shell("list")
    assert code == 1
    assert "The details could not be written down" in err
    assert kept.read_text("utf-8") == "mine"


def test_an_interruption_ends_quietly(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(list_command, "COMMAND", broken(KeyboardInterrupt()))
    assert shell("list") == (130, "", "")


def test_a_file_that_cannot_be_used_is_named(shell: Shell) -> None:
    Path("folder").mkdir()
    assert shell("crank", "barn-pump-six", "--list", "folder") == (
        1,
        "",
        "folder: Is a directory; check the path\n",
    )


def test_a_reader_who_goes_away_is_not_an_error(shell: Shell) -> None:
    read, write = os.pipe()
    os.close(read)
    done = os.posix_spawn(
        sys.executable,
        [sys.executable, "-c", MAIN, "-h"],
        shell.environ(),
        file_actions=[
            (os.POSIX_SPAWN_DUP2, write, 1),
            (os.POSIX_SPAWN_OPEN, 2, "said", os.O_WRONLY | os.O_CREAT, 0o600),
        ],
    )
    os.close(write)
    _, status = os.waitpid(done, 0)
    assert os.waitstatus_to_exitcode(status) == 141
    assert Path("said").read_bytes() == b""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
def test_output_that_cannot_be_written_is_an_error_and_no_traceback(shell: Shell) -> None:
    done = os.posix_spawn(
        sys.executable,
        [sys.executable, "-c", MAIN, "-h"],
        shell.environ(),
        file_actions=[
            (os.POSIX_SPAWN_OPEN, 1, "/dev/full", os.O_WRONLY, 0),
            (os.POSIX_SPAWN_OPEN, 2, "said", os.O_WRONLY | os.O_CREAT, 0o600),
        ],
    )
    _, status = os.waitpid(done, 0)
    assert os.waitstatus_to_exitcode(status) == 1
    assert Path("said").read_text("utf-8") == (
        "snugset: what was to be shown could not be written (No space left on device); try again\n"
    )


def test_a_process_keeps_results_and_errors_apart(shell: Shell) -> None:
    done = process(shell, "list", "--json")
    assert done == (0, "[]\n", "")
    assert process(shell, "figure", "preload", "takes=17,5") == (
        2,
        "",
        (
            "snugset: takes: “17,5” has a comma; write “17.5” (takes=17.5); "
            "see: snugset figure preload --help\n"
        ),
    )
    code, out, err = process(shell, "resume", "nothing")
    assert (code, out) == (1, "")
    assert err == f"snugset: there are no builds in {shell.data}/builds; begin one: snugset new\n"


def test_letters_that_a_terminal_has_not_are_question_marks(
    shell: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PYTHONIOENCODING", "ascii")
    ran = process(shell, *NEW)
    assert (ran.code, ran.err) == (0, "")
    assert "?? Spec sheet ? spec." in ran.out


def test_bytes_that_are_no_text_are_refused_where_they_are_typed(shell: Shell) -> None:
    done = subprocess.run(
        [sys.executable, "-c", MAIN, *NEW],
        input=b"\xff\xfe 5\n\x1b[31m\nquit\n",
        capture_output=True,
        env=shell.environ(),
        check=True,
    )
    assert done.stdout.count(b"A character that cannot be seen (U+") == 2
    assert b"\x1b" not in done.stdout
    assert done.stderr == b""
