"""crank: setting points, and somebody's list held against the camshaft card."""

from pathlib import Path

import pytest

from .shell import ENGINE, Shell

THREE = """\
snugset: engine/1
name: Invented three
layout: inline
cylinders: 3
firing-order: [1, 3, 2]
running: clockwise
rockers: shaft
lifters: solid
ratio: 1.5
"""


def engine(name: str = "engine.yaml", **changes: str) -> str:
    """Write the shipped engine with some of its fields changed; empty leaves one out."""
    lines = []
    for line in ENGINE.read_text("utf-8").splitlines():
        key = line.partition(":")[0]
        if key in changes:
            lines += [f"{key}: {changes[key]}"] if changes[key] else []
        else:
            lines.append(line)
    Path(name).write_text("\n".join(lines), "utf-8")
    return name


def listed(text: str) -> str:
    Path("list.txt").write_text(text, "utf-8")
    return "list.txt"


def test_the_fewest_points_with_window_aim_margin_rim_and_companions(shell: Shell) -> None:
    """A bridge is closed from IVC − 180 = −134° to 180 − EVO = 130° about its own dead centre.

    Five fires 120° after one: both are closed from −14° to 130°. The middle is 58°, 72° from either
    end, and with 20° left at each end the window goes from 6° to 110°.
    """
    out = shell.ok("crank", "barn-pump-six").out
    assert "firing order 1-5-3-6-2-4; turn clockwise, seen from the front" in out
    assert "P1  bridges 1 and 5\n" in out
    assert "    6° past to 110° past number one's mark, aim for 58° past; margin 72°\n" in out
    assert "    number five: 62° before top, both valves closed\n" in out
    assert out.count("\nP") == 3
    assert out.endswith("\nCompanions: 1 and 6; 5 and 2; 3 and 4.\n")
    # π·7·58/360 = 3.54 in
    assert "58° past the 0° mark, 3.54 in" in out


def test_json_holds_the_same_for_a_program(shell: Shell) -> None:
    found = shell.ok("crank", "barn-pump-six", "--json").json
    assert found["method"] == "camshaft"
    assert found["firing_order"] == [1, 5, 3, 6, 2, 4]
    assert found["companions"] == {"1": 6, "5": 2, "3": 4, "6": 1, "2": 5, "4": 3}
    first = found["points"][0]
    assert {key: first[key] for key in ("key", "places", "low", "high", "aim", "margin")} == {
        "key": "P1",
        "places": ["1", "5"],
        "low": 6,
        "high": 110,
        "aim": 58,
        "margin": 72,
    }
    assert set(first["cylinders"]) == {"1", "5"}
    assert [point["places"] for point in found["points"]] == [["1", "5"], ["3", "6"], ["2", "4"]]


def test_without_a_card_each_cylinder_has_its_own_dead_centre(shell: Shell) -> None:
    file = engine(camshaft="", damper="")
    out = shell.ok("crank", file).out
    assert "Each cylinder at its own compression dead centre." in out
    assert "margin" not in out
    assert "On the damper" not in out
    found = shell.ok("crank", file, "--json").json
    assert [point["aim"] for point in found["points"]] == [0, 120, 240, 360, 480, 600]
    assert {point["margin"] for point in found["points"]} == {None}
    assert {point["rim"] for point in found["points"]} == {None}
    code, _, err = shell("crank", file, "--method", "camshaft")
    assert code == 1
    assert err.startswith("snugset: the camshaft's setting points need its four events")


def test_valve_by_valve_is_refused_for_bridges_and_given_for_others(shell: Shell) -> None:
    code, out, err = shell("crank", "barn-pump-six", "--method", "valve-by-valve")
    assert (code, out) == (1, "")
    assert err.startswith("snugset: valve by valve cannot be done with rocker bridges")
    out = shell.ok("crank", engine(rockers="shaft"), "--method", "valve-by-valve").out
    assert "\nP1  valve " in out
    assert out.count("\nP") == 12


def test_a_margin_too_wide_is_refused_with_what_would_do(shell: Shell) -> None:
    code, _, err = shell("crank", "barn-pump-six", "--margin", "140 deg")
    assert code == 1
    assert "132° would do" in err
    assert len(shell.ok("crank", "barn-pump-six", "--margin", "90", "--json").json["points"]) == 6


@pytest.mark.parametrize("margin", ["x", "-5", "5 in", "400"])
def test_a_margin_that_is_none_is_a_usage_error(shell: Shell, margin: str) -> None:
    code, out, err = shell("crank", "barn-pump-six", "--margin", margin)
    assert (code, out) == (2, "")
    assert err.startswith("snugset: --margin: ")


