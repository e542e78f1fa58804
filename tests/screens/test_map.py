"""The fastener map: to scale, whole or abridged, the current one always in sight and in words."""

from itertools import pairwise

import pytest

from driving import ROOT, small
from snugset.files.fasteners import Group, spots
from snugset.guide.state import Condition, Mark, State
from snugset.screens.beside import beside
from snugset.screens.views.map import SIGNS, Look, view

from .stage import as_looked
from .stage import at as at_address

ENGINES = ROOT / "procedures" / "engines"
NARROW = (33, 21)
"""What the map has beside the prompt at 80x24."""


def group(name: str, of: str = "head") -> Group:
    """A group of a shipped engine."""
    engine = (ENGINES / f"{name}.yaml").read_text("utf-8")
    return small("- do: x", engine=engine).plan.engine.fasteners[of]


def wide_group(rows: int, along: int = 17) -> Group:
    """A group of so many rows of fasteners, two inches apart."""
    places = "\n".join(
        f'      "{row * along + n + 1}": {{x: {2 * n} in, y: {5 * row} in, hole: wet blind, '
        f"length: {4 + n % 2} in}}"
        for row in range(rows)
        for n in range(along)
    )
    engine = (
        "snugset: engine/1\nname: Long (invented)\nlayout: inline\ncylinders: 2\n"
        "firing-order: [1, 2]\nrunning: clockwise\nrockers: stud\nlifters: hydraulic\nratio: 1.5\n"
        f"fasteners:\n  head:\n    kind: stud\n    places:\n{places}\n"
    )
    return small("- do: x", engine=engine).plan.engine.fasteners["head"]


def at(found: Group, number: int, counted: int = 0) -> Look:
    """The group with so many done in its order."""
    order = found.order
    return Look(
        group=found,
        current=order[number],
        done=frozenset(order[:number]),
        following=order[number + 1] if number + 1 < len(order) else "",
        counted=frozenset(order[number : number + counted]),
    )


def drawn(look: Look, room: tuple[int, int]) -> list[str]:
    lines = view(look, State(), *room).plain.split("\n")
    assert len(lines) <= room[1]
    assert max(map(len, lines)) <= room[0]
    return lines


@pytest.mark.parametrize("room", [NARROW, (42, 26), (68, 44)])
@pytest.mark.parametrize("name", ["barn-pump-six", "canal-tug-eight", "ferry-eight", "dairy-twin"])
def test_the_current_fastener_is_in_sight_and_in_words_wherever_the_work_is(
    name: str, room: tuple[int, int]
) -> None:
    found = group(name)
    for number, key in enumerate(found.order):
        shown = drawn(at(found, number), room)
        assert any(f"◆{key}" in line for line in shown), "\n".join(shown)
        assert any(line.startswith(f"◆ {key}: ") for line in shown)
        assert shown[0] == f"head from above: {number} of {len(found.order)} done"
        assert any("◀ front" in line and "rear ▶" in line for line in shown)


@pytest.mark.parametrize("room", [NARROW, (42, 26), (76, 42)])
@pytest.mark.parametrize("rows", [1, 2, 3])
def test_seventeen_in_a_row_are_all_there_with_their_numbers(
    rows: int, room: tuple[int, int]
) -> None:
    found = wide_group(rows)
    for number, current in enumerate(found.order):
        shown = drawn(at(found, number), room)
        text = " ".join("\n".join(shown).split("◀ front")[0].split())
        look = at(found, number)
        for key in found.places:
            along = (int(key) - 1) % 17
            label = f"{SIGNS[look.what(key)]}{key}~{'+' * (along % 2)}"
            assert label in text.split(), (current, key)
        for name in ("upper row", "lower row") if rows > 1 else ():
            assert name in text


def test_numbers_that_step_down_stand_where_their_fasteners_are_along() -> None:
    found = wide_group(2)
    shown = drawn(at(found, 0), NARROW)
    known = spots(found.places)
    columns = {
        word.strip("·◆◇~+"): line.index(word) for line in shown[1:-5] for word in line.split()
    }
    start, end = columns["1"], columns["17"]
    for key, (x, _) in known.items():
        assert abs(columns[key] - start - float(x) / 32 * (end - start)) <= 0.5, key


def test_where_numbers_do_not_fit_all_are_there_in_signs() -> None:
    rows = 4
    found = wide_group(rows)
    for number in range(len(found.order)):
        shown = drawn(at(found, number), NARROW)
        text = "\n".join(shown)
        whole = shown[1 : 1 + rows]
        signs = "".join(whole).replace(" ", "")
        assert len(signs) == 17 * rows, text
        assert signs.count("◆") == 1
        assert signs.count("✓") == number
        key = found.order[number]
        assert any(f"◆{key}~" in line for line in shown), text


