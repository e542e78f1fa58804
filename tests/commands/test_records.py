"""Replay, the sheet, and a build that is carried, proved and put back."""

import json
import os
import shutil
from pathlib import Path

import pytest

from snugset.journal.contents import whole_records
from snugset.journal.journal import Journal
from snugset.journal.opening import reading
from snugset.journal.owner import Owner
from snugset.journal.reading import verify
from snugset.sheet import as_json, markdown, sheet_of
from snugset.stored import plan_of

from .shell import ANSWERS, ENGINE, PROCEDURE, SPECS, Shell, process

BUILD = "barn-pump-six-spring-rebuild"


def short(*entries: str) -> str:
    """Write an answers file for what is shipped."""
    lines = (
        "snugset: answers/1",
        f"procedure: {PROCEDURE}",
        f"engine: {ENGINE}",
        f"specs: {SPECS}",
        "name: Short",
        "start: 2026-03-06T17:40:00Z",
        "person: Ash",
        "answers:",
        *entries,
    )
    Path("answers.yaml").write_text("\n".join(lines) + "\n", "utf-8")
    return "answers.yaml"


COVER = '  - {at: spec.cover-torque, say: "72 lbf·in; leaflet"}'
FEET = '  - {at: spec.cover-torque, say: "72 lbf·ft; leaflet"'


def test_replay_leaves_the_build_in_the_data_folder(shell: Shell) -> None:
    file = short(f"{FEET}, expect: refused factor}}", COVER)
    assert shell.ok("replay", file).out == (
        "Played 2 answers, 1 refused as expected; "
        "the build short stands open: snugset resume short\n"
    )
    (build,) = shell.ok("list", "--json").json
    assert (build["id"], build["step"]) == ("short", "manual")
    assert build["updated"].startswith("2026-03-06T17:4")


def test_replay_for_a_program(shell: Shell) -> None:
    assert shell.ok("replay", short(COVER), "--json").json == {
        "build": "short",
        "answers": 1,
        "refused": 0,
        "finished": False,
    }


def test_an_answer_that_goes_otherwise_ends_it_with_its_place(shell: Shell) -> None:
    code, out, err = shell("replay", short(f"{FEET}}}", COVER))
    assert (code, out) == (1, "")
    assert err.startswith("answers.yaml:9:5: spec.cover-torque: “72 lbf·ft; leaflet” was refused")
    code, _, err = shell("replay", short(f"{COVER[:-1]}, expect: refused factor}}"))
    assert code == 1
    assert "should be refused with factor; it was taken" in err


def test_an_answers_file_with_mistakes_plays_nothing(shell: Shell) -> None:
    code, out, err = shell("replay", short('  - {at: "a b", say: ""}'))
    assert (code, out) == (1, "")
    assert err.startswith("answers.yaml:9:10: “a b” is not an address")
    assert shell.ok("list", "--json").json == []
    assert shell("replay", "nope.yaml") == (
        1,
        "",
        "nope.yaml: No such file or directory; check the path\n",
    )


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="this system has no such device")
def test_an_answers_file_that_names_an_endless_file_is_refused(shell: Shell) -> None:
    file = Path(short(COVER))
    file.write_text(file.read_text("utf-8").replace(f"engine: {ENGINE}", "engine: /dev/zero"))
    assert shell("replay", file) == (
        1,
        "",
        "/dev/zero: this is no file; check the path\n",
    )


def test_the_demo_replays_whole_as_a_process(shell: Shell) -> None:
    code, out, err = process(shell, "replay", ANSWERS, "--json")
    assert (code, err) == (0, "")
    assert json.loads(out)["finished"] is True
    assert json.loads(out)["build"] == BUILD


def test_the_sheet_is_the_journals_in_both_forms(full: Shell) -> None:
    folder = full.data / "builds" / BUILD
    with reading(folder) as connection:
        records, digest, _ = whole_records(connection, folder.name)
    sheet = sheet_of(plan_of(records), records, digest)
    assert full.ok("sheet", BUILD).out == markdown(sheet)
    assert full.ok("sheet", "barn-pump", "--as", "md").out == markdown(sheet)
    assert full.ok("sheet", "Barn pump six, spring rebuild", "--as=json").out == as_json(sheet)
    assert digest in as_json(sheet)


