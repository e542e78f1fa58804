"""The crank drawn: open spans against the arcs they come from, what may be set, what is next."""

import re
from decimal import Decimal
from pathlib import Path

import pytest

from driving import ROOT, Table, small, table
from snugset.files.answers import Say
from snugset.guide.ask import prompt
from snugset.guide.crank_now import CrankNow, crank_now
from snugset.guide.scene import when
from snugset.journal.reading import read_records
from snugset.journal.shelf import Shelf
from snugset.play import play, read_answers_file
from snugset.screens.views.crank import view
from snugset.stored import stood
from snugset.trade.ahead import Change, next_change
from snugset.trade.circle import Arc, wrap
from snugset.values import replace

NARROW = (33, 21)
ENGINES = ROOT / "procedures" / "engines"
CARD = "card: {kind: camshaft, ask: The card?, none: Each at its own dead centre.}"
SPECS = 'card: {value: "IVO 8 IVC 40 EVO 44 EVC 6 at seat", source: leaflet}'
STEPS = """\
- turn: number-one
  prove: yes
  say: Prove number one.
- crank: points
  over: {over}
  events: card
  steps:
    - do: set
      say: Set it.
"""


def built(engine: str, over: str, *, card: bool = True) -> Table:
    """A build of an engine that stands at its first setting point."""
    told = small(
        STEPS.replace("{over}", over),
        figures=CARD,
        specs=SPECS if card else "",
        engine=(ENGINES / f"{engine}.yaml").read_text("utf-8"),
    )
    while not told.at.startswith("points.turn"):
        told.taken("none" if told.at.startswith("spec.") else "")
    return told


def now(told: Table) -> CrankNow:
    asked = told.asked.address
    return crank_now(told.plan, told.state, asked.step, asked.place)


def drawn(told: Table, room: tuple[int, int], found: CrankNow | None = None) -> list[str]:
    lines = view(found or now(told), told.plan.engine, *room).plain.split("\n")
    assert len(lines) <= room[1], "\n".join(lines)
    assert max(map(len, lines)) <= room[0], "\n".join(lines)
    return lines


