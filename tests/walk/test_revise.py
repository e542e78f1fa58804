"""Revising a build: what stands, what is done again, what is refused."""

from datetime import timedelta
from pathlib import Path

import pytest

from driving import ENGINE, START
from snugset.bench import Bench
from snugset.guide.apply import fold
from snugset.journal.owner import Owner
from snugset.journal.reading import read_records
from snugset.journal.shelf import Shelf
from snugset.opening import begin, pin, pin_shared
from snugset.play import Paced
from snugset.revising import Revised, revise
from snugset.stored import BuildError, plan_of, texts_of

PROCEDURE = """\
snugset: procedure/1
name: Small
shared: [closing]
figures:
  stages: {kind: torque, form: rising, unit: lbf·ft, ask: Stages?}
  note: {kind: text, ask: What else?}
phases:
  - title: All
    steps:
      - do: first
        say: "{figure.note}"
      - do: second
      - tighten: cover
        group: cover
        stages: stages
      - use: closing
      - do: last
"""
CLOSING = """\
snugset: steps/1
name: Closing
groups:
  closing: [{do: filled}, {do: bled}]
"""
WHO = Owner.here(person="Wren", since="")


class Build:
    """A small build on disk, with its files beside it."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.clock = Paced(START)
        self.procedure = path / "small.yaml"
        self.closing = path / "shared" / "closing.yaml"
        self.engine = path / "engine.yaml"
        self.closing.parent.mkdir()
        self.procedure.write_text(PROCEDURE, "utf-8")
        self.closing.write_text(CLOSING, "utf-8")
        self.engine.write_text(ENGINE.read_text("utf-8"), "utf-8")
        work = pin(self.procedure)
        self.folder = begin(
            Shelf(path / "data"),
            name="Small",
            procedure=work,
            engine=pin(self.engine),
            shared=pin_shared(self.procedure, work),
            specs=None,
            owner=WHO,
            moment=START,
        )
        self.given = ["10, 20 lbf·ft; leaflet", "none of it; me", "", "", "stage", "stage", ""]
        with self.open() as bench:
            for text in self.given:
                self.clock.advance(45)
                bench.say(text)
            assert str(bench.prompt().address) == "bled"  # type: ignore[union-attr]

    def open(self) -> Bench:
        return Bench.open(self.folder, owner=WHO, clock=self.clock, fresh=True)

    def edit(self, file: Path, old: str, new: str) -> None:
        text = file.read_text("utf-8")
        assert old in text
        file.write_text(text.replace(old, new, 1), "utf-8")

    def revise(self, *files: Path, reason: str = "a newer leaflet") -> Revised:
        return revise(self.folder, files, reason=reason, owner=WHO, moment=self.clock())

    @property
    def at(self) -> str:
        with self.open() as bench:
            asked = bench.prompt()
            return str(asked.address) if asked else ""


@pytest.fixture
def build(tmp_path: Path) -> Build:
    return Build(tmp_path)


def test_finished_steps_stand_and_new_ones_are_asked(build: Build) -> None:
    build.edit(build.procedure, "      - do: second\n", "      - do: second\n      - do: between\n")
    found = build.revise(build.procedure)
    assert (found.files, found.voided, found.figures) == (("small.yaml",), (), ())
    assert build.at == "between"


def test_a_step_of_another_kind_or_gone_is_voided_and_named(build: Build) -> None:
    build.edit(build.procedure, "- do: second", "- hold: second")
    build.edit(build.procedure, "- do: first", "- do: begin")
    found = build.revise(build.procedure)
    assert found.voided == ("first", "second")
    assert build.at == "begin"


def test_a_place_that_is_no_more_is_voided(build: Build) -> None:
    build.edit(build.engine, '      "6": {x: 24.25 in, y: 0.75 in}\n', "")
    found = build.revise(build.engine)
    assert found.voided == ("cover@1.6", "cover@2.6")


def test_a_figure_of_another_kind_is_asked_again(build: Build) -> None:
    build.edit(build.procedure, "note: {kind: text,", "note: {kind: choice, choices: [a, b],")
    assert build.revise(build.procedure).figures == ("note",)
    assert build.at == "spec.note"


def test_shared_steps_are_revised_by_their_own_file_or_with_the_procedure(build: Build) -> None:
    build.edit(build.closing, "{do: filled}, ", "{do: look}, ")
    assert build.revise(build.closing).voided == ("filled",)
    assert build.at == "look"
    build.edit(build.closing, "{do: look}, ", "{do: watch}, ")
    assert build.revise(build.procedure).files == ("shared/closing.yaml",)
    assert build.at == "watch"


def test_the_records_still_fold_and_an_answer_before_goes_back(build: Build) -> None:
    build.edit(build.procedure, "- do: second", "- hold: second")
    build.revise(build.procedure)
    with build.open() as bench:
        bench.say("back")
        assert fold(read_records(build.folder)) == bench.state
        assert "second" not in {a.step for a in bench.state.facts}


def test_the_newest_texts_are_the_plan_and_the_first_ones_stay_on_record(build: Build) -> None:
    build.edit(build.procedure, "name: Small", "name: Smaller")
    build.revise(build.procedure, reason="renamed")
    records = list(read_records(build.folder))
    assert plan_of(records).procedure.name == "Smaller"
    assert "name: Small\n" in records[0].body["procedure"]["text"]
    assert records[-1].body["reason"] == "renamed"
    assert "Smaller" in texts_of(records)["procedure"].text


def test_what_does_not_fit_is_refused_and_nothing_is_kept(build: Build) -> None:
    before = len(list(read_records(build.folder)))
    with pytest.raises(BuildError, match="as the build has them"):
        build.revise(build.procedure)
    with pytest.raises(BuildError, match="needs a reason"):
        build.revise(build.procedure, reason=" ")
    build.edit(build.procedure, "do: second", "do: first")
    with pytest.raises(BuildError, match="is given twice"):
        build.revise(build.procedure)
    other = build.path / "other.yaml"
    other.write_text(CLOSING, "utf-8")
    with pytest.raises(BuildError, match="names no shared file other"):
        build.revise(other)
    other.write_text("snugset: specs/1\nfigures: {}\n", "utf-8")
    with pytest.raises(BuildError, match="of the sort specs does not revise"):
        build.revise(other)
    assert len(list(read_records(build.folder))) == before


def test_time_away_is_noticed_after_a_revision_too(build: Build) -> None:
    build.edit(build.procedure, "name: Small", "name: Smaller")
    build.revise(build.procedure)
    build.clock.moment += timedelta(days=2)
    with Bench.open(build.folder, owner=WHO, clock=build.clock) as bench:
        assert str(bench.prompt().address) == "return"  # type: ignore[union-attr]


ANGLED = """\
snugset: procedure/1
name: Angled
figures:
  first: {kind: torque, unit: lbf·ft, ask: First?}
  turn: {kind: angle, unit: deg, ask: Angle?}
