"""Engine files: what they give, and every mistake at its place."""

from decimal import Decimal

import pytest

from snugset.files.engine import FEATURES, read_engine
from snugset.files.engine_shape import DRAFT
from snugset.files.values import Camshaft
from snugset.units import Quantity

from .reading import ENGINE, changed, told, value


def test_an_engine_is_read_whole() -> None:
    engine = value(ENGINE, read_engine)
    assert engine.name == "Barn pump six (invented)"
    assert engine.firing_order == (1, 5, 3, 6, 2, 4)
    assert engine.intervals == (Decimal(120),) * 6
    assert engine.marks == (Decimal(0), Decimal(120), Decimal(240))
    assert engine.damper == Quantity(Decimal("7.5"), "in")
    assert engine.ratio == Decimal("1.6")
    assert isinstance(engine.camshaft, Camshaft)
    assert engine.camshaft.evo == 52
    assert engine.connecting_rod == Quantity(Decimal(8), "in")
    assert "".join(engine.valves) == "EIIEEIIEEIIE"
    assert engine.banks == {}
    assert engine.features == {
        "layout": "inline",
        "cylinders": "6",
        "running": "clockwise",
        "rockers": "bridged",
        "lifters": "hydraulic",
    }
    assert list(engine.features) == list(FEATURES)


def test_fasteners_have_names_places_and_holes() -> None:
    engine = value(ENGINE, read_engine)
    head, cover = engine.fasteners["head"], engine.fasteners["cover"]
    assert (head.name, head.kind, cover.name, cover.kind) == ("head", "stud", "cover", "bolt")
    assert (head.order, head.generated) == (("2", "5", "4", "3", "6", "1"), False)
    assert (cover.order, cover.generated) == (("a", "b"), True)
    holes = {key: (place.wet, place.blind) for key, place in head.places.items()}
    assert holes == {
        "1": (True, False),
        "2": (False, True),
        "3": (None, None),
        "4": (None, None),
        "5": (True, True),
        "6": (None, False),
    }
    assert head.places["1"].key == "1"
    assert head.places["1"].length == Quantity(Decimal("4.25"), "in")
    assert head.places["2"].length is None
    assert str(head.places["1"].mark) == "f:24:12"


def test_left_out_intervals_are_even_and_make_two_turns() -> None:
    text = changed(ENGINE, "intervals: [120, 120, 120, 120, 120, 120]\n", "")
    assert value(text, read_engine).intervals == (Decimal(120),) * 6
    seven = changed(changed(text, "cylinders: 6", "cylinders: 7"), "[1, 5, 3", "[7, 1, 5, 3")
    seven = changed(seven, "valves: [E, I, I, E, E, I, I, E, E, I, I, E]\n", "")
    intervals = value(seven, read_engine).intervals
    assert len(intervals) == 7
    assert sum(intervals) == 720
    assert max(intervals) - min(intervals) < Decimal("0.001")


def test_a_vee_has_banks_and_uneven_intervals() -> None:
    text = changed(
        ENGINE, "layout: inline", "layout: v\nbanks: {left: [1, 3, 5], right: [2, 4, 6]}"
    )
    text = changed(text, "[120, 120, 120, 120, 120, 120]", "[150, 90, 150, 90, 150, 90]")
    engine = value(text, read_engine)
    assert engine.banks == {"left": (1, 3, 5), "right": (2, 4, 6)}
    assert engine.intervals == (Decimal(150), Decimal(90)) * 3


