"""A build on disk: kept before it is shown, the same bytes from the same answers."""

import hashlib
import os
import signal
import subprocess
import sys
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from driving import ANSWERS, ENGINE, PROCEDURE, SPECS, START, demo_answers, table
from snugset.bench import Bench
from snugset.files.answers import Person, Say, Wait
from snugset.guide.apply import fold
from snugset.guide.ruling import Refusal
from snugset.journal.errors import JournalError
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.journal.reading import read_records, verify
from snugset.journal.shelf import Shelf
from snugset.opening import begin, pin, pin_shared
from snugset.plain import sit
from snugset.plan.plan import Pinned
from snugset.play import Paced, play
from snugset.stored import BuildError, head_of
from snugset.trade.calculators import CALCULATORS

OWNER = Owner.here(person="Wren", since="")


def _begin(shelf: Shelf, name: str = "Test six") -> Path:
    return begin(
        shelf,
        name=name,
        procedure=pin(PROCEDURE),
        shared=pin_shared(PROCEDURE, pin(PROCEDURE)),
        engine=pin(ENGINE),
        specs=pin(SPECS),
        owner=OWNER,
        moment=START,
    )


def _bytes(folder: Path) -> str:
    return hashlib.sha256((folder / "journal.sqlite").read_bytes()).hexdigest()


def test_replay_keeps_the_whole_build_on_the_shelf(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path)
    played = play(ANSWERS, shelf)
    assert played.finished
    assert played.refused == 5
    checked = verify(played.folder)
    assert checked.whole
    assert checked.records == len(read_records(played.folder))
    (entry,) = shelf.builds()
    assert entry.head is not None
    assert (entry.head.step, entry.head.waiting_for) == ("finished", "")


def test_the_same_answers_give_the_same_bytes_by_replay_and_by_plain(tmp_path: Path) -> None:
    one = play(ANSWERS, Shelf(tmp_path / "one"))
    two = play(ANSWERS, Shelf(tmp_path / "two"))
    assert _bytes(one.folder) == _bytes(two.folder)
    third = _by_plain(Shelf(tmp_path / "three"))
    assert read_records(third) == read_records(one.folder)
    assert _bytes(third) == _bytes(one.folder)


def _by_plain(shelf: Shelf) -> Path:
    """Type the demo's answers at the line-by-line front end, going away where the file waits."""
    answers = demo_answers()
    clock = Paced(answers.start)
    folder = begin(
        shelf,
        name=answers.name,
        procedure=pin(PROCEDURE),
        shared=pin_shared(PROCEDURE, pin(PROCEDURE)),
        engine=pin(ENGINE),
        specs=pin(SPECS),
        owner=OWNER,
        moment=clock(),
    )
    left = list(answers.answers)
    shown: list[str] = []

    def ask(_cue: str) -> str:
        if not left or isinstance(left[0], Wait):
            raise EOFError
        entry = left.pop(0)
        assert isinstance(entry, Say)
        clock.advance(answers.pace.number("s"))
        asked = bench.prompt()
        assert asked is not None
        return entry.text if str(asked.address) == entry.at else f"@{entry.at} {entry.text}"

    fresh = True
    while left:
        if isinstance(left[0], Wait):
            clock.advance(left[0].time.number("s"))
            left.pop(0)
        assert not left or not isinstance(left[0], Person)
        with Bench.open(folder, owner=OWNER, clock=clock, fresh=fresh) as bench:
            fresh = False
            sit(bench, ask, shown.append)
    assert any("The build is finished" in line for line in shown)
    return folder


def test_nothing_is_made_when_the_spec_sheet_does_not_read(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path)
    bad = Pinned(file="specs.yaml", text=SPECS.read_text().replace("0.005 in", "0.005 lbf·ft", 1))
    with pytest.raises(BuildError, match=r"specs.yaml:\d+:\d+: "):
        begin(
            shelf,
            name="x",
            procedure=pin(PROCEDURE),
            shared=pin_shared(PROCEDURE, pin(PROCEDURE)),
            engine=pin(ENGINE),
            specs=bad,
            owner=OWNER,
            moment=START,
        )
    assert shelf.builds() == ()