def test_where_not_even_signs_fit_each_row_says_how_many_are_out_of_sight() -> None:
    found = wide_group(5)
    shown = drawn(at(found, 0), NARROW)
    named = [line for line in shown if "from below ◀" in line]
    assert len(named) == 5
    for line in named:
        before, after = (int(word) for word in line.split() if word.isdigit())
        labels = shown[shown.index(line) + 1].split()
        assert before + after + len(labels) == 17


def test_a_whole_map_is_to_scale_and_no_number_hides_another() -> None:
    found = group("ferry-eight")
    shown = drawn(at(found, 0), (68, 44))
    known = spots(found.places)
    columns: dict[str, tuple[int, int]] = {}
    for row, line in enumerate(shown):
        for key in found.places:
            for sign in SIGNS.values():
                place = f"{line} ".find(f"{sign}{key}{'+' if f'{key}+' in line else '~'}")
                if place >= 0:
                    columns[key] = (row, place)
    assert set(columns) == set(known)
    xs = sorted(known, key=lambda key: known[key][0])
    unit = (columns[xs[-1]][1] - columns[xs[0]][1]) / float(known[xs[-1]][0] - known[xs[0]][0])
    for one, two in pairwise(xs):
        apart = float(known[two][0] - known[one][0]) * unit
        assert abs(columns[two][1] - columns[one][1] - apart) <= 1
    across = sorted({(y, columns[key][0]) for key, (_, y) in known.items()})
    assert [row for _, row in across] == sorted((row for _, row in across), reverse=True)
    gaps = [float(b[0] - a[0]) / (a[1] - b[1]) for a, b in pairwise(across)]
    assert max(gaps) < 1.8 * min(gaps), "rows stand as far apart as they are"


def test_rows_wet_long_and_each_state_are_said_in_signs_and_words() -> None:
    found = group("ferry-eight")
    shown = drawn(at(found, 7, counted=3), NARROW)
    text = " ".join(" ".join(shown).split())
    for row in ("left outer", "left inner", "right inner", "right outer"):
        assert row in text
    for key, mark in (("r1", "~"), ("r6", "+"), ("r7", "~+")):
        assert f"{key}{mark}" in text
    assert "✓ done" in text
    assert "▸ counted" in text
    assert "◆" not in text.split("front")[0], "what is counted is not the current one any more"
    for word in ("~ wet", "+ long", "· to come"):
        assert word in text


def test_each_state_has_a_style_of_its_own_besides_its_sign() -> None:
    found = group("barn-pump-six")
    styled = view(at(found, 3), State(), *NARROW)
    styles = {styled.plain[span.start]: str(span.style) for span in styled.spans}
    assert styles["◆"] == "bold reverse"
    assert styles["◇"] == "bold underline"


def test_a_hole_that_was_probed_counts_over_the_map() -> None:
    found = group("barn-pump-six")
    key = found.order[0]
    assert not found.places[key].wet
    state = State(condition=Condition(marks={("hole", f"head:{key}"): Mark("wet through", "")}))
    assert f"{key}~" in view(at(found, 0), state, *NARROW).plain
    assert "wet through" in view(at(found, 0), state, *NARROW).plain.replace("\n", " ")


def test_the_group_that_is_tightened_is_the_one_that_is_shown() -> None:
    """Each with what this stage of it has done; elsewhere the engine's first."""
    for address, title in (
        ("cover-tighten@1.4", "cover from above: 2 of 6 done"),
        ("head-tighten@2.3", "head from above: 4 of 14 done"),
        ("battery", "head from above: 0 of 14 done"),
    ):
        shown = beside(as_looked(at_address(address)), "map", *NARROW).plain.split("\n")
        assert shown[0] == title
        key = address.rpartition(".")[2]
        assert any(line.startswith(f"◆ {key}: ") for line in shown) == ("@" in address)


def test_one_fastener_alone_is_drawn() -> None:
    found = group("barn-pump-six")
    key = found.order[0]
    alone = Group(
        name="lone",
        kind="bolt",
        order=(key,),
        generated=False,
        rows=(),
        places={key: found.places[key]},
        mark=found.mark,
    )
    look = Look(group=alone, current=key, done=frozenset(), following="")
    assert any(f"◆{key}" in line for line in drawn(look, NARROW))