ONCE = "each fires once"
MISTAKES = [
    (
        "[1, 5, 3, 6, 2, 4]",
        "[1, 5, 3, 6, 2, 2]",
        [
            f"6:16: cylinder 4 is missing from the firing order; {ONCE}",
            f"6:31: cylinder 2 stands twice in the firing order; {ONCE}",
        ],
    ),
    (
        "[1, 5, 3, 6, 2, 4]",
        "[1, 5, 3, 6, 2, 4, 7]",
        ["6:34: there is no cylinder 7; the engine has 6"],
    ),
    (
        "[1, 5, 3, 6, 2, 4]",
        "1-5-3-6-2-4",
        [
            (
                "6:15: “1-5-3-6-2-4” stands where a list, each entry a whole number "
                "from 1 to 24 belongs"
            ),
        ],
    ),
    (
        "[120, 120, 120, 120, 120, 120]",
        "[120, 120, 120, 120, 120]",
        [
            (
                "7:12: 5 intervals for 6 cylinders; give one after each firing, or "
                "none if they are even"
            ),
        ],
    ),
    (
        "[120, 120, 120, 120, 120, 120]",
        "[120, 120, 120, 120, 120, 100]",
        [
            "7:12: the intervals sum to 700°; two turns of the crank are 720°",
        ],
    ),
    (
        "layout: inline",
        "layout: inline\nbanks: {left: [1]}",
        [
            "5:15: an inline engine has no banks; take them out, or write layout: v",
        ],
    ),
    (
        "layout: inline",
        "layout: v\nbanks: {left: [1, 3], right: [2, 3, 4, 9]}",
        [
            "5:16: cylinders 5 and 6 are missing from the banks; each lies in one bank",
            "5:34: cylinder 3 stands twice in the banks; each lies in one bank",
            "5:40: there is no cylinder 9; the engine has 6",
        ],
    ),
    (
        "layout: inline",
        "layout: inlnie",
        ["4:9: “inlnie” is not inline or v (did you mean “inline”?)"],
    ),
    (
        "marks: [0, 120, 240]",
        "marks: [0, 120, 120, 480]",
        [
            "9:12: the mark at 120° is given 2 times; keep one",
            "9:22: a mark at 480° is the mark at 120°; write that",
        ],
    ),
    ("ratio: 1.6", "ratio: 1,6", ["13:8: “1,6” is not a number from 1 to 2.5; write “1.6”"]),
    ("ratio: 1.6", "ratio: 16", ["13:8: “16” is not a number from 1 to 2.5"]),
    ("ratio: 1.6\n", "", ["1:1: “ratio” is missing here; it takes a number from 1 to 2.5"]),
    (
        "running: clockwise",
        "runing: clockwise",
        ["8:1: “runing” is no field here (did you mean “running”?)"],
    ),
    (
        "connecting-rod: 8 in",
        "connecting-rod: 2 in",
        [
            "1:1: a connecting rod of 2 in cannot turn a stroke of 4.5 in; mend one of them",
        ],
    ),
    (
        "stroke: 4.5 in",
        "stroke: 0 in",
        ["15:9: a stroke of 0 in is no size; give more than 0, or leave the field out"],
    ),
    (
        "valves: [E, I, I, E,",
        "valves: [E, E, I, I,",
        [
            "17:9: valves 1 and 2 are both E; each cylinder has one E and one I",
            "17:9: valves 3 and 4 are both I; each cylinder has one E and one I",
        ],
    ),
    (
        "valves: [E, I, I, E,",
        "valves: [E, I,",
        [
            "17:9: 10 valves for 6 cylinders; give two to a cylinder, from the front",
        ],
    ),
    (
        "hole: wet through",
        "hole: through wet",
        [
            (
                "24:37: “through wet” does not say what the hole is; write wet, "
                "dry or unknown, then "
                "through, blind or unknown"
            ),
        ],
    ),
    (
        '["2", "5", "4", "3", "6", "1"]',
        '["2", "5", "4", "3", "6", "6"]',
        [
            "22:13: place 1 is missing from the order; each is tightened once",
            "22:38: place 6 stands twice in the order; each is tightened once",
        ],
    ),
    (
        '["2", "5", "4", "3", "6", "1"]',
        '["2", "5", "4", "3", "6", "1", "66"]',
        [
            "22:43: there is no place “66” in this group (did you mean “6”?)",
        ],
    ),
    (
        '["2", "5", "4", "3", "6", "1"]',
        "[]",
        [
            "20:5: places 1, 2, 3, 4, 5 and 6 are missing from the order; each is tightened once",
        ],
    ),
    (
        "rows: [lower, upper]",
        "rows: [lower]",
        [
            "21:12: 1 rows are named, the places lie in 2; name each row once",
        ],
    ),
    (
        '"6": {x: 5 in, y: 0 in',
        '"6": {x: 127 mm, y: 3 in',
        [
            "29:12: places 3 and 6 lie at the same x and y; mend one of them",
        ],
    ),
    (
        "kind: bolt\n    places:\n      a: {x: 0 in, y: 0 in}\n      b: {x: 4 in, y: 0 in}",
        "kind: bolt\n    places: {}",
        [
            "31:5: this group has 0 places; it can have 1 to 200",
        ],
    ),
    (
        "snugset: engine/1",
        "snugset: engine/2",
        [
            "1:10: this file says it is “engine/2”; engine/1 is read here",
        ],
    ),
    (
        "camshaft: IVO 12",
        "camshaft: IVO twelve",
        [
            "14:11: “IVO” does not fit here; write the card as IVO 12 IVC 48 EVO 52 EVC 10 at seat",
        ],
    ),
]


@pytest.mark.parametrize(("old", "new", "expected"), MISTAKES)
def test_a_mistake_is_told_with_place_and_fix(old: str, new: str, expected: list[str]) -> None:
    assert told(changed(ENGINE, old, new), read_engine) == [f"f:{line}" for line in expected]


def test_all_mistakes_come_in_one_run() -> None:
    text = ENGINE
    for old, new in [
        ("cylinders: 6", "cylinders: six"),
        ("rockers: bridged", "rockers: bridge"),
        ("damper: 7.5 in", "damper: 7.5 lbf·ft"),
        ("kind: stud", "knid: stud"),
        ("x: 2.5 in, y: 3 in", "x: 2,5 in, y: 3 in"),
        ("note: Invented", "note: !x Invented"),
    ]:
        text = changed(text, old, new)
    lines = [int(line.split(":")[1]) for line in told(text, read_engine)]
    assert lines == [3, 5, 10, 11, 20, 25]


def test_the_schema_names_every_field() -> None:
    schema = DRAFT.schema()
    assert schema["required"] == [
        "snugset",
        "name",
        "layout",
        "cylinders",
        "firing-order",
        "running",
        "rockers",
        "lifters",
        "ratio",
    ]
    group = schema["properties"]["fasteners"]["additionalProperties"]
    assert group["required"] == ["kind", "places"]
    assert all("description" in field for field in schema["properties"].values())
