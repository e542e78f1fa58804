"""The calculators: found by typing, forms from their declarations, results noted in the build."""

import pytest
from textual.widgets import OptionList

from snugset.journal.errors import JournalError
from snugset.journal.journal import Journal
from snugset.screens.base import Plain
from snugset.screens.bench import BenchScreen
from snugset.screens.builds import BuildsScreen
from snugset.screens.calculators import found
from snugset.screens.doors import Doors
from snugset.screens.figure import FigureScreen
from snugset.trade.calculators import CALCULATORS, GROUPS, shown_with_doubt
from snugset.trade.fault import FigureError

from .stage import SIZES, Player, Stage, playing


async def opened(player: Player, name: str) -> FigureScreen:
    """Open a calculator by its name; that the list follows each letter has a test of its own."""
    await player.press("ctrl+f")
    await player.paste(name)
    await player.press("enter")
    screen = player.app.screen
    assert isinstance(screen, FigureScreen), screen
    assert screen.calculator.name == name
    return screen


async def fill(player: Player, key: str, typed: str) -> None:
    """Type into a field in place of what stands there."""
    player.field(f"in-{key}").focus()
    await player.press("end", "ctrl+u")
    await player.paste(typed)


def said(player: Player) -> str:
    """Give what stands under the fields and in the result, in one line, seen or not."""
    screen = player.app.screen
    assert isinstance(screen, FigureScreen)
    return " ".join(" ".join(str(part.render()) for part in screen.query(Plain)).split())