phases:
  - title: All
    steps:
      - stages: down
        group: cover
        steps:
          - torque-to: one
            figure: first
          - angle: on
            figure: turn
      - do: last
"""


@pytest.fixture
def angled(build: Build) -> Build:
    build.procedure.write_text(ANGLED, "utf-8")
    work = pin(build.procedure)
    build.folder = begin(
        Shelf(build.path / "angled"),
        name="Angled",
        procedure=work,
        engine=pin(build.engine),
        specs=None,
        owner=WHO,
        moment=START,
    )
    with build.open() as bench:
        for text in ("20 lbf·ft; leaflet", "90 deg; leaflet", "stage", ""):
            build.clock.advance(45)
            bench.say(text)
    return build


def test_an_angle_that_is_given_cannot_be_revised_away(angled: Build) -> None:
    angled.edit(angled.procedure, "angle: on", "angle: onward")
    with pytest.raises(BuildError, match=r"its angle is given at .* never given twice: keep"):
        angled.revise(angled.procedure)
    angled.edit(angled.procedure, "angle: onward", "angle: on")
    angled.edit(angled.procedure, "do: last", "do: end")
    assert angled.revise(angled.procedure).kept


def test_what_a_break_asks_for_cannot_be_renamed_away(angled: Build) -> None:
    angled.clock.advance(2 * 3600)
    with Bench.open(angled.folder, owner=WHO, clock=angled.clock, fresh=False) as bench:
        bench.say("")
        assert str(bench.prompt().address) == "down.marks"  # type: ignore[union-attr]
    angled.edit(angled.procedure, "stages: down", "stages: head")
    with pytest.raises(BuildError, match="in the middle of what a break or a restart asks for"):
        angled.revise(angled.procedure)


def test_a_stage_more_in_the_newer_file_leaves_the_group_below_its_last(angled: Build) -> None:
    with angled.open() as bench:
        angled.clock.advance(45)
        bench.say("stage")
    angled.edit(
        angled.procedure,
        "      - do: last",
        "          - verify: even\n            figure: first\n      - do: last",
    )
    angled.revise(angled.procedure)
    state = fold(read_records(angled.folder))
    assert state.condition.mark("stage", "cover") == "2 of 3"
    assert angled.at == "even#1"


def test_setting_points_are_worked_out_again_for_another_firing_order(tmp_path: Path) -> None:
    build = Build(tmp_path)
    work = PROCEDURE.replace(
        "      - do: last\n",
        "      - turn: one\n        prove: yes\n      - crank: points\n        over: cylinders\n"
        "        steps: [{do: set}]\n      - do: last\n",
    )
    build.procedure.write_text(work, "utf-8")
    build.revise(build.procedure)
    with build.open() as bench:
        for _ in range(4):
            build.clock.advance(45)
            bench.say("")
        assert bench.state.planned
    order = "firing-order: [1, 5, 3, 6, 2, 4]"
    build.edit(build.engine, order, "firing-order: [1, 4, 2, 6, 3, 5]")
    build.revise(build.engine)
    assert not fold(read_records(build.folder)).planned
