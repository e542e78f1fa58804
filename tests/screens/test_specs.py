"""The spec sheet: value, source, assumption; echo and guard as it is typed; given again."""

import pytest
from textual.widgets import OptionList

from driving import START, table
from snugset.guide.walk import occurrences
from snugset.journal.errors import JournalError
from snugset.journal.journal import Journal
from snugset.screens.desk import Desk
from snugset.screens.specs import SpecsScreen, row
from snugset.values import replace

from .stage import Player, Stage, playing


def desk(player: Player) -> Desk:
    """Give the desk of the sheet that is shown."""
    assert isinstance(player.app.screen, SpecsScreen)
    return player.app.screen.desk


def desk_rows(player: Player) -> dict[str, str]:
    """Give each row of the sheet, seen or not, by its figure."""
    found = player.app.screen.query_one(OptionList)
    rows = (found.get_option_at_index(at) for at in range(found.option_count))
    return {row.id or "": str(row.prompt) for row in rows}


async def sheet(player: Player, name: str) -> None:
    """Open the sheet with a figure marked."""
    figures = player.look.plan.procedure.figures
    await player.press("f8")
    for _ in range(list(figures).index(name)):
        await player.press("down")


async def test_each_figure_shows_value_source_and_assumption(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await player.press("f8")
        shown = player.words
        specs = desk(player).look.state.specs
        had = sum(spec.had for spec in specs.values())
        told = desk(player).look
        asked = {
            found.step.id
            for found in occurrences(told.plan, told.state, START)
            if found.step.id.startswith("spec.")
        }
        assert 0 < len(asked) < len(told.plan.figure_steps), "this engine has no liners"
        assert f"Spec sheet · {had} of {len(asked)} figures had" in shown
        lines = desk_rows(player)
        assert [n for n, line in lines.items() if "not for this build" in line] == [
            name for name in told.plan.procedure.figures if f"spec.{name}" not in asked
        ]
        assert "head-flatness 0.005 in = 0.127 mm" in shown
        assert "from engine maker's leaflet (invented), p. 3" in shown
        assert "head-stages 30, 60, 85 lbf·ft" in shown
        assert "p. 4 · assumes engine oil" in shown
        assert "How far out of flat may the head's face be, at most?" in shown
        assert "Without it: The head's flatness is written down without a verdict." in shown
        await player.press("escape")
        await sheet(player, "nut-scatter")
        assert "nut-scatter I don't have it" in player.words


async def test_what_is_typed_is_echoed_in_both_systems_live(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await sheet(player, "head-flatness")
        await player.press("enter", "ctrl+u")
        await player.type(".00")
        assert "0.004 in" not in player.words
        await player.type("4")
        assert "→ head-flatness: 0.004 in = 0.102 mm" in player.words


async def test_a_figure_is_given_again_with_its_source(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await sheet(player, "head-flatness")
        await player.press("enter", "ctrl+u")
        await player.type("0.1 mm")
        await player.press("enter", "ctrl+u")
        await player.type("shop manual; p. 9")
        await player.press("enter")
        assert "head-flatness 0.1 mm = 3.9 thou" in player.words
        assert "from shop manual, p. 9" in player.words
        spec = desk(player).look.state.specs["head-flatness"]
        assert (spec.typed, spec.source) == ("0.1 mm", "shop manual, p. 9")
        await player.press("escape")
        assert player.asked == "manual"


async def test_what_a_figure_assumes_is_asked_with_it(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await sheet(player, "rocker-torque")
        await player.press("enter")
        assert "Threads dry, or with which lubricant?" in player.words
        await player.press("enter", "enter", "ctrl+u")
        await player.type("moly paste")
        await player.press("enter")
        assert "assumes moly paste" in player.words


async def test_a_unit_slip_is_guarded_live_and_can_be_gone_against(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await sheet(player, "head-flatness")
        await player.press("enter", "ctrl+u")
        await player.type("4")
        assert "✗" in player.words
        assert "Type: 4 thou" in player.words
        await player.press("enter", "enter")
        assert player.field("value").value == "4"
        await player.press("f6")
        assert "Go on all the same, because …" in player.words
        await player.type("a very long straightedge")
        await player.press("enter")
        assert "head-flatness 4 in = 101.6 mm" in player.words
        (override,) = desk(player).look.state.overrides
        assert override.reason == "a very long straightedge"


async def test_what_follows_from_another_figure_is_said_as_it_is_typed(there: Stage) -> None:
    async with playing(there.at("gap@4I#1")) as player:
        await sheet(player, "preload-window")
        await player.press("enter", "ctrl+u")
        await player.type("0.020..0.090 in")
        assert "Round 1 is judged by the new figure." in player.words


async def test_i_dont_have_it_says_what_follows_before_it_is_kept(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        before = player.look
        await sheet(player, "head-flatness")
        await player.press("f5")
        shown = player.words
        assert "→ head-flatness: not had. The head's flatness is written down" in shown
        assert desk(player).look is before
        await player.press("enter")
        assert "head-flatness I don't have it" in player.words
        await player.press("escape")
        assert not player.look.state.specs["head-flatness"].had


async def test_a_figure_that_must_be_had_is_refused(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await sheet(player, "head-stages")
        await player.press("f5", "enter")
        assert "✗ The work cannot be done without this figure" in player.words
        await player.press("escape")
        assert desk(player).look.state.specs["head-stages"].had


async def test_a_choice_is_given_by_its_number(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await sheet(player, "lifter-state")
        await player.press("enter", "ctrl+u")
        assert "one of: 1 dry, 2 filled" in player.words
        await player.type("2")
        assert "→ lifter-state: filled" in player.words
        await player.press("enter", "enter")
        assert "lifter-state filled" in player.words


async def test_the_figure_that_is_asked_now_can_be_given_on_the_sheet(there: Stage) -> None:
    async with playing(there.at("spec.cover-torque")) as player:
        await sheet(player, "cover-torque")
        await player.press("enter")
        await player.type("72")
        assert "→ cover-torque: 72 lbf·in = 8.13 N·m" in player.words
        await player.press("enter")
        await player.type("leaflet")
        await player.press("enter", "escape")
        assert player.asked == "manual"


async def test_a_figure_whose_turn_has_not_come_says_so(there: Stage) -> None:
    folder = there.put(table(specs=False))
    async with playing(there.app(there.opening(folder))) as player:
        await sheet(player, "cover-torque")
        await player.press("enter")
        assert "cover-torque is asked for in its turn" in player.words
        await player.press("f5")
        assert "cover-torque is asked for in its turn" in player.words
        await player.press("escape")
        assert player.asked == "spec.head-flatness"


async def test_escape_leaves_the_form_first_and_keeps_nothing(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        before = player.look
        await sheet(player, "head-flatness")
        await player.press("enter", "ctrl+u")
        await player.type("4")
        await player.press("escape")
        assert isinstance(player.app.screen, SpecsScreen)
        assert "head-flatness 0.005 in" in player.words
        await player.press("escape")
        assert player.look is before


async def test_a_figure_that_the_disk_does_not_take_stays_in_the_form(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with playing(there.at("manual")) as player:
        await sheet(player, "head-flatness")
        await player.press("enter", "ctrl+u")
        await player.type(".004")

        def full(*_: object) -> None:
            raise JournalError("disk", "the disk is full")

        with monkeypatch.context() as patch:
            patch.setattr(Journal, "append", full)
            await player.press("enter", "enter")
        assert "✗ Not kept: the disk is full." in player.words
        assert player.field("value").value == ".004"
        await player.press("enter")
        assert "head-flatness 0.004 in" in player.words


def test_a_long_row_is_folded_below_itself() -> None:
    told = table().until("manual")
    spec = told.state.specs["cam-run-in"]
    long = replace(spec, source="camshaft card, the page after the lift curve, left column")
    rows = row("cam-run-in", long, width=60).plain.split("\n")
    assert rows[0].startswith("cam-run-in           half an hour above")
    assert all(line.startswith(" " * 21) for line in rows[1:2])
    assert rows[-1].startswith(" " * 8)
    assert max(map(len, rows)) <= 60
