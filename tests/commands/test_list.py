"""The list of builds: for people and for programs, whatever else is going on."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

from snugset.commands.list import NEWEST
from snugset.guide.events import Record
from snugset.journal.head import Head
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.journal.schema import FILE
from snugset.journal.shelf import Shelf

from .shell import NEW, Shell

OWNER = Owner.here(person="Wren", since="2026-03-06T17:40:00Z")


def forged(data: Path, build: str, head: Head) -> None:
    record = Record(sequence=1, answer=0, at="", person="", kind="begun", body={})
    folder = Shelf(data).new_folder(build)
    Journal.create(folder, owner=OWNER, records=[record], head=head).close()


def test_without_builds_it_offers_the_demo_and_a_new_one(shell: Shell) -> None:
    for words in ((), ("list",)):
        out = shell.ok(*words).out
        assert out.startswith(f"There are no builds in {shell.data}/builds yet.\n")
        assert "snugset demo" in out
        assert "snugset new PROCEDURE --engine FILE" in out
    assert shell.ok("list", "--json").json == []
    assert not shell.data.exists()


def test_json_holds_what_scripts_rely_on(shell: Shell) -> None:
    shell.ok(*NEW, "--name", "North field pump")
    (build,) = shell.ok("list", "--json").json
    assert {key: build[key] for key in ("id", "name", "procedure", "engine", "step")} == {
        "id": "north-field-pump",
        "name": "North field pump",
        "procedure": "Inline six, bridged rockers, hydraulic lifters",
        "engine": "Barn pump six (invented)",
        "step": "spec.head-flatness",
    }
    assert build["waiting_for"] == ""
    assert build["wrong"] == ""
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", build["updated"])


def test_a_line_says_where_a_build_stands_and_what_it_waits_for(shell: Shell) -> None:
    head = Head(
        name="Barn pump six",
        step="post#1",
        waiting_for="pushrods on order",
        updated="2026-11-02T18:04:59Z",
    )
    forged(shell.data, "barn", head)
    assert shell.ok().out == (
        "barn  2026-11-02 18:04 UTC  post#1  Barn pump six — waits for: pushrods on order\n"
    )


def test_the_latest_comes_first(shell: Shell) -> None:
    for build, day in (("old", "02"), ("new", "04"), ("mid", "03")):
        forged(shell.data, build, Head(updated=f"2026-11-{day}T18:04:00Z"))
    assert [build["id"] for build in shell.ok("list", "--json").json] == ["new", "mid", "old"]


def test_it_works_while_a_build_is_open_elsewhere(shell: Shell) -> None:
    shell.ok(*NEW, "--name", "one")
    with Journal.open(Shelf(shell.data).folder("one"), owner=OWNER):
        (build,) = shell.ok("list", "--json").json
    assert (build["id"], build["wrong"]) == ("one", "")


def test_a_build_that_cannot_be_read_is_named_and_hides_no_other(shell: Shell) -> None:
    forged(shell.data, "good", Head(name="Good", updated="2026-11-02T18:04:00Z"))
    forged(shell.data, "bad", Head(name="Bad"))
    (shell.data / "builds" / "bad" / "journal.sqlite").write_bytes(b"no journal " * 500)
    good, bad = shell.ok("list", "--json").json
    assert good["name"] == "Good"
    assert bad["wrong"].startswith("bad: journal.sqlite is not a journal")
    assert {bad[key] for key in ("name", "procedure", "step", "waiting_for", "updated")} == {None}
    assert "cannot be read: bad: journal.sqlite is not a journal" in shell.ok().out


def test_names_from_strangers_do_not_drive_the_terminal(shell: Shell) -> None:
    name = "\x1b]0;owned\x07\u202eevil\nsecond line\x9b2J"
    forged(shell.data, "odd", Head(name=name, step="\x1b[1m", waiting_for="\u2066", updated="\x07"))
    out = shell.ok().out
    assert out.count("\n") == 1
    assert out.removesuffix("\n").isprintable()
    text = shell.ok("list", "--json").out
    assert text.replace("\n", "").isprintable()
    assert json.loads(text)[0]["name"] == name


def test_it_starts_without_yaml_the_guide_and_the_screen(shell: Shell) -> None:
    forged(shell.data, "barn", Head(name="Barn", updated="2026-11-02T18:04:00Z"))
    code = "from snugset.cli import main; import sys; main(['list']); print(*sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        env=shell.environ(),
    )
    shown, modules = done.stdout.splitlines()
    assert shown.startswith("barn")
    loaded = set(modules.split())
    ours = {"snugset.bench", "snugset.stored", "snugset.units"}
    heavy = {"yaml", "textual", "argparse", "dataclasses"} | ours
    assert not loaded & heavy
    commands = {name.removeprefix("snugset.commands.") for name in loaded if "commands." in name}
    assert commands == {"declare", "layout", "list", "output", "parse"}


def test_of_a_large_shop_the_newest_are_told_and_how_to_see_the_rest(shell: Shell) -> None:
    for number in range(NEWEST + 2):
        day = f"2026-01-01T00:{number:02}:00Z"
        head = Head(name=f"Pump {number}", step="post#1", waiting_for="", updated=day)
        forged(shell.data, f"b{number:02}", head)
        os.utime(shell.data / "builds" / f"b{number:02}" / FILE, (number, number))
    told = shell.ok("list").out.splitlines()
    newest = [f"b{number:02}" for number in range(NEWEST + 1, 1, -1)]
    assert [line.split()[0] for line in told[:-1]] == newest
    assert told[-1] == "and 2 that were worked on before these: snugset list --all"
    every = [line.split()[0] for line in shell.ok("list", "--all").out.splitlines()]
    assert every == [*newest, "b01", "b00"]
    assert len(shell.ok("list", "--json").json) == NEWEST + 2


def test_a_file_in_the_place_of_the_data_folder_is_told_as_such(shell: Shell) -> None:
    shell.data.write_text("mine", "utf-8")
    says = (
        f"snugset: {shell.data / 'builds'}: a file stands where a folder belongs; move it, or name "
        "another data folder\n"
    )
    assert shell("list") == (1, "", says)
    assert shell(*NEW) == (1, "", says)
    assert shell.data.read_text("utf-8") == "mine"
