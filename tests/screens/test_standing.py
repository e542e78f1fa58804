"""Where a build stands: counted in the step, the stage, the phase and the build."""

import pytest
from textual.content import Content

from snugset.screens.progress import head, progress
from snugset.screens.standing import Count, standing

from .stage import as_looked, at


def test_a_step_is_counted_in_its_own_round() -> None:
    found = as_looked(at("gap@5E#2")).standing
    assert found.step == Count(title="gap", done=3, known=12)
    assert found.stage is None
    assert found.phase is not None
    assert found.phase.title == "Preload"
    assert found.build.known > found.phase.known > 12


def test_a_torque_stage_is_counted_by_itself() -> None:
    found = as_looked(at("head-tighten@2.10")).standing
    assert found.stage == Count(title="stage 2 of 3", done=2, known=14)
    assert found.step == Count(title="head-tighten", done=16, known=42)


def test_each_answer_moves_the_counts_on() -> None:
    before, after = as_looked(at("manual")).standing, as_looked(at("workplace")).standing
    assert after.build.done == before.build.done + 1
    assert after.build.known == before.build.known
    assert before.phase
    assert after.phase
    assert (before.phase.done, after.phase.done) == (0, 1)


def test_every_step_stands_in_the_list_with_its_phase() -> None:
    found = as_looked(at("manual")).standing
    assert ("Before starting", Count(title="manual", done=0, known=1)) in found.steps
    assert sum(count.known for _, count in found.steps) == found.build.known
    assert sum(count.done for _, count in found.steps) == found.build.done


def test_a_finished_build_counts_only_the_whole() -> None:
    told = at("close")
    found = standing(told.plan, (), None)
    assert (found.step, found.stage, found.phase) == (None, None, None)
    assert found.build == Count(title="build", done=0, known=0)
    assert progress(found, 80) == "build 0/0 ╌╌╌╌╌╌╌╌"


@pytest.mark.parametrize("width", [78, 60, 50, 40, 30, 12, 3])
def test_the_lines_over_the_bench_fit_and_keep_the_near_count_longest(width: int) -> None:
    found = as_looked(at("head-tighten@2.10")).standing
    first, second = head(
        "A build with a very long name " * 4, "head-tighten@2.10", found, width
    ).plain.split("\n")
    assert Content(first).cell_length <= width
    assert Content(second).cell_length <= width
    if width >= 50:
        assert first.endswith("… head-tighten@2.10")
        assert second.startswith("stage 2 of 3 2/14 · ")
        assert " · build " in second