def test_a_second_opening_is_told_who_has_it(tmp_path: Path) -> None:
    folder = _begin(Shelf(tmp_path))
    clock = Paced(START)
    with (
        Bench.open(folder, owner=OWNER, clock=clock, fresh=True),
        pytest.raises(JournalError, match="open elsewhere, by Wren"),
    ):
        Bench.open(folder, owner=OWNER, clock=clock)


def test_opening_again_keeps_that_there_was_a_break_before_anything_is_asked(
    tmp_path: Path,
) -> None:
    folder = _begin(Shelf(tmp_path))
    clock = Paced(START)
    with Bench.open(folder, owner=OWNER, clock=clock, fresh=True) as bench:
        bench.say("72 lbf·in; leaflet")
    clock.advance(9 * 86400)
    with Bench.open(folder, owner=OWNER, clock=clock) as bench:
        asked = bench.prompt()
        assert asked is not None
        assert str(asked.address) == "return"
        assert read_records(folder)[-1].kind == "came-back"


def test_half_an_hour_without_an_answer_counts_as_a_break(tmp_path: Path) -> None:
    folder = _begin(Shelf(tmp_path))
    clock = Paced(START)
    with Bench.open(folder, owner=OWNER, clock=clock, fresh=True) as bench:
        bench.say("72 lbf·in; leaflet")
        clock.advance(29 * 60)
        bench.say("")
        asked = bench.prompt()
        assert asked is not None
        assert str(asked.address) == "workplace"
        clock.advance(31 * 60)
        bench.say("")
        asked = bench.prompt()
        assert asked is not None
        assert str(asked.address) == "return"
        assert bench.state.breaks[-1].gap == 31 * 60


def test_a_failed_write_acknowledges_nothing_and_can_be_tried_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = _begin(Shelf(tmp_path))
    with Bench.open(folder, owner=OWNER, clock=Paced(START), fresh=True) as bench:
        before = bench.state

        def full(*_: object) -> None:
            raise JournalError("disk", "the disk is full")

        with monkeypatch.context() as patch:
            patch.setattr(bench.journal, "append", full)
            with pytest.raises(JournalError, match="full"):
                bench.say("72 lbf·in; leaflet")
        assert bench.state is before
        assert not isinstance(bench.say("72 lbf·in; leaflet"), Refusal)
        assert "cover-torque" in bench.state.specs