async def test_every_calculator_stands_in_the_list_under_what_it_is_for(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await player.press("ctrl+f")
        shown = player.app.screen.query_one(OptionList)
        rows = [shown.get_option_at_index(at) for at in range(shown.option_count)]
        assert [row.id for row in rows if row.id] == list(CALCULATORS)
        assert [str(row.prompt) for row in rows if row.disabled] == list(GROUPS)


@pytest.mark.parametrize(
    ("typed", "first"),
    [("shim", "shift"), ("cold lash", "lash"), ("wrench", "wrench"), ("nut factor", "clamp")],
)
def test_a_calculator_is_found_by_any_of_its_words(typed: str, first: str) -> None:
    assert first in [one.name for some in found(typed).values() for one in some]


async def test_typing_leaves_those_that_fit_and_marks_the_one_of_that_name(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await player.press("ctrl+f")
        await player.type("thread")
        shown = player.app.screen.query_one(OptionList)
        assert shown.highlighted_option is not None
        assert shown.highlighted_option.id == "thread"
        assert "reread" not in player.picture
        await player.type("zzz")
        assert "No calculator has these words" in player.picture
        await player.press("enter", "escape")
        assert "reread" in player.picture


async def test_one_key_there_and_one_key_back_from_the_bench(there: Stage) -> None:
    async with playing(there.at("gap@4E#1")) as player:
        await player.type("40+")
        await player.press("ctrl+f")
        assert "Calculators · 20" in player.picture
        await player.press("ctrl+f")
        assert player.typed == "40+"
        await opened(player, "thread")
        await player.press("ctrl+f")
        assert isinstance(player.app.screen, BenchScreen)
        assert player.typed == "40+"


async def test_from_the_builds_without_a_build(there: Stage) -> None:
    async with playing(there.app()) as player:
        screen = await opened(player, "thread")
        await player.press("f4")
        assert "There is no result" in player.words or "No build is open" in player.words
        await player.press("f2")
        assert screen.result is not None
        await player.press("f4")
        assert "No build is open to note it in." in player.words
        await player.press("ctrl+f")
        assert isinstance(player.app.screen, BuildsScreen)


async def test_each_form_takes_its_worked_example_and_gives_what_is_declared(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        for name, declared in CALCULATORS.items():
            screen = await opened(player, name)
            await player.press("f2")
            assert screen.result is not None, player.picture
            assert screen.texts == dict(declared.example.inputs), name
            for key, expected in declared.example.outputs.items():
                assert shown_with_doubt(screen.result.outputs[key]).startswith(expected), name
            every = " ".join(str(screen.query_one("#came").render()).split())
            assert all(" ".join(line.split()) in every for line in screen.result.working), name
            assert f"Source: {declared.source}" in every
            await player.press("ctrl+f")


@pytest.mark.parametrize("size", SIZES)
async def test_every_field_can_be_reached_and_is_seen_whole(
    there: Stage, size: tuple[int, int]
) -> None:
    async with playing(there.at("manual"), size) as player:
        screen = await opened(player, "compression")
        for one in screen.calculator.inputs:
            assert player.app.focused is player.field(f"in-{one.key}")
            assert f"{one.key}: " in player.picture
            await player.press("enter")
        assert player.app.focused is player.field("in-bore")
        await player.press("up")
        assert player.app.focused is player.field("in-deck_cut")
        assert "deck_cut: " in player.picture


async def test_a_form_opens_with_its_first_field_in_sight(there: Stage) -> None:
    async with playing(there.at("gap@4E#1")) as player:
        for name in CALCULATORS:
            screen = await opened(player, name)
            first = screen.calculator.inputs[0].key
            assert player.app.focused is player.field(f"in-{first}"), name
            assert f" {first}: " in player.picture
            await player.press("ctrl+f")


async def test_a_value_is_echoed_in_both_systems_and_a_slip_of_unit_stopped(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await opened(player, "rim")
        await fill(player, "diameter", "7.5")
        assert "= 7.5 in = 190.5 mm" in said(player)
        await fill(player, "diameter", "190")
        assert "✗ 190 in is outside the plausible 2 to 40 in" in said(player)
        assert "190 mm" in said(player)
        await fill(player, "diameter", "190 mm")
        assert "= 190 mm = 7.4803 in" in said(player)


async def test_each_mistake_stands_beside_its_own_field_and_nothing_is_lost(there: Stage) -> None:
    async with playing(there.at("manual"), (160, 48)) as player:
        await opened(player, "wrench")
        await fill(player, "torque", "thirty")
        await fill(player, "range", "9")
        await fill(player, "angle", "45")
        picture = player.picture
        assert picture.count("✗") == 3  # two fields, and what is to be put right
        assert "✗ To be put right: torque, range" in picture
        assert "= 45 deg" in picture
        assert player.field("in-torque").value == "thirty"


async def test_what_the_build_has_is_offered_and_says_where_it_is_from(there: Stage) -> None:
    async with playing(there.at("gap@4E#1"), (160, 48)) as player:
        screen = await opened(player, "pushrods")
        assert screen.result is not None, player.picture
        words = said(player)
        for origin in (
            "the readings of round 1",
            "preload-window on the spec sheet",
            "pushrod-catalogue on the spec sheet",
        ):
            assert f"from {origin}" in words
        await fill(player, "window", "20..70")
        assert "from preload-window" not in said(player)
        await player.press("f3")
        assert "from preload-window on the spec sheet" in said(player)


async def test_typing_goes_over_what_was_filled_in_and_behind_what_was_typed(there: Stage) -> None:
    async with playing(there.at("gap@4E#1"), (160, 48)) as player:
        screen = await opened(player, "pushrods")
        keys = [one.key for one in screen.calculator.inputs]
        for _ in range(keys.index("window")):
            await player.press("enter")
        assert player.field("in-window").has_focus
        assert player.field("in-window").value
        await player.type("20..70")
        assert player.field("in-window").value == "20..70"
        await player.press("down", "up")
        await player.type(" thou")
        assert player.field("in-window").value == "20..70 thou"
        await player.press("f2", "f3")
        await player.type("9")
        assert player.field("in-window").value == "9", "what F3 fills in is typed over too"
        await fill(player, "most", "2")
        await player.press("f3", "enter")
        player.field("in-most").focus()
        await player.settled()
        await player.type("4")
        assert player.field("in-most").value == "24", "what was typed is gone on with"


async def test_a_form_with_nothing_typed_has_nothing_wrong(there: Stage) -> None:
    async with playing(there.app()) as player:
        for name in CALCULATORS:
            await opened(player, name)
            assert "✗" not in player.words, name
            await player.press("ctrl+f")


async def test_what_stands_in_for_a_figure_not_had_is_called_so(there: Stage) -> None:
    async with playing(there.at("manual"), (160, 48)) as player:
        await opened(player, "clamp")
        assert "from nut-scatter on the spec sheet (not had: common practice)" in said(player)
        assert "from head-stages on the spec sheet, its last stage" in said(player)


async def test_what_is_typed_stays_until_snugset_is_left(there: Stage) -> None:
    async with playing(there.at("gap@4E#1")) as player:
        await opened(player, "convert")
        await fill(player, "value", "12.5 lbf·")
        await player.press("ctrl+f")
        await opened(player, "convert")
        assert player.field("in-value").value == "12.5 lbf·"


async def test_the_example_and_empty_fields_give_back_what_stood_there(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        screen = await opened(player, "thread")
        await fill(player, "thread", "M12")
        await player.press("f2")
        assert screen.texts == {"thread": CALCULATORS["thread"].example.inputs["thread"]}
        await player.press("f2")
        assert screen.texts == {"thread": "M12"}
        await player.press("f5")
        assert screen.texts == {}
        await player.press("f5")
        assert screen.texts == {"thread": "M12"}


async def test_a_result_is_noted_in_the_build_with_inputs_and_working(there: Stage) -> None:
    async with playing(there.at("gap@4E#1")) as player:
        before = len(player.look.state.notes)
        await opened(player, "rim")
        await fill(player, "diameter", "7.5 in")
        await fill(player, "angle", "90")
        await player.press("f4", "f4")
        await player.press("ctrl+f")
        note = player.look.state.notes[-1]
        assert len(player.look.state.notes) == before + 1
        assert str(note.address) == "gap@4E#1"
        assert note.text.startswith("rim: from diameter 7.5 in; angle 90 comes angle 90 deg;")
        assert "π × 7.5 in × 90 deg/360 = 5.8905 in" in note.text
        assert "Source: derived here" in note.text
        assert player.asked == "gap@4E#1"


async def test_a_note_that_the_disk_does_not_take_can_be_tried_again(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with playing(there.at("manual")) as player:
        await opened(player, "thread")
        await player.press("f2")

        def full(*_: object) -> None:
            raise JournalError("disk", "the disk is full")

        with monkeypatch.context() as patch:
            patch.setattr(Journal, "append", full)
            await player.press("f4")
        assert "✗ Not kept: the disk is full." in said(player)
        await player.press("f4")
        assert "✓ Noted at manual" in said(player)


async def test_a_choice_is_taken_by_its_number_unless_the_number_is_one(there: Stage) -> None:
    async with playing(there.at("manual"), (160, 48)) as player:
        screen = await opened(player, "turns")
        await player.press("f5")
        for key, typed in (("thread", "7/16-20"), ("mount", "2"), ("ratio", "1.6"), ("turns", "1")):
            await fill(player, key, typed)
        assert "= pushrod-end" in said(player)
        assert screen.result is not None
        await player.press("ctrl+f")
        screen = await opened(player, "clamp")
        await fill(player, "grade", "8")
        assert screen.result is not None
        assert "120" in " ".join(screen.result.working)


async def test_an_engine_is_looked_up_by_its_name(there: Stage) -> None:
    def known(named: str) -> dict[str, str]:
        if named != "shed-two":
            raise FigureError("engine", "there is none such")
        return {"firing_order": "1-2", "camshaft": "IVO 12 IVC 48 EVO 52 EVC 10 at seat"}

    app = there.app()
    old = app.doors
    app.doors = Doors(
        shelf=old.shelf, person=old.person, demo=old.demo, begin=old.begin, known=known
    )
    async with playing(app, (160, 48)) as player:
        screen = await opened(player, "valves")
        await fill(player, "angle", "0")
        await fill(player, "engine", "shed")
        assert "✗ there is none such" in said(player)
        await fill(player, "engine", "shed-two")
        assert screen.result is not None


async def test_square_brackets_are_text(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await opened(player, "thread")
        await fill(player, "thread", "[/bold] [red]")
        assert "“[/bold] [red]”" in said(player)


async def test_the_working_in_full_of_what_is_typed_and_of_the_newest_reading(
    there: Stage,
) -> None:
    async with playing(there.at("gap@4E#1")) as player:
        await player.press("ctrl+e")
        assert "The newest reading gap@4I#1: 79 thou ± 3.3 thou, typed as" in player.words
        assert "ILAC-G8:09/2019 §4.2.3" in player.words
        await player.press("escape")
        await player.type("40+38; 40+40")
        await player.press("ctrl+e")
        assert "Typed: 40+38; 40+40" in player.words
        assert "mean of 40 thou + 38 thou = 78 thou and" in player.words
        assert "travel 0.150 in" in player.words
        await player.press("pagedown", "pagedown")
        assert "in if low + U ≤ preload ≤ high − U" in player.words
        await player.press("escape")
        assert player.typed == "40+38; 40+40"


async def test_the_working_without_a_reading_says_so(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await player.press("ctrl+e")
        assert "Nothing has been measured yet" in player.words
