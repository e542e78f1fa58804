"""The order list, bench cards, photographs and handovers, from the shell and line by line."""

import json
from base64 import b64encode
from pathlib import Path

import pytest

from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.journal.reading import read_records

from .shell import NEW, Shell, process
from .test_records import BUILD, COVER, short

JPEG = b"\xff\xd8\xff\xe0" + bytes(200)


@pytest.fixture
def build(shell: Shell) -> Path:
    """Give the folder of a build that was begun just now."""
    shell.ok(*NEW, "--name", "Yard six", "--plain", typed="quit\n")
    return shell.data / "builds" / "yard-six"


def test_the_order_list_of_a_finished_build_says_why_nothing_is_on_it(full: Shell) -> None:
    out = full.ok("order", BUILD).out
    assert "Round 2 was accepted: the pushrods stay as they are." in out
    assert max(map(len, out.splitlines())) <= 72
    found = full.ok("order", BUILD, "--json").json
    assert (found["snugset"], found["pushrods"], found["renewals"]) == ("order-list/1", None, [])


def test_the_order_list_is_written_to_a_new_file_only(full: Shell) -> None:
    assert full.ok("order", BUILD, "--to", "list.txt").out == "The order list is in list.txt\n"
    assert Path("list.txt").read_text("utf-8") == full.ok("order", BUILD).out
    again = full("order", BUILD, "--to", "list.txt")
    assert (again.code, again.err) == (
        1,
        "snugset: list.txt: File exists; check that it is there and may be used\n",
    )
    assert full("order", BUILD, "--to", "no/folder.txt").code == 1
    assert full("order", "nothing").code == 1
    assert full("order").code == 2


@pytest.mark.parametrize("form", ["text", "md"])
def test_the_bench_cards_are_shown_and_written(full: Shell, form: str) -> None:
    out = full.ok("cards", BUILD, "--as", form).out
    assert "Stage 3 of 3: 85 lbf·ft = 115 N·m" in out
    full.ok("cards", BUILD, "--as", form, "--to", "cards")
    written = Path("cards").read_text("utf-8")
    assert written.replace("\f", "\n") == out
    assert ("\f" in written) == (form == "text")
    assert full("cards", BUILD, "--as", "pdf").code == 2


def test_they_are_made_while_the_build_is_open_elsewhere(full: Shell) -> None:
    folder = full.data / "builds" / BUILD
    with Journal.open(folder, owner=Owner.here(person="Ash", since="")):
        full.ok("order", BUILD)
        full.ok("cards", BUILD)
        Path("a.jpg").write_bytes(JPEG)
        refused = full("attach", BUILD, "a.jpg")
    assert refused.code == 1
    assert "is open elsewhere, by Ash" in refused.err


def test_a_photograph_is_attached_where_the_build_stands(shell: Shell, build: Path) -> None:
    Path("deck one.jpg").write_bytes(JPEG)
    found = shell.ok("attach", "yard", "deck one.jpg", "--note", "wet [b] ! 'x'", "--json").json
    record = read_records(build)[-1]
    assert record.body["caption"] == "wet [b] ! 'x'"
    assert found["at"] == record.body["at"]
    assert (found["media"], found["size"]) == ("image/jpeg", len(JPEG))
    assert (build / "attachments" / found["name"]).read_bytes() == JPEG
    assert found["digest"] in shell.ok("sheet", "yard").out
    (photo,) = shell.ok("sheet", "yard", "--as", "json").json["photographs"]
    assert (photo["digest"], photo["caption"]) == (found["digest"], "wet [b] ! 'x'")
    page = shell.ok("sheet", "yard", "--as", "html").out
    assert f"data:image/jpeg;base64,{b64encode(JPEG).decode()}" in page
    assert "wet [b] ! &#39;x&#39;" in page
    assert shell.ok("verify", "yard", "--json").json["whole"]
    (build / "attachments" / found["name"]).write_bytes(b"x")
    harmed = shell("verify", "yard")
    assert harmed.code == 1
    assert "is not the photograph that was copied" in harmed.out