def test_filled_lifters_move_an_aim_to_where_the_pistons_are_down(shell: Shell) -> None:
    """Five fires 60° after one here: at 30° both pistons are 30° down, and the margin has room."""
    file = engine(intervals="[60, 180, 120, 120, 120, 120]", marks="")
    assert "No companions: the firing is uneven." in shell.ok("crank", file).out
    dry = shell.ok("crank", file, "--json").json["points"]
    filled = shell.ok("crank", file, "--filled", "--json").json["points"]
    assert (dry[0]["places"], dry[0]["aim"]) == (["1", "5"], 28)
    assert (filled[0]["places"], filled[0]["aim"]) == (["1", "5"], 30)
    assert min(point["margin"] for point in dry) == min(point["margin"] for point in filled)


def test_three_cylinders_fire_evenly_and_have_no_companions(shell: Shell) -> None:
    Path("three.yaml").write_text(THREE, "utf-8")
    assert shell.ok("crank", "three.yaml").out.endswith(
        "\nNo companions: an odd number of cylinders.\n"
    )


def test_an_engine_with_mistakes_is_told_with_their_places(shell: Shell) -> None:
    file = engine(camshaft="IVO 12 IVC 48 EVO 52 at seat", layout="inlin")
    code, out, err = shell("crank", file)
    assert (code, out) == (1, "")
    first, second = err.splitlines()
    assert first.startswith("engine.yaml:8:9: “inlin” is not inline or v")
    assert "EVC is missing" in second


def test_a_published_list_is_within_the_card(shell: Shell) -> None:
    """TM 5-3895-383-24, pp. 6-60 and 6-61: for 1-5-3-6-2-4, in two positions."""
    text = "0: 1I 2I 4I 1E 3E 5E\n360: 3I, 5I, 6I, 2E, 4E, 6E\n"
    file = engine(rockers="shaft")
    ran = shell.ok("crank", file, "--list", listed(text))
    assert "0°    1I  134°\n" in ran.out
    assert ran.out.endswith("\nEvery valve is closed at its position, with the margin asked for.\n")
    found = shell.ok("crank", file, "--list", "list.txt", "--json").json
    assert (found["missing"], found["repeated"], found["parted"]) == ([], [], [])
    assert {claim["place"]: claim["margin"] for claim in found["claims"]}["1E"] == 130


def test_a_list_in_two_positions_parts_the_valves_of_a_bridge(shell: Shell) -> None:
    text = "0: 1 2I 4I 3E 5E\n360: 3I 5I 6 2E 4E\n"
    code, out, err = shell("crank", "barn-pump-six", "--list", listed(text))
    assert (code, err) == (1, "")
    assert "2I and 2E are never set together, and their rocker bridge needs both closed" in out
    assert "1I and 1E" not in out
    found = shell("crank", "barn-pump-six", "--list", "list.txt", "--json").json
    assert sorted(found["parted"]) == [2, 3, 4, 5]


def test_valves_that_are_open_thin_or_forgotten_are_told(shell: Shell) -> None:
    """On the card exhaust 1 opens 130° past one's dead centre: 115 leaves 15, 140 is 10 too far."""
    file = engine(rockers="shaft")
    code, out, _ = shell("crank", file, "--list", listed("115: 1E\n116: 1I 1I\n"))
    assert code == 1
    assert "115°  1E  15°   1E has 15° of margin, under 20°\n" in out
    assert "Never set: 5I, 5E, " in out
    assert "Set more than once: 1I" in out
    code, out, _ = shell("crank", file, "--list", listed("140: 1E\n"))
    assert code == 1
    assert "1E is 10° outside its closed arc: it may be open" in out
    everything = "0: 1I 2I 4I 1E 3E 5E\n360: 3I 5I 6I 2E 4E 6E\n"
    thin = shell("crank", file, "--list", listed(everything), "--margin", "131")
    assert thin.code == 0
    assert "under 131°" in thin.out


def test_a_list_with_mistakes_is_told_with_their_places(shell: Shell) -> None:
    text = "0: 1 2I 7I\nx: 3I\n720.5: 6\n0: 2\n12:\n"
    code, out, err = shell("crank", "barn-pump-six", "--list", listed(text))
    assert (code, out) == (1, "")
    assert [line.partition(": ")[0] for line in err.splitlines()] == [
        *("list.txt:1:4", "list.txt:2:1", "list.txt:3:1", "list.txt:4:1", "list.txt:5:4")
    ]
    assert "the engine has no valve “7I”" in err


def test_a_list_needs_a_card(shell: Shell) -> None:
    code, _, err = shell("crank", engine(camshaft=""), "--list", listed("0: 1\n"))
    assert code == 1
    assert "Barn pump six (invented) has no camshaft card" in err
