"""The sheet as a page, as rows, and in a file: whole or not at all, never over another."""

import csv
import os
from pathlib import Path

import pytest

from paper import parsed, said
from snugset import sheets, writing
from snugset.journal.shelf import Shelf

from .shell import Shell, process

BUILD = "barn-pump-six-spring-rebuild"


def test_a_page_on_standard_output(full: Shell) -> None:
    out = full.ok("sheet", BUILD, "--as", "html").out
    assert out.startswith("<!DOCTYPE html>\n")
    assert out.endswith("</html>\n")
    assert "Barn pump six, spring rebuild" in said(parsed(out))


def test_rows_on_standard_output_are_bytes_as_they_stand(full: Shell) -> None:
    out = full.ok("sheet", BUILD, "--as", "csv").out
    lines = list(csv.DictReader(out.splitlines()))
    assert lines[0]["value"] == "73.5"
    assert out.count("\r\n") == len(lines) + 1


def test_a_page_in_utf8_whatever_the_terminal_has(
    full: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PYTHONIOENCODING", "ascii")
    ran = process(full, "sheet", BUILD, "--as", "html")
    assert ran.code == 0
    assert "lbf·ft" in ran.out


@pytest.mark.parametrize(
    ("name", "begins"),
    [
        ("sheet.html", "<!DOCTYPE html>"),
        ("sheet.HTM", "<!DOCTYPE html>"),
        ("sheet.csv", "build,stands,"),
        ("sheet.json", '{\n  "snugset": "build-sheet/1"'),
        ("sheet.md", "# Build sheet"),
        ("sheet", "# Build sheet"),
    ],
)
def test_the_name_of_a_file_says_the_form(full: Shell, name: str, begins: str) -> None:
    assert str(Path(name).absolute()) in full.ok("sheet", BUILD, "-o", name).out
    assert Path(name).read_bytes().decode().startswith(begins)


def test_a_form_that_is_asked_for_counts_more_than_the_name(full: Shell) -> None:
    full.ok("sheet", BUILD, "--as", "md", "--out", "sheet.html")
    assert Path("sheet.html").read_text("utf-8").startswith("# Build sheet")


def test_a_file_is_written_over_only_when_that_is_said(full: Shell) -> None:
    Path("sheet.html").write_text("mine", "utf-8")
    ran = full("sheet", BUILD, "-o", "sheet.html")
    assert (ran.code, ran.out) == (1, "")
    assert ran.err == "snugset: sheet.html is there already; --replace writes over it\n"
    assert Path("sheet.html").read_text("utf-8") == "mine"
    full.ok("sheet", BUILD, "-o", "sheet.html", "--replace")
    assert Path("sheet.html").read_text("utf-8").startswith("<!DOCTYPE html>")
    assert os.listdir() == ["sheet.html"]  # noqa: PTH208 - hidden names count


def test_what_cannot_be_written_to_is_said(full: Shell) -> None:
    Path("folder").mkdir()
    assert full("sheet", BUILD, "-o", "folder", "--replace").err == (
        "snugset: folder is a folder; name the file in it\n"
    )
    assert full("sheet", BUILD, "-o", "nowhere/sheet.html").err == (
        "snugset: there is no folder nowhere; make it first\n"
    )
    assert full("sheet", BUILD, "--replace").code == 2
    assert full("sheet", BUILD, "--as", "pdf").code == 2


def test_what_fails_leaves_neither_a_part_nor_a_changed_file(
    full: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full_disk(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    Path("sheet.html").write_text("mine", "utf-8")
    monkeypatch.setattr(writing, "sync_file", full_disk)
    ran = full("sheet", BUILD, "-o", "sheet.html", "--replace")
    assert (ran.code, "the disk is full" in ran.err) == (1, True)
    assert Path("sheet.html").read_text("utf-8") == "mine"
    assert os.listdir() == ["sheet.html"]  # noqa: PTH208 - hidden names count


def test_a_file_system_without_links_gets_its_sheet_too(
    full: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    def none(_self: Path, _target: Path) -> None:
        raise OSError(1, "Operation not permitted")

    monkeypatch.setattr(Path, "hardlink_to", none)
    full.ok("sheet", BUILD, "-o", "sheet.csv")
    assert full("sheet", BUILD, "-o", "sheet.csv").code == 1
    assert os.listdir() == ["sheet.csv"]  # noqa: PTH208 - hidden names count


def test_the_build_s_own_sheet_is_made_again_in_its_folder(full: Shell) -> None:
    folder = Shelf(full.data).folder(BUILD)
    path = sheets.keep_sheet(folder)
    assert path == folder / "build-sheet.html"
    first = path.read_bytes()
    assert sheets.keep_sheet(folder).read_bytes() == first
    assert full.ok("verify", BUILD).out.startswith(f"{BUILD} is whole")
