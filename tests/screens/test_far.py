"""The figure in large digits; the prompt for a metre away; a terminal that is too small."""

import pytest
from textual.widgets import Static

from snugset.screens import big, figured, room

from .stage import SIZES, Player, Stage, playing
from .stage import at as demo_at


def drawn(player: Player, part: str) -> str:
    """What stands in a part of the screen; empty where it is not shown."""
    found = player.bench.query_one(part, Static)
    region = found.region
    rows = player.picture.splitlines()[region.y : region.bottom] if found.display else []
    return "\n".join(row[region.x : region.right].rstrip() for row in rows)


def standing(words: str, picture: str, size: int) -> bool:
    """Tell whether a text is drawn whole somewhere in a picture."""
    rows = picture.splitlines()
    want = [line.rstrip() for line in big.draw(words, size)]
    return any(
        all(line in row for line, row in zip(want, rows[at : at + len(want)], strict=True))
        for at in range(len(rows) - len(want) + 1)
    )


def test_each_sign_is_five_rows_of_one_width_and_looks_like_no_other() -> None:
    seen: dict[str, str] = {}
    for sign, dots in big._DRAWN.items():
        rows = dots.split(" ")
        assert len(rows) == 5, sign
        assert len(set(map(len, rows))) == 1, sign
        if sign not in "–−-":
            assert dots not in seen, (sign, seen.get(dots))
            seen[dots] = sign


@pytest.mark.parametrize("size", [1, 2, 3, 6])
def test_a_drawing_is_as_wide_and_as_high_as_was_said(size: int) -> None:
    lines = big.draw("60.5 lbf·ft ☃", size)
    assert {len(line) for line in lines} == {big.wide("60.5 lbf·ft ☃", size)}
    assert len(lines) == big.high(size)
    assert big.fitting("60", big.wide("60", size), big.high(size)) == size


def test_words_are_broken_to_fit_and_a_long_one_is_cut() -> None:
    lines = big.broken("turn the extraordinarilylongcrankshaftnose on", 60, 1)
    assert all(big.wide(line, 1) <= 60 for line in lines)
    assert lines[0] == "turn the"
    assert lines[1].endswith("…")


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(
    ("address", "value", "unit"),
    [
        ("head-tighten@1.5", "30", "lbf·ft"),
        ("gap@4I#1", "20-60", "thou"),
        ("points.turn@P2#1", "298°", "past the mark"),
    ],
)
async def test_the_figure_stands_large_beside_the_map(
    there: Stage, address: str, value: str, unit: str, size: tuple[int, int]
) -> None:
    async with playing(there.at(address), size) as player:
        shown = drawn(player, "#large")
        assert any(standing(value, shown, n) for n in (1, 2, 3)), player.picture
        assert unit in shown
        assert player.bench.query_one("#view").region.width > 20


async def test_a_reading_that_is_typed_takes_the_windows_place(there: Stage) -> None:
    async with playing(there.at("gap@4I#1")) as player:
        await player.type("40+38")
        assert standing("78", drawn(player, "#large"), 1)
        assert "typed" in drawn(player, "#large")
        await player.type("; 40+40")
        assert standing("79", drawn(player, "#large"), 1)
        assert "high" in drawn(player, "#large")
        await player.press("ctrl+u")
        assert standing("20-60", drawn(player, "#large"), 1)


@pytest.mark.parametrize("size", [*SIZES, (80, 15)])
async def test_from_afar_fastener_figure_and_what_is_typed_are_large(
    there: Stage, size: tuple[int, int]
) -> None:
    async with playing(there.at("head-tighten@1.11"), size) as player:
        await player.press("f12")
        assert not player.bench.query_one("#view").display or not drawn(player, "#view")
        shown = drawn(player, "#far")
        assert any(standing("11", shown, n) for n in range(1, 7)), player.picture
        assert any(standing("30", shown, n) for n in range(1, 7))
        assert "! Pull towards you" in shown
        if size[1] > 15:
            assert any(standing("11, lower", shown, n) for n in (1, 2, 3))
        await player.press("enter")
        order = player.look.plan.engine.fasteners["head"].order
        assert any(standing(order[1], drawn(player, "#far"), n) for n in range(1, 7))
        await player.type("stage 5")
        assert any(standing("stage 5", drawn(player, "#far"), n) for n in (1, 2))
        assert "5 of 14 done" in player.words
        await player.press("enter", "f12")
        assert player.asked == f"head-tighten@1.{order[5]}"
        assert "head from above" in player.picture