def test_a_photograph_at_a_place_of_its_own_and_of_a_finished_build(full: Shell) -> None:
    Path("a.jpg").write_bytes(JPEG)
    assert full.ok("attach", BUILD, "a.jpg", "--at", "lay-gasket", "--json").json["at"] == (
        "lay-gasket"
    )
    assert full.ok("attach", BUILD, "a.jpg", "--json").json["at"] == "finished"
    refused = full("attach", BUILD, "a.jpg", "--at", "nowhere")
    assert (refused.code, "There is no nowhere" in refused.err) == (1, True)
    assert full("attach", BUILD, "a.jpg", "--at", "no address").code == 1
    assert "`finished`" in full.ok("sheet", BUILD).out


def test_where_a_source_is_asked_the_path_is_no_source(shell: Shell, build: Path) -> None:
    Path("a.jpg").write_bytes(JPEG)
    shell.ok("resume", "yard", "--plain", typed=".005\nquit\n")
    assert read_records(build)[-1].kind == "spec"
    shell.ok("attach", "yard", "a.jpg")
    assert [r.kind for r in read_records(build)][-1] == "photograph"


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("gone.jpg", None, "is not there"),
        ("text.jpg", b"text", "is no JPEG, PNG, WebP or HEIC"),
        ("/dev/zero", None, "is no plain file"),
    ],
)
def test_what_is_not_taken_is_said_and_nothing_is_kept(
    shell: Shell, build: Path, name: str, content: bytes | None, words: str
) -> None:
    if content is not None:
        Path(name).write_bytes(content)
    refused = shell("attach", "yard", name)
    assert (refused.code, words in refused.err) == (1, True)
    assert list((build / "attachments").iterdir()) == []


def test_line_by_line_somebody_takes_over_and_photographs(shell: Shell, build: Path) -> None:
    Path("a.jpg").write_bytes(JPEG)
    ran = process(
        shell,
        "resume",
        "yard",
        "--plain",
        typed="person Robin\nphoto a.jpg the deck\nphoto gone.jpg\nnone\nquit\n",
    )
    assert "From here on Robin answers." in ran.out
    assert " · R " in ran.out.partition("From here on")[2]
    assert " · W " not in ran.out
    assert "Copied into the build: image/jpeg" in ran.out
    assert "“gone.jpg” is not there" in ran.out
    kinds = [(r.kind, r.person) for r in read_records(build)]
    assert ("handover", "Robin") in kinds
    assert ("photograph", "Robin") in kinds
    names = [p["initials"] for p in shell.ok("sheet", "yard", "--as", "json").json["people"]]
    assert names == ["W", "R"]


def test_in_an_answers_file_the_path_is_taken_from_the_files_folder(shell: Shell) -> None:
    folder = Path("there")
    folder.mkdir()
    (folder / "a.jpg").write_bytes(JPEG)
    file = Path(
        short(
            COVER,
            '  - {at: manual, say: "photo a.jpg the manual"}',
            '  - {at: manual, say: "photo b.jpg", expect: refused photo-file}',
            "  - {person: Robin}",
            '  - {at: manual, say: ""}',
            '  - {at: workplace, say: "person Robin", expect: refused nobody-else}',
        )
    )
    file.rename(folder / file)
    shell.ok("replay", folder / file)
    build = shell.data / "builds" / "short"
    assert [r.person for r in read_records(build)][-3:] == ["Ash", "Robin", "Robin"]
    assert len(list((build / "attachments").iterdir())) == 1
    shell.ok("backup", "short", "one.snugset")
    assert shell.ok("restore", "one.snugset").code == 0
    assert shell.ok("verify", "short-2").code == 0


def test_a_handover_to_who_answers_already_is_a_mistake_in_an_answers_file(shell: Shell) -> None:
    ran = shell("replay", short(COVER, "  - {person: ash}"))
    assert ran.code == 1
    assert "person ash: ash answers already." in ran.err


def test_what_is_made_names_no_place_of_this_machine(full: Shell) -> None:
    text = full.ok("cards", BUILD).out + full.ok("order", BUILD).out
    assert str(full.data) not in text
    assert json.loads(full.ok("order", BUILD, "--json").out)["engine"]
