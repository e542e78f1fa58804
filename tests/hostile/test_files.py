"""Files of strangers: a value or mistakes with their places, whatever stands in them."""

import os
import time
from collections.abc import Iterable
from pathlib import Path
from typing import ClassVar

import pytest

from snugset.files.problems import Problems
from snugset.guide.kinds import BLOCKS
from snugset.journal.shelf import Shelf
from snugset.opening import pin, pin_shared
from snugset.plan.plan import Pinned, read_plan
from snugset.play import PlayError, play
from snugset.stored import BuildError
from snugset.trade.sequence import order_faults

from . import mutants
from .checked import Tally, check_mutants, told


@pytest.fixture
def files(tmp_path: Path) -> Path:
    mutants.put(tmp_path, mutants.shipped())
    return tmp_path


def replayed(files: Path, data: Path) -> str:
    """Play the answers file, which must be refused; what is said."""
    with pytest.raises((BuildError, PlayError)) as caught:
        play(files / "answers.yaml", Shelf(data), at_once=True)
    assert not list(data.rglob("journal.sqlite"))
    return str(caught.value)


def spoil(files: Path, name: str, old: str, new: str) -> None:
    path = files / f"{name}.yaml"
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")


@pytest.mark.parametrize("seed", range(3))
def test_mutants_are_read_or_told(seed: int, tmp_path: Path) -> None:
    tally = check_mutants(range(seed * 60, seed * 60 + 60), tmp_path)
    assert isinstance(tally, Tally)
    assert tally.taken < tally.files == 60


@pytest.mark.parametrize(
    ("start", "said"),
    [
        ("0001-01-01T00:00:00+10:00", "the year 1 is not from 1970 to 2199"),
        ("9999-12-31T23:59:59-10:00", "the year 9999 is not"),
        ("2026-13-01T00:00:00Z", "this is not a time"),
    ],
)
def test_a_time_outside_the_calendar(files: Path, start: str, said: str) -> None:
    text = (files / "answers.yaml").read_text("utf-8")
    begun = next(line for line in text.split("\n") if line.startswith("start:"))
    spoil(files, "answers", begun, f"start: {start}")
    assert any(said in each for each in told(files / "answers.yaml"))
    assert said in replayed(files, files / "data")


@pytest.mark.parametrize("line", ["  - wait: 999999999999 d", "  - wait: 9999999 d"])
def test_waits_past_the_end_of_the_calendar(files: Path, line: str) -> None:
    spoil(files, "answers", "answers:\n", f"answers:\n{line}\n")
    with pytest.raises(PlayError, match="this is after the year 9999; shorten the waits"):
        play(files / "answers.yaml", Shelf(files / "data"))


@pytest.mark.parametrize("name", ["procedure", "engine", "specs"])
def test_a_pipe_that_a_file_names_is_not_waited_for(files: Path, name: str) -> None:
    (files / f"{name}.yaml").unlink()
    os.mkfifo(files / f"{name}.yaml")
    assert "this is no file; check the path" in replayed(files, files / "data")


@pytest.mark.parametrize("name", ["answers", "specs", "engine", "procedure"])
@pytest.mark.parametrize("hidden", ["\\0", "\\e[2J", "\\u202e"])
def test_a_hidden_character_is_not_read_over(files: Path, name: str, hidden: str) -> None:
    old = {"answers": "person: ", "specs": "source: ", "engine": "note: ", "procedure": "note: "}
    spoil(files, name, old[name], f'{old[name]}"{hidden}"\n#')
    assert "stands in this text; take it out" in replayed(files, files / "data")


def test_groups_that_use_one_another_without_end(files: Path) -> None:
    chain = "".join(f"  g{n}: [{{use: g{n + 1}}}]\n" for n in range(5000))
    shared = f"snugset: steps/1\nname: x\ngroups:\n{chain}  g5000: [{{do: d}}]\n"
    (files / "shared" / "chain.yaml").write_text(shared, "utf-8")
    (files / "procedure.yaml").write_text(
        "snugset: procedure/1\nname: x\nshared: chain\nphases: [{title: T, steps: [{use: g0}]}]\n",
        "utf-8",
    )
    assert any("nested more than 24 deep" in each for each in told(files / "procedure.yaml"))