@pytest.mark.parametrize("room", [NARROW, (42, 26), (68, 44)])
def test_each_cell_says_which_valves_are_open_there(room: tuple[int, int]) -> None:
    told = built("ferry-eight", "cylinders")
    found = now(told)
    lines = drawn(told, room)
    rows = [line for line in lines if line[:4].strip(" ▸✓").isdigit() and "┃" in line]
    assert len(rows) == 8, "\n".join(lines)
    assert [int(row[2:3]) for row in rows] == list(told.plan.engine.firing_order)
    for row in rows:
        cylinder, cells = row[2:3], row[4:]
        for number, cell in enumerate(cells):
            if cell == "┃":
                assert found.crank is not None
                assert number == int(wrap(found.crank) * len(cells) / 720)
                continue
            angle = Decimal(720) * (2 * number + 1) / (2 * len(cells))
            arcs = [found.closed[f"{cylinder}{end}"] for end in "IE"]
            tenths = (Decimal(n) / 10 for n in range(7200) if n * len(cells) // 7200 == number)
            if any(not arcs[0].holds(each) and not arcs[1].holds(each) for each in tenths):
                assert cell == "█", "an overlap shows however narrow it is"
                continue
            intake, exhaust = (not arc.holds(angle) for arc in arcs)
            assert cell == "·▀▄█"[intake + 2 * exhaust]
        assert "█" in cells or "┃" in cells
    assert sum("█" in row for row in rows) >= len(rows) - 1, "\n".join(lines)


def test_eight_cylinders_fit_at_80_by_24_with_all_that_is_said() -> None:
    told = built("ferry-eight", "cylinders")
    text = " ".join(" ".join(drawn(told, NARROW)).split())
    assert "more above" not in text
    assert "Crank: 0° past the mark." in text
    assert "May be set now: " in text
    assert "Rim: " in text
    assert "▀ intake open" in text
    assert re.search(r"\d+° on: the (intake|exhaust) of \d (may open|will be closed)\.", text)


def test_where_valves_are_set_each_has_a_row() -> None:
    told = built("sawmill-four", "valves")
    lines = drawn(told, NARROW)
    named = [line[2:4] for line in lines if line[3:4] in ("I", "E")]
    assert named == [f"{n}{end}" for n in told.plan.engine.firing_order for end in "IE"]
    assert any("█ open" in line for line in lines)


def test_sixteen_valves_scroll_about_the_ones_that_are_set() -> None:
    told = built("ferry-eight", "valves")
    point = now(told).point
    assert point is not None
    lines = drawn(told, NARROW)
    assert any("more below" in line for line in lines)
    assert any(line.startswith("▸") and line[2:4].strip() in point.places for line in lines)


def test_twenty_four_cylinders_scroll_about_the_current_one() -> None:
    order = list(range(1, 25))
    engine = (
        "snugset: engine/1\nname: Long (invented)\nlayout: inline\ncylinders: 24\n"
        f"firing-order: {order}\nrunning: clockwise\nrockers: bridged\nlifters: hydraulic\n"
        "ratio: 1.5\n"
    )
    told = small(STEPS.replace("{over}", "bridges"), figures=CARD, specs=SPECS, engine=engine)
    while not told.at.startswith("points.turn"):
        told.taken("")
    for point in told.state.planned["points"].points:
        found = replace(now(told), point=point)
        lines = drawn(told, NARROW, found)
        assert any(line.startswith("▸") for line in lines), "\n".join(lines)


def test_an_unknown_crank_is_said_with_the_way_to_prove_number_one() -> None:
    told = table().until("number-one")
    found = now(told)
    assert found.crank is None
    text = " ".join(" ".join(drawn(told, NARROW)).split())
    assert "Crank: not known." in text
    assert "To prove number one: Turn to the 0 mark" in text
    assert "pushrods of 1 and 6" in text
    assert "┃" not in text


def test_without_a_card_the_rows_say_that_nothing_is_known() -> None:
    told = built("sawmill-four", "cylinders", card=False)
    found = now(told)
    assert found.closed == {}
    assert found.change is None
    lines = drawn(told, NARROW)
    assert any("? no camshaft card" in line for line in lines)
    assert not any("▀" in line or "▄" in line for line in lines)


def test_window_aim_and_what_may_be_set_follow_the_crank() -> None:
    told = table().until("points.turn@P2#1")
    before = now(told)
    assert before.point is not None
    assert before.free == ("1", "5")
    assert f"{before.point.key}: 240° on, 298° past the mark." in before.words
    told.taken("")
    after = now(told)
    assert set(before.point.places) <= set(after.free)
    assert any("in its window" in line for line in after.words)
    row = next(line for line in drawn(told, NARROW) if "▼" in line)
    cells = row[4:].ljust(29)
    assert cells.index("▼") == int(before.point.aim * 29 / 720)
    assert cells.index("[") <= cells.index("▼") <= cells.index("]")


@pytest.mark.parametrize("margin", ["1 deg", "20 deg", "45 deg"])
def test_only_what_is_closed_with_the_margin_asked_may_be_set(margin: str) -> None:
    given = f"crank-margin:\n    value: {margin}\n    source: leaflet"
    told = table(edit=lambda text: text.replace("crank-margin:\n    none: yes", given))
    assert str(told.state.spec("crank-margin")) == margin
    told.until("points.turn@P2#1")
    least = Decimal(margin.split(maxsplit=1)[0])
    seen = set()
    for crank in range(0, 720, 5):
        state = replace(told.state, condition=replace(told.state.condition, crank=Decimal(crank)))
        found = crank_now(told.plan, state, "points.turn", "P2")
        surely = {
            str(cylinder)
            for cylinder in told.plan.engine.firing_order
            if all(
                found.closed[f"{cylinder}{end}"].holds(Decimal(crank) + off)
                for end in "IE"
                for off in (-least, Decimal(0), least)
            )
        }
        assert set(found.free) == surely, crank
        seen |= surely
    assert seen


def test_the_next_change_is_the_nearest_end_ahead() -> None:
    closed = {
        "1I": Arc(low=Decimal(-120), high=Decimal(350)),
        "1E": Arc(low=Decimal(-350), high=Decimal(130)),
        "2I": Arc(low=Decimal(10), high=Decimal(5)),
        "2E": Arc(low=Decimal(0), high=Decimal(720)),
    }

    def at(angle: int) -> tuple[str, bool, int]:
        found = next_change(closed, Decimal(angle))
        assert found is not None
        return found.place, found.opens, int(found.ahead)

    assert at(0) == ("1E", True, 130)
    assert at(130) == ("1I", True, 220)
    assert at(349) == ("1I", True, 1)
    assert at(350) == ("1E", False, 20)
    assert at(371) == ("1I", False, 229)
    assert at(719) == ("1E", True, 131)
    assert next_change({"2E": closed["2E"]}, Decimal(0)) is None


@pytest.mark.parametrize("crank", range(0, 720, 7))
def test_up_to_the_next_change_nothing_changes_and_there_it_does(crank: int) -> None:
    told = table().until("points.turn@P2#1")
    closed = now(told).closed
    change = next_change(closed, Decimal(crank))
    assert isinstance(change, Change)
    arc, there = closed[change.place], Decimal(crank) + change.ahead
    bit = Decimal("0.001")
    assert arc.holds(there - bit) is change.opens
    assert arc.holds(there + bit) is not change.opens
    for other in closed.values():
        inside = [
            other.holds(Decimal(crank) + bit + (change.ahead - 2 * bit) * n / 9) for n in range(10)
        ]
        assert len(set(inside)) == 1


def test_the_aim_and_the_distance_round_the_rim_are_of_one_angle(tmp_path: Path) -> None:
    """An odd-fire engine's aim lies on half a degree; both say so, and add up to the turn."""
    answers = ROOT / "tests" / "walk" / "v6-odd-fire-hydraulic-answers.yaml"
    entries = read_answers_file(answers).answers
    at = next(n for n, one in enumerate(entries) if isinstance(one, Say) and "turn@P1" in one.at)
    shelf = Shelf(tmp_path / "data")
    folder = play(answers, shelf, stop_before=at, at_once=True).folder
    records = read_records(folder)
    plan, state = stood(records, folder.name)
    asked = prompt(plan, state, when(records[-1].at))
    assert asked is not None
    assert asked.large is not None
    facts = " ".join(asked.facts)
    rim = re.search(r"On the damper: ([0-9.]+)° before the 0° mark", facts)
    assert rim is not None, facts
    assert Decimal(asked.large.value.removesuffix("°")) + Decimal(rim[1]) == 360
    assert f"aim for {asked.large.value} past" in facts
