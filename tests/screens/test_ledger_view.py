"""The ledger: each reading against the window at a glance, rounds side by side, patterns said."""

from decimal import Decimal

import pytest

from driving import Table, small, table
from snugset.guide.ledger import Ledger, Line, ledger
from snugset.screens.views.ledger import SIGNS, strip, view
from snugset.trade.verdict import Verdict
from snugset.units import Quantity
from snugset.values import replace

from .shed import shed
from .stage import Stage, playing

NARROW = (33, 21)


def thou(value: str) -> Quantity:
    return Quantity(Decimal(value), "thou")


def found(told: Table) -> Ledger:
    got = ledger(told.plan, told.state, told.asked.address)
    assert got is not None
    return got


def drawn(got: Ledger, room: tuple[int, int], here: str = "", *, rounds: bool = False) -> list[str]:
    lines = view(got, here, *room, rounds=rounds).plain.split("\n")
    assert len(lines) <= room[1], "\n".join(lines)
    assert max(map(len, lines)) <= room[0], "\n".join(lines)
    return lines


def test_each_verdict_has_a_sign_of_its_own_or_says_no_measurement() -> None:
    assert set(SIGNS) == {str(verdict) for verdict in Verdict}
    firsts = [SIGNS[str(verdict)][0] for verdict in Verdict if verdict.measured]
    assert len(set(firsts)) == len(firsts)


@pytest.mark.parametrize("width", [6, 15, 19, 40])
@pytest.mark.parametrize("value", ["-9", "0", "20", "24", "38", "60", "61", "79", "200"])
def test_a_strip_shows_where_a_reading_lies(value: str, width: int) -> None:
    line = Line(
        place="1I",
        value=thou(value),
        uncertainty=thou("3.3"),
        verdict="in",
        low=thou("20"),
        high=thou("60"),
    )
    cells = strip(line, width)
    assert len(cells) == width
    x = float(value)
    if x < 0 - 40 / width:
        assert cells[0] == "◀"
    elif x > 80 + 40 / width:
        assert cells[-1] == "▶"
    elif 0 <= x <= 80:
        assert cells.index("●") == round(x / 80 * (width - 1))
        if width >= 15 and 26 < x < 54:
            assert cells.index("[") < cells.index("●") < cells.index("]")
            assert "─" in cells


def test_a_strip_shows_the_reading_before_and_needs_two_limits() -> None:
    line = Line(
        place="1I", value=thou("34"), uncertainty=None, before=thou("73"), low=thou("20"),
        high=thou("60"),
    )  # fmt: skip
    cells = strip(line, 40)
    assert cells.index("●") < cells.index("]") < cells.index("○")
    assert strip(replace(line, before=thou("500")), 40).endswith("▷")
    assert strip(replace(line, high=None), 40) == ""
    assert strip(replace(line, high=thou("20")), 40) == ""


def test_at_80_columns_every_place_has_figure_sign_doubt_and_strip() -> None:
    told = table().until("lengths#1")
    got = found(told)
    lines = drawn(got, NARROW)
    for line in got.lines:
        row = next(each for each in lines if each[1:4].strip() == line.place)
        assert line.value is not None
        assert f"{line.value.value}" in row
        assert "▲" in row
        assert "[" in row
        assert "]" in row
    text = " ".join(lines)
    assert "20 to 60 thou" in lines[0]
    assert "U ± 3.3 thou" in text
    assert "▲ high" in text


def test_wider_the_verdict_stands_in_words() -> None:
    told = table().until("lengths#1")
    assert sum("▲ high" in line for line in drawn(found(told), (50, 26))) >= 12


@pytest.mark.parametrize("room", [NARROW, (50, 26), (68, 44)])
def test_rounds_stand_side_by_side(room: tuple[int, int]) -> None:
    told = table().until("gap@5E#2")
    got = found(told)
    lines = drawn(got, room, "5E", rounds=True)
    assert lines[1].split() == ["was", "pred", "now", "off"]
    row = next(each for each in lines if each[1:4].strip() == "1I")
    assert row.replace("✓", "").split()[:5] == ["1I", "73.5", "33.5", "34.5", "+1"]
    before = next(each for each in lines if each[1:4].strip() == "5E")
    assert before.startswith("▸")
    assert before.split()[1:4] == ["5E", "74", "34"]
    assert any("5E: was 74, predicted 34" in line for line in lines)


@pytest.mark.parametrize("flag", ["off", "old"])
def test_a_flag_is_read_whole_beside_the_rounds_in_a_narrow_room(flag: str) -> None:
    got = found(table().until("gap@5E#2"))
    lines = tuple(replace(line, flag=flag, value=line.value and thou("21")) for line in got.lines)
    rows = drawn(replace(got, lines=lines), NARROW, "5E", rounds=True)
    row = next(each for each in rows if each[1:4].strip() == "1I")
    assert row.endswith(flag)
    assert "✓" in row


