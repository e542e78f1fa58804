"""check: every mistake, with its place, on standard output."""

import io
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from .shell import ANSWERS, ENGINE, PROCEDURE, SPECS, Shell, process


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.fixture
def demo(shell: Shell) -> Shell:
    """Give a shell in a folder that holds the demo and what it names."""
    shutil.copytree(ANSWERS.parent, "demo")
    shutil.copytree(PROCEDURE.parent, "procedures")
    return shell


def write(name: str, text: str) -> str:
    Path(name).write_text(text, "utf-8")
    return name


def changed(source: Path, old: str, new: str, name: str) -> str:
    text = source.read_text("utf-8")
    assert old in text
    return write(name, text.replace(old, new, 1))


def line_of(file: str, text: str) -> int:
    return Path(file).read_text("utf-8").split("\n").index(text) + 1


def test_what_is_shipped_has_no_mistakes(shell: Shell) -> None:
    ran = shell.ok("check", ENGINE, PROCEDURE, SPECS, ANSWERS)
    assert ran.out == ""
    assert shell.ok("check", ENGINE, "--json").json == []


def test_every_mistake_of_every_file_in_one_run_by_place(shell: Shell) -> None:
    engine = changed(ENGINE, "layout: inline", "layout: inlin", "engine.yaml")
    specs = write(
        "specs.yaml", "snugset: specs/1\nfigures:\n  gasket-thickness:\n    value: 0.047 in\n"
    )
    code, out, err = shell("check", specs, engine)
    assert (code, err) == (1, "")
    assert out.splitlines() == [
        (
            f"engine.yaml:{line_of(engine, 'layout: inlin')}:9: “inlin” is not inline or v "
            "(did you mean “inline”?)"
        ),
        "specs.yaml:4:5: “source” is missing here; say where the figure stands",
    ]


def test_json_gives_each_mistake_in_parts(shell: Shell) -> None:
    file = write("a.yaml", "snugset: engin/1\n")
    ran = shell("check", file, "--json")
    assert ran.code == 1
    (mistake,) = ran.json
    assert (mistake["file"], mistake["line"], mistake["column"]) == ("a.yaml", 1, 10)
    assert "did you mean “engine/1”" in mistake["message"]


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "a.yaml:1:1: "),
        (b"\xef\xbb\xbfsnugset: engine/1\n", "a.yaml:1:1: the file starts with a byte order mark"),
        (b"snugset: \xff\n", "a.yaml:1:10: this is not UTF-8; save the file as UTF-8"),
        (b"name: x\n", "a.yaml:1:1: “snugset” is missing here"),
        (b"x" * (2 * 1024 * 1024 + 5), "a.yaml:1:1: the file is larger than 2 MiB"),
        (b"snugset: engine/1\nname: \x1b[31m\n", "a.yaml:2:7: an escape (U+001B) stands here"),
    ],
)
def test_files_that_are_none_are_told_at_their_place(
    shell: Shell, content: bytes, says: str
) -> None:
    Path("a.yaml").write_bytes(content)
    code, out, err = shell("check", "a.yaml")
    assert (code, err) == (1, "")
    assert out.startswith(says)
    assert out.count("\n") == 1
    assert "\x1b" not in out


def test_a_file_that_is_not_there_is_an_error_and_the_others_are_checked(shell: Shell) -> None:
    bad = write("bad.yaml", "name: x\n")
    code, out, err = shell("check", "nope.yaml", ".", bad)
    assert code == 1
    assert out.startswith("bad.yaml:1:1: ")
    assert err == (
        "snugset: nope.yaml: No such file or directory; check the path\n"
        "snugset: .: Is a directory; check the path\n"
    )


def test_a_procedure_is_checked_for_names_that_lead_nowhere(shell: Shell) -> None:
    groups = PROCEDURE.parent / "shared" / "studs-and-head.yaml"
    file = changed(groups, "at-most: head-flatness", "at-most: head-flatnes", "groups.yaml")
    code, out, _ = shell("check", file)
    assert code == 1
    assert "“head-flatnes”" in out
    assert "did you mean “head-flatness”" in out


def test_an_engine_is_held_against_the_procedure_that_is_given_with_it(shell: Shell) -> None:
    other = changed(ENGINE, "rockers: bridged", "rockers: shaft", "other.yaml")
    assert shell.ok("check", other).out == ""
    code, out, _ = shell("check", PROCEDURE, other)
    assert code == 1
    assert "the procedure is for an engine whose rockers are bridged; this one's are shaft" in out
    assert out.startswith("other.yaml:")
    shutil.copytree(PROCEDURE.parent / "shared", "shared")
    second = changed(PROCEDURE, "name: ", "name: Another ", "second.yaml")
    assert shell.ok("check", PROCEDURE, second, other).out == ""