def test_the_sheet_is_shown_while_the_build_is_open_elsewhere(full: Shell) -> None:
    folder = full.data / "builds" / BUILD
    with Journal.open(folder, owner=Owner.here(person="Ash", since="")):
        assert full.ok("sheet", BUILD).out.startswith("# ")


def test_verify_proves_a_journal_or_says_how_far_it_is_whole(full: Shell) -> None:
    whole = full.ok("verify", BUILD, "--json").json
    assert whole["whole"] is True
    assert whole["problems"] == []
    assert full.ok("verify", BUILD).out == (
        f"{BUILD} is whole: {whole['records']} records\ndigest {whole['digest']}\n"
    )
    journal = full.data / "builds" / BUILD / "journal.sqlite"
    content = bytearray(journal.read_bytes())
    at = content.rindex(b"Wren")
    content[at] ^= 1
    journal.write_bytes(content)
    code, out, err = full("verify", BUILD)
    assert (code, err) == (1, "")
    assert out.endswith("records can be relied on\n")
    damaged = full("verify", BUILD, "--json").json
    assert damaged["whole"] is False
    assert damaged["problems"]
    assert damaged["records"] < whole["records"]
    assert journal.read_bytes() == content


def test_a_backup_is_restored_beside_the_build_or_elsewhere(full: Shell) -> None:
    digest = verify(full.data / "builds" / BUILD).digest
    assert full.ok("backup", BUILD, "pump.snug").out == (
        f"{BUILD} is in pump.snug\ndigest {digest}\n"
    )
    assert full.ok("restore", "pump.snug").out == f"Restored: {BUILD}-2\n"
    assert full.ok("--data", "other", "restore", "pump.snug").out == f"Restored: {BUILD}\n"
    assert verify(Path("other/builds") / BUILD).digest == digest


def test_a_backup_overwrites_nothing_and_needs_a_folder(full: Shell) -> None:
    Path("pump.snug").write_text("mine", "utf-8")
    code, out, err = full("backup", BUILD, "pump.snug")
    assert (code, out) == (1, "")
    assert err == "snugset: pump.snug is there already; choose another name\n"
    assert Path("pump.snug").read_text("utf-8") == "mine"
    assert full("backup", BUILD, "no/pump.snug") == (
        1,
        "",
        "snugset: there is no folder no; make it first\n",
    )


def test_what_is_no_backup_is_not_restored(shell: Shell) -> None:
    assert shell("restore", "nope") == (
        1,
        "",
        "snugset: there is no file nope; give the path of a backup\n",
    )
    assert shell("restore", os.devnull) == (
        1,
        "",
        f"snugset: {os.devnull} is no plain file; give the path of a backup\n",
    )
    Path("bad").write_bytes(b"PK\x03\x04 and nothing more")
    code, out, err = shell("restore", "bad")
    assert (code, out) == (1, "")
    assert err.startswith("snugset: bad cannot be restored: ")
    assert shell.ok("list", "--json").json == []


@pytest.mark.parametrize("command", ["sheet", "verify", "resume"])
def test_an_unknown_build_is_exit_1(full: Shell, command: str) -> None:
    code, out, err = full(command, "barn-pump-six-spring-rebuilt")
    assert (code, out) == (1, "")
    assert err == (
        f"snugset: there is no build “barn-pump-six-spring-rebuilt”; did you mean “{BUILD}” "
        "or “Barn pump six, spring rebuild”?\n"
    )


def test_revise_says_what_stands_and_what_is_done_again(shell: Shell) -> None:
    shell.ok("replay", short(COVER, "  - {at: manual, say: ''}", "  - {at: workplace, say: ''}"))
    shutil.copytree(PROCEDURE.parent / "shared", "shared")
    groups = Path("shared", "studs-and-head.yaml")
    text = groups.read_text("utf-8").replace("- do: workplace", "- do: the-workplace", 1)
    groups.write_text(text, "utf-8")
    shutil.copy(PROCEDURE, "newer.yaml")
    ran = shell.ok(
        "revise", "short", "newer.yaml", "--reason", "a newer leaflet", "--person", "Ash"
    )
    assert ran.out == (
        "Revised: short, with newer.yaml, shared/studs-and-head.yaml\n"
        "1 finished step stands.\n"
        "Done again, or no more: workplace\n"
    )
    (build,) = shell.ok("list", "--json").json
    assert build["step"] == "the-workplace"
    refused = shell("revise", "short", "newer.yaml", "--reason", "again")
    assert refused.code == 1
    assert "nothing is revised" in refused.err