def nested(*overs: str, kind: str = "each") -> list[str]:
    """Give what is said of places inside places."""
    steps = "- do: d"
    for number, over in enumerate(reversed(overs)):
        inside = "\n".join(f"    {line}" for line in steps.split("\n"))
        steps = f"- {kind}: e{number}\n  over: {over}\n  steps:\n{inside}"
    whole = "\n".join(f"      {line}" for line in steps.split("\n"))
    into = Problems()
    text = f"snugset: procedure/1\nname: x\nphases:\n  - title: T\n    steps:\n{whole}\n"
    engine = Pinned(file="e", text=mutants.shipped().engine)
    read_plan(Pinned(file="p", text=text), engine, BLOCKS, into)
    return [one.text for one in into.items]


def test_places_inside_places_do_not_multiply() -> None:
    said = "inside places, an each goes over the valves of a cylinder or bridge, nothing else"
    assert any(said in each for each in nested(*["fasteners"] * 9))
    for pair in (("fasteners", "valves"), ("valves", "valves"), ("cylinders", "bridges")):
        assert any(said in each for each in nested(*pair)), pair
    assert nested("cylinders", "valves") == nested("bridges", "valves") == []


def test_a_name_that_leads_elsewhere_makes_no_folder_elsewhere(files: Path) -> None:
    text = (files / "answers.yaml").read_text("utf-8")
    named = next(line for line in text.split("\n") if line.startswith("name:"))
    spoil(files, "answers", named, 'name: "../../../outside/[x]"')
    data = files / "deep" / "down" / "data"
    folder = play(files / "answers.yaml", Shelf(data), stop_before=1).folder
    assert folder.parent == data / "builds"
    assert folder.name == "outside-x"
    assert not list(files.parent.rglob("outside"))


def test_a_shared_name_is_never_a_path(files: Path) -> None:
    procedure = pin(files / "procedure.yaml")
    spoiled = Pinned(
        file=procedure.file,
        text=procedure.text.replace("shared: [", "shared: [../engine, /etc/passwd, ", 1),
    )
    assert spoiled.text != procedure.text
    assert set(pin_shared(files / "procedure.yaml", spoiled)) <= set(mutants.shipped().shared)


def test_a_needs_chain_takes_no_longer_by_its_square(files: Path) -> None:
    steps = "".join(f"      - {{do: d{n}, needs: d{n - 1}}}\n" for n in range(1, 9_900))
    (files / "procedure.yaml").write_text(
        "snugset: procedure/1\nname: x\nphases:\n  - title: T\n    steps:\n"
        f"      - {{do: d0}}\n{steps}",
        "utf-8",
    )
    started = time.process_time()
    assert told(files / "procedure.yaml") == []
    assert time.process_time() - started < 6


@pytest.mark.parametrize("line", ["{at: nowhere%d, say: x}", "{at: manual, refused: wrong%d}"])
def test_of_endless_mistakes_no_near_word_is_looked_for_beyond_those_told(
    files: Path, monkeypatch: pytest.MonkeyPatch, line: str
) -> None:
    looked: list[str] = []

    def counted(word: str, words: Iterable[str], **_more: object) -> list[str]:
        looked.append(word)
        return [] if list(words) else [word]

    monkeypatch.setattr("difflib.get_close_matches", counted)
    head = (files / "answers.yaml").read_text("utf-8").split("answers:")[0]
    lines = "".join(f"  - {line % number}\n" for number in range(5_000))
    (files / "answers.yaml").write_text(f"{head}answers:\n{lines}", "utf-8")
    problems = told(files / "answers.yaml")
    assert 0 < len(looked) <= 200
    assert len(problems) == 200
    assert sum(each.count("the list ends here") for each in problems) == 1


def test_an_order_of_one_place_over_and_over_is_gone_through_once() -> None:
    class Key(str):
        __slots__ = ()
        compared: ClassVar[int] = 0

        def __eq__(self, other: object) -> bool:
            Key.compared += 1
            return str.__eq__(self, other)

        __hash__ = str.__hash__

    many = 5_000
    faults = order_faults([Key("1") for _ in range(many)], {"1": None})
    assert len(faults.repeated) == many - 1
    assert Key.compared <= 5 * many