def test_a_spec_sheet_is_held_against_the_procedure_that_is_given_with_it(shell: Shell) -> None:
    specs = changed(SPECS, "value: 0.047 in", "value: 0,047 in", "specs.yaml")
    assert shell.ok("check", specs).out == ""
    for files in ((specs, PROCEDURE), (PROCEDURE, specs)):
        code, out, _ = shell("check", *files)
        assert code == 1
        assert out == (
            f"specs.yaml:{line_of(specs, '    value: 0,047 in')}:12: “0,047 in” has a comma; "
            "write “0.047 in”\n"
        )


def test_a_spec_sheet_is_held_against_the_rules_of_its_prompts(shell: Shell) -> None:
    specs = changed(SPECS, "value: 20..120 lbf·ft", "value: 200..400 lbf·ft", "specs.yaml")
    code, out, _ = shell("check", specs, PROCEDURE, ENGINE)
    assert code == 1
    line = line_of(specs, "    value: 200..400 lbf·ft")
    assert out.startswith(f"specs.yaml:{line}:12: 30 lbf·ft is out of this wrench's reach")


def test_an_answers_file_is_read_with_the_files_that_it_names(demo: Shell) -> None:
    assert demo.ok("check", "demo/answers.yaml").out == ""
    specs = Path("demo/specs.yaml")
    changed(specs, "value: 0.047 in", "value: 0.47 in", str(specs))
    code, out, _ = demo("check", "demo/answers.yaml")
    assert code == 1
    assert out.startswith("demo/specs.yaml:")
    assert demo("check", "demo/answers.yaml", "demo/specs.yaml").out == out


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (
            "specs: specs.yaml",
            "specs: spec.yaml",
            "“spec.yaml” is no file; a specs file belongs here, its path from this file's folder",
        ),
        (
            "specs: specs.yaml",
            "specs: answers.yaml",
            (
                "“answers.yaml” is a file of the sort answers; a specs file belongs here, its path "
                "from this file's folder"
            ),
        ),
        (
            "specs: specs.yaml",
            "specs: /dev/zero",
            "“/dev/zero” is no file; a specs file belongs here, its path from this file's folder",
        ),
        ('{at: "manual"', '{at: "man ual"', "an address such as gap@1I#2"),
    ],
)
def test_mistakes_of_an_answers_file(demo: Shell, old: str, new: str, says: str) -> None:
    answers = Path("demo/answers.yaml")
    changed(answers, old, new, str(answers))
    code, out, err = demo("check", answers)
    assert (code, err) == (1, "")
    assert says in out
    assert out.startswith("demo/answers.yaml:")
    assert out.count("\n") == 1


def test_a_name_is_shown_and_not_obeyed(shell: Shell) -> None:
    name = write("a\x1b[31m\nb.yaml", "name: x\n")
    out = shell("check", name).out
    assert out.removesuffix("\n").isprintable()


def test_people_see_the_place_and_that_all_is_well(
    shell: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    bad = write("bad.yaml", "snugset: specs/1\nfigures:\n  gasket: {none: maybe}\n")
    screen = Terminal()
    monkeypatch.setattr(sys, "stdout", screen)
    shell("check", bad)
    first, source, caret = screen.getvalue().splitlines()
    assert first.startswith("bad.yaml:3:18: ")
    assert source == "      gasket: {none: maybe}"
    assert caret.index("^") == source.index("maybe")
    screen.truncate(0)
    shell("check", ENGINE, SPECS)
    assert screen.getvalue().lstrip("\0") == "No mistakes in 2 files.\n"


def test_an_engine_file_is_checked_without_the_guide(shell: Shell) -> None:
    code = "from snugset.cli import main; import sys; main(sys.argv[1:]); print(*sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code, "check", str(ENGINE)],
        capture_output=True,
        text=True,
        check=True,
        env=shell.environ(),
    )
    loaded = set(done.stdout.split())
    assert not loaded & {"snugset.guide", "snugset.plan", "snugset.journal.shelf"}


def test_the_exit_code_of_a_process(shell: Shell) -> None:
    assert process(shell, "check", ENGINE) == (0, "", "")
    bad = write("bad.yaml", "name: x\n")
    code, out, err = process(shell, "check", bad)
    assert (code, err) == (1, "")
    assert out.startswith("bad.yaml:1:1: ")