def test_line_by_line_an_answer_that_cannot_be_kept_is_held_for_another_try(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = _begin(Shelf(tmp_path))
    shown: list[str] = []
    typed = iter(["72 lbf·in; leaflet", f"copy {tmp_path}/stick", "", "note x", "quit"])
    fails = [True, True, False, True]
    commit = Journal._commit

    def failing(journal: Journal, *given: object) -> None:
        if fails and fails.pop(0):
            raise JournalError("disk", "the disk is full")
        commit(journal, *given)  # type: ignore[arg-type]

    with Bench.open(folder, owner=OWNER, clock=Paced(START), fresh=True) as bench:
        before = len(bench.records)
        monkeypatch.setattr(Journal, "_commit", failing)
        with pytest.raises(JournalError, match="full"):
            sit(bench, lambda _cue: next(typed), shown.append, patient=True)
        assert len(bench.records) == before + 1
        assert bench.state.specs["cover-torque"].source == "leaflet"
    said = "\n".join(shown)
    assert said.count("✗ Not kept: the disk is full.") == 2
    assert "Enter tries “72 lbf·in; leaflet” again; copy FILE copies the build." in said
    assert "✗ Not copied: the disk is full." in said


CHILD = """
import sys
from pathlib import Path
sys.path.insert(0, {tests!r})
from driving import demo_answers
from snugset.bench import Bench
from snugset.files.answers import Say, Wait
from snugset.guide.address import Address
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.play import Paced
answers = demo_answers()
clock = Paced(answers.start)
owner = Owner.here(person="Wren", since="")
with Bench.open(Path({folder!r}), owner=owner, clock=clock, fresh=True) as bench:
    for entry in answers.answers:
        if isinstance(entry, Wait):
            clock.advance(entry.time.number("s"))
            bench.came_back()
        elif isinstance(entry, Say):
            clock.advance(45)
            bench.say(entry.text, at=Address.parse(entry.at))
        print(bench.state.sequence, flush=True)
"""


@pytest.mark.parametrize("after", [1, 30, 120, 200, 260])
def test_killed_at_any_moment_it_stands_where_the_last_acknowledged_answer_left_it(
    tmp_path: Path, after: int
) -> None:
    folder = _begin(Shelf(tmp_path))
    code = CHILD.format(tests=str(Path(__file__).parent.parent), folder=str(folder))
    with subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout is not None
        acknowledged = 0
        for _ in range(after):
            acknowledged = int(child.stdout.readline())
        os.kill(child.pid, signal.SIGKILL)
        more = child.stdout.read().split()
    acknowledged = max([acknowledged, *map(int, more[:-1] if more else [])])
    records = read_records(folder)
    assert len(records) >= acknowledged
    assert verify(folder).whole
    clock = Paced(datetime.fromisoformat(records[-1].at) + timedelta(days=9))
    with Bench.open(folder, owner=OWNER, clock=clock) as bench:
        assert bench.records[: len(records)] == list(records)
        assert bench.state == fold(bench.records)
        assert bench.state.condition.crank is None
        asked = bench.prompt()
        assert asked is not None
        assert str(asked.address) == "return"


def test_line_by_line_what_stays_in_metal_is_said_before_it_is_taken_back(tmp_path: Path) -> None:
    told = table().until("head-tighten@2.3")
    folder = Shelf(tmp_path).new_folder("six")
    head = head_of(told.plan, told.state, told.now)
    Journal.create(folder, owner=OWNER, records=told.records, head=head).close()
    typed = iter(["back", "back"])
    shown: list[str] = []
    asked: list[str] = []

    def ask(_cue: str) -> str:
        asked.append(str(bench.state.sequence))
        found = next(typed, None)
        if found is None:
            raise EOFError
        return found

    with Bench.open(folder, owner=OWNER, clock=lambda: told.now, fresh=True) as bench:
        sit(bench, ask, shown.append)
        prompt = bench.prompt()
    assert prompt is not None
    assert str(prompt.address) == "head-tighten@2.5"
    words = " ".join(" ".join(shown).split())
    first, after = words.split("Took back", 1)
    assert "! Still so in metal: 2.5 has 60 lbf·ft" in first
    assert "Type back once more to take it back" in first
    assert "Still so in metal" not in after
    assert asked[0] == asked[1] != asked[2]


def test_words_that_only_show_keep_nothing_and_ask_the_same_again(tmp_path: Path) -> None:
    told = table().until("points.turn@P2#1")
    folder = Shelf(tmp_path).new_folder("six")
    head = head_of(told.plan, told.state, told.now)
    Journal.create(folder, owner=OWNER, records=told.records, head=head).close()
    typed = iter(
        [
            "crank",
            "figure",
            "figure wrench",
            'figure thread "thread=7/16-20"',
            "figure wrench sets",
            "figure wronch sets=1",
            "figure 'wrench",
        ]
    )
    shown: list[str] = []

    def ask(_cue: str) -> str:
        found = next(typed, None)
        if found is None:
            raise EOFError
        shown.append(f"> {found}")
        return found

    with Bench.open(folder, owner=OWNER, clock=lambda: told.now, fresh=True) as bench:
        before = bench.state
        sit(bench, ask, shown.append)
        assert bench.state is before
    words = " ".join(" ".join(shown).split()).split("> ")[1:]
    assert "past the mark" in words[0]
    assert "May be set now" in words[0]
    for name in CALCULATORS:
        assert f"{name}: " in words[1]
    assert "Such as: figure wrench " in words[2]
    assert words[3].count("= ") >= 1
    assert "Source: " in words[3]
    assert words[4].count("✗ Give each as key=value") == 1
    assert "did you mean" in words[5]
    assert "✗" in words[6]


def test_where_any_words_are_an_answer_no_line_shows_something_instead(tmp_path: Path) -> None:
    told = table(specs=False)
    told.taken("0.005 in")
    folder = Shelf(tmp_path).new_folder("six")
    head = head_of(told.plan, told.state, told.now)
    Journal.create(folder, owner=OWNER, records=told.records, head=head).close()
    typed = iter(["figure 4, p. 2", "quit"])
    with Bench.open(folder, owner=OWNER, clock=lambda: told.now, fresh=True) as bench:
        sit(bench, lambda _cue: next(typed), lambda _line: None)
        assert bench.state.specs["head-flatness"].source == "figure 4, p. 2"