async def test_a_reading_is_large_from_afar_and_it_lasts_from_build_to_build(
    there: Stage,
) -> None:
    async with playing(there.at("gap@4I#1")) as player:
        await player.press("f12")
        await player.type("40+38;40+40")
        assert any(standing("79", drawn(player, "#far"), n) for n in (2, 3))
        assert standing("40+38;40+40", drawn(player, "#far"), 1)
        assert "high" in drawn(player, "#far")
        await player.press("escape", "escape")
        await player.press("enter")
        assert player.bench.has_class("far")


@pytest.mark.parametrize("size", [(79, 24), (80, 23), (60, 15), (40, 10), (20, 5)])
async def test_a_smaller_terminal_says_so_shows_the_prompt_and_takes_the_answer(
    there: Stage, size: tuple[int, int]
) -> None:
    async with playing(there.at("head-tighten@1.11"), size) as player:
        where = drawn(player, "#small")
        assert room.notice(*size)[: size[0] - 2] in where, player.picture
        assert "11, lower" in player.words
        assert "▸" in player.words
        await player.press("enter")
        assert player.asked == "head-tighten@1.4"
        assert "4, upper" in player.words
        await player.type("note x")
        await player.pilot.resize_terminal(80, 24)
        await player.settled()
        assert player.typed == "note x"
        assert "smaller than" not in player.picture
        assert "head from above" in player.picture


@pytest.mark.parametrize("far", [False, True])
async def test_shrunk_and_grown_again_with_a_prompt_on_nothing_is_lost(
    there: Stage, *, far: bool
) -> None:
    async with playing(there.at("gap@4I#1")) as player:
        if far:
            await player.press("f12")
        await player.type("40+38; 40+40")
        before = player.picture
        for size in ((20, 5), (80, 24), (1, 1), (80, 24), (160, 48), (33, 12), (80, 24)):
            await player.pilot.resize_terminal(*size)
            await player.settled()
        assert player.picture == before


@pytest.mark.parametrize("height", range(1, 40))
def test_lines_are_shared_out_to_the_last_one_and_the_words_come_first(height: int) -> None:
    for large, detail, under in ((4, 9, 0), (4, 9, 30), (0, 0, 3), (4, 0, 12)):
        shares = room.share(height, words=4, prompt=7, large=large, detail=detail, under=under)
        given = (shares.prompt, shares.large, shares.detail, shares.under)
        assert sum(given) == height
        assert min(given) >= 0
        assert shares.prompt >= min(4, height - 1)
        assert shares.under <= under


def test_from_afar_a_prompt_fills_no_more_than_its_place() -> None:
    for size in ((78, 20), (40, 12), (20, 3), (1, 1)):
        assert len(figured.far(None, None, "", *size)) <= size[1]


@pytest.mark.parametrize("at", ["head-tighten@2.10", "lengths#1"])
async def test_from_afar_a_prompt_that_speaks_in_facts_is_read_whole(there: Stage, at: str) -> None:
    folder = there.put(demo_at(at))
    if at.startswith("head"):
        there.clock.advance(9 * 86400)
    async with playing(there.app(there.opening(folder, fresh="lengths" in at))) as player:
        await player.press("f12")
        shown = player.words
        assert player.bench.has_class("far")
        assert not player.bench.query_one("#view").display
        said = "Loose: the head" if at.startswith("head") else "lowest"
        assert said in shown


async def test_from_afar_in_a_small_terminal_the_words_are_read_as_they_are(there: Stage) -> None:
    async with playing(there.at("points.turn@P1#1")) as player:
        await player.press("f12")
        await player.pilot.resize_terminal(40, 12)
        await player.settled()
        assert "Turn the crank in its running" in player.words


async def test_the_map_shows_a_finished_group_as_done_from_any_other_step(there: Stage) -> None:
    async with playing(there.at("number-one")) as player:
        while player.bench.view_name() != "map":
            await player.press("f7")
        await player.settled()
        assert "head from above: 14 of 14 done" in player.picture


async def test_what_is_being_typed_keeps_its_verdict_over_another_screen(there: Stage) -> None:
    async with playing(there.at("gap@4I#1")) as player:
        await player.type("40+38; 40+40")
        assert "79 thou" in player.words
        bench = player.bench
        for key in ("f1", "f8", "ctrl+f", "f9"):
            await player.press(key)
            await bench.desk.refresh()
            await player.press("escape")
            assert player.bench.field.value == "40+38; 40+40"
            assert "79 thou" in player.words, key


async def test_where_there_is_room_the_rest_of_the_words_is_drawn_as_well(there: Stage) -> None:
    async with playing(there.at("gap@4I#1"), (160, 48)) as player:
        await player.press("f12")
        picture = drawn(player, "#far")
        assert standing("Intake of 4", picture, 3)
        assert standing("straightedge back in its place", picture, 1)
        assert "straightedge" not in picture
        await player.pilot.resize_terminal(80, 24)
        await player.settled()
        assert "straightedge back in its place" in drawn(player, "#far")
