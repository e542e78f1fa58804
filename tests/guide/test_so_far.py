"""A stage counted: so many are done so far; and the figure of a prompt that is shown large."""

from datetime import timedelta

import pytest

from driving import small, table
from snugset.guide.prompt import Large

from .test_stages import ENGINE, FIGURES, SPECS, STEPS


def test_a_count_closes_so_many_of_the_stage_in_its_order() -> None:
    at = table().until("head-tighten@1.11")
    order = at.plan.engine.fasteners["head"].order
    said = at.taken("stage 5").said
    assert said == ("Stage 1 of 3, 30 lbf·ft: 5 of 14 done.",)
    assert at.at == f"head-tighten@1.{order[5]}"
    assert at.taken("stage 13").said == ("Stage 1 of 3, 30 lbf·ft: 13 of 14 done.",)
    assert at.taken("stage 14").said == ("Stage 1 of 3, 30 lbf·ft: every fastener done.",)
    assert at.state.condition.mark("stage", "head") == "1 of 3"
    assert at.at == f"head-tighten@2.{order[0]}"
    at.taken("back")
    assert at.at == f"head-tighten@1.{order[13]}"


@pytest.mark.parametrize(
    "typed", ["stage 3", "stage 0", "stage 15", "stage 9999", "stage five", "stage -1", "stage ²"]
)
def test_a_count_that_cannot_be_is_refused(typed: str) -> None:
    at = table().until("head-tighten@1.11")
    at.taken("stage 3")
    refused = at.refused(typed)
    assert refused.code == "count"
    assert "3 of the 14 in this stage are done already" in refused.words
    assert "4 to 14" in refused.words


def test_a_count_that_cannot_be_is_told_before_any_rule() -> None:
    at = table().until("head-tighten@1.11")
    at.now += timedelta(hours=9)
    assert at.refused("stage").code == "sealant"
    assert at.refused("stage 99").code == "count"
    assert at.refused("stage 99 ! it is fine").code == "count"


@pytest.mark.parametrize("typed", ["5", "stage five times"])
def test_what_is_no_count_is_no_stage(typed: str) -> None:
    assert table().until("head-tighten@1.11").refused(typed).code == "tick"


def test_each_sort_of_stage_is_counted_and_shows_its_figure_large() -> None:
    at = small(STEPS, figures=FIGURES, specs=SPECS, engine=ENGINE)
    at.taken("")
    seen: dict[str, Large | None] = {}
    while at.at != "last":
        kind = at.asked.address.step
        seen.setdefault(kind, at.asked.large)
        if kind == "even":
            at.taken("0")
        elif kind == "one" and at.asked.address.place == "2":
            assert at.taken("stage 2").said == ("one, 30 lbf·ft: 2 of 4 done.",)
        elif kind == "quarter" and at.asked.address.place == "4":
            assert at.taken("stage 2").said == ("quarter, 90 deg: 2 of 3 done.",)
        elif kind == "free" and at.asked.address.place == "2":
            assert at.taken("stage 3").said == ("free, 1 turn: 3 of 4 done.",)
        else:
            at.taken("stage")
    assert seen == {
        "one": Large(does="set to", value="30", unit="lbf·ft"),
        "fronts": Large(does="set to", value="20", unit="lbf·ft"),
        "free": Large(does="loosen", value="1", unit="turn"),
        "two": Large(does="set to", value="45", unit="lbf·ft"),
        "even": Large(does="set to", value="45", unit="lbf·ft"),
        "quarter": Large(does="turn it on", value="90°", unit=""),
        "reached": Large(does="at least", value="60", unit="lbf·ft"),
    }


def test_a_torque_is_shown_large_in_the_unit_of_the_wrench() -> None:
    metric = SPECS.replace("10..100 lbf·ft", "10..100 N·m")
    at = small(STEPS, figures=FIGURES, specs=metric, engine=ENGINE)
    at.taken("")
    assert at.asked.large == Large(does="set to", value="40.67", unit="N·m")


def test_loosening_all_again_is_counted_too() -> None:
    at = small(STEPS, figures=FIGURES, specs=SPECS, engine=ENGINE)
    for typed in ("", "stage", "restart ! dropped one"):
        at.taken(typed)
    assert at.at.startswith("head.loosen@")
    before = at.at
    at.taken("stage 2")
    assert at.at.startswith("head.loosen@")
    assert at.at != before
    assert at.refused("stage 2").code == "count"


def test_a_gap_shows_its_window_and_a_setting_point_its_aim() -> None:
    at = table().until("gap@4I#1")
    assert at.asked.large == Large(does="between", value="20-60", unit="thou")
    turn = table().until("points.turn@P2#1")
    large = turn.asked.large
    assert large is not None
    point = turn.state.planned["points"].points[1]
    assert large.value == f"{point.aim % 360:.0f}°"
    assert large.unit == "past the mark"