def test_a_reading_that_is_not_for_good_yet_says_so() -> None:
    got = found(table().until("gap@5E#1"))
    lines = tuple(replace(line, provisional=line.place == "1I") for line in got.lines)
    rows = drawn(replace(got, lines=lines), (50, 26))
    assert [row[1:4].strip() for row in rows if row.endswith(" provisional")] == ["1I"]


def test_in_a_wide_room_strip_and_rounds_stand_together() -> None:
    told = table().until("gap@5E#2")
    row = next(r for r in drawn(found(told), (68, 44)) if r[1:4].strip() == "1I")
    assert "33.5" in row
    assert "●" in row
    assert "○" in row


def test_in_the_first_round_nothing_stands_beside_it() -> None:
    told = table().until("gap@4I#1")
    assert not found(told).again
    assert drawn(found(told), NARROW, rounds=True) == drawn(found(told), NARROW)


def test_a_pattern_is_called_out_once_the_round_is_whole_and_its_places_are_marked() -> None:
    told = shed("lengths#1")
    got = found(told)
    assert len(got.patterns) == 1
    assert got.patterns[0].startswith("2E is 37.3 thou under the rest. Look first:")
    lines = drawn(got, NARROW)
    rows = [line for line in lines if "[" in line or "]" in line]
    assert len(rows) == len(got.lines)
    assert [row[1:4].strip() for row in rows if row.startswith("!")] == ["2E"]
    assert "! 2E is 37.3 thou under the rest." in " ".join(lines)
    assert found(shed("gap@2E#1")).patterns == ()


def test_sixteen_places_and_what_is_said_of_them_fit() -> None:
    told = shed("lengths#1")
    one = found(told).lines[0]
    many = tuple(replace(one, place=f"{n}{end}") for n in range(1, 9) for end in "IE")
    got = replace(found(told), lines=many)
    for here in ("1I", "5E", "8E"):
        lines = drawn(got, NARROW, here)
        assert sum(line.startswith("▸") for line in lines) == 1
    lines = drawn(got, (33, 24))
    assert all(any(row[1:4].strip() == line.place for row in lines) for line in many)


def test_lash_stands_in_a_ledger_too_hot_beside_cold_each_in_its_own_limits() -> None:
    told = small(
        """\
- each: first
  over: valves
  steps:
    - {lash: cold, figure: lash, unit: thou, at: cold, book: cold, intake: in, exhaust: ex}
- each: second
  over: valves
  steps:
    - {lash: hot, figure: lash, unit: thou, at: hot, book: hot, intake: in, exhaust: ex}
""",
        figures="in: {kind: length, unit: thou, ask: I?}\nex: {kind: length, unit: thou, ask: E?}",
        specs="in: {value: 12 thou, source: leaflet}\nex: {value: 18 thou, source: leaflet}",
    )
    assert found(told).title == "cold"
    while told.at.startswith("cold"):
        told.taken("")
    told.taken("12.5")
    got = found(told)
    assert got.title == "hot"
    assert [f"{line.before}" for line in got.lines[:2]] == ["12 thou", "18 thou"]
    row = next(r for r in drawn(got, NARROW) if r[1:4].strip() == "1I")
    assert "12.5 ~" in row
    assert "●" in row
    second = next(r for r in drawn(got, NARROW) if r[1:4].strip() == "1E")
    assert "—" in second


async def test_what_is_typed_stands_in_its_line_marked_as_not_kept(there: Stage) -> None:
    async with playing(there.at("gap@4I#1")) as player:
        assert "▸ 4I" in player.picture
        await player.type("30+8;30+8")
        row = next(r for r in player.picture.splitlines() if "→ 4I" in r)
        assert "38 ✓" in row
        assert "●" in row
        assert "→ typed" in player.picture
        await player.press("ctrl+u")
        assert "▸ 4I      —" in player.picture
        await player.type(".030 in; .030 in")
        assert any("→ 4I     30 ✓" in r for r in player.picture.splitlines())


async def test_a_figure_read_at_each_place_has_a_ledger_of_its_own(there: Stage) -> None:
    """A pushrod's runout is not held against the preload's window."""
    async with playing(there.at("roll@1E")) as player:
        await player.type(".001")
        rows = [line.partition("│")[2].rstrip() for line in player.picture.splitlines()]
        assert rows[2] == " Ledger, roll     at most 0.006 in"
        assert rows[3].split() == ["1I", "0.001", "✓"]
        assert rows[4].split() == ["→", "1E", "0.001", "✓"]
        assert not any("[" in row for row in rows)


def test_a_flag_and_a_verdict_stand_apart_in_a_narrow_room() -> None:
    got = found(table().until("gap@5E#2"))
    lines = tuple(replace(line, flag="off") for line in got.lines)
    rows = drawn(replace(got, lines=lines), NARROW, "5E", rounds=True)
    assert "✓ off" in next(each for each in rows if each[1:4].strip() == "1I")
