"""Typed readers: what each takes, what it says of anything else, its JSON Schema."""

from decimal import Decimal
from typing import Any

import pytest

from snugset.files.problems import Problems
from snugset.files.shapes import (
    Amount,
    AmountList,
    AmountWindow,
    Block,
    CamshaftCard,
    Choice,
    Field,
    Flag,
    ListOf,
    Located,
    MapOf,
    Misfit,
    Number,
    Pattern,
    Shape,
    Text,
    Whole,
    Word,
)
from snugset.files.versions import Version, sort_of
from snugset.units import Quantity

from .reading import told, value


@pytest.mark.parametrize(
    ("shape", "text", "expected"),
    [
        (Text(), "NO", "NO"),
        (Text(), "' kept  as typed '", " kept  as typed "),
        (Text(blank=True), '""', ""),
        (Word(), "lay-gasket.2", "lay-gasket.2"),
        (Word(), "7", "7"),
        (Whole(1, 24), "24", 24),
        (Whole(-5, 5), "-5", -5),
        (Flag(), "yes", True),
        (Flag(), "no", False),
        (Choice("stud", "bolt"), "bolt", "bolt"),
        (Number(), "1.60", Decimal("1.60")),
        (Number(), "-.5", Decimal("-0.5")),
        (Amount("in"), "4.25", Quantity(Decimal("4.25"), "in")),
        (Amount("in"), "108 mm", Quantity(Decimal(108), "mm")),
        (Amount("in", negative=True), "-2 in", Quantity(Decimal(-2), "in")),
        (Amount(""), "0.15", Quantity(Decimal("0.15"), "")),
        (
            AmountWindow("thou"),
            "30..40",
            (Quantity(Decimal(30), "thou"), Quantity(Decimal(40), "thou")),
        ),
        (
            AmountList("lbf·ft"),
            "22, 45 lbf·ft",
            (Quantity(Decimal(22), "lbf·ft"), Quantity(Decimal(45), "lbf·ft")),
        ),
        (ListOf(Whole(1, 9)), "[3, 1]", (3, 1)),
        (ListOf(Text(), lone=True), "one", ("one",)),
        (MapOf(Whole(1, 9)), "{a: 1, '2': 3}", {"a": 1, "2": 3}),
        (Pattern("[0-9]+ people", "a count such as 2 people"), "2 people", "2 people"),
        (Version("specs"), "specs/1", "specs/1"),
    ],
)
def test_a_shape_reads_what_it_is_for(shape: Shape[object], text: str, expected: object) -> None:
    got = value(text, shape.read)
    assert got == expected
    assert str(got) == str(expected)  # 1.60 stays 1.60


@pytest.mark.parametrize(
    ("shape", "text", "expected"),
    [
        (Text(), "''", "nothing stands here; a text belongs here"),
        (Text(3), "four", "this text has 4 characters; shorten it to 3"),
        (Text(), "[a]", "a list stands where a text belongs"),
        (Text(), "{a: 1, b: 2}", "a group of fields (a, b) stands where a text belongs"),
        (
            Word(),
            "Lay Gasket",
            (
                "“Lay Gasket” is no id; use small letters, digits, points and hyphens, such as "
                "“lay-gasket”"
            ),
        ),
        (Word(), "ÄÖ", "“ÄÖ” is no id; use small letters, digits, points and hyphens"),
        (Whole(1, 24), "25", "“25” is not a whole number from 1 to 24"),
        (Whole(1, 24), "six", "“six” is not a whole number from 1 to 24"),
        (Whole(1, 24), "٣", "“٣” is not a whole number from 1 to 24"),
        (Number(), "1,6", "“1,6” is not a number; write “1.6”"),
        (Number(Decimal(0), Decimal(720)), "721", "“721” is not a number from 0 to 720"),
        (Number(), "1e3", "“1e3” is not a number"),
        (Flag(), "true", "“true” is neither yes nor no; write one of them"),
        (Choice("stud", "bolt"), "bolts", "“bolts” is not stud or bolt (did you mean “bolt”?)"),
        (Choice("a", "b", "c"), "zz", "“zz” is not a, b or c"),
        (
            ListOf(Whole(1, 9)),
            "3",
            "“3” stands where a list, each entry a whole number from 1 to 9 belongs",
        ),
        (ListOf(Text(), least=2), "[a]", "this list has 1 entry; 2 are needed"),
        (MapOf(Text()), "[a]", "a list stands where ids, each with a text belongs"),
        (Version("engine"), "engine/2", "this file says it is “engine/2”; engine/1 is read here"),
        (
            CamshaftCard(),
            "IVO 12 IVC 48 EVO 52 EVC 10",
            "the checking lift is missing; end with “at seat”, “at advertised” or “at .050 in”",
        ),
    ],
)
def test_a_shape_says_what_is_wrong(shape: Shape[object], text: str, expected: str) -> None:
    assert told(text, shape.read) == [f"f:1:1: {expected}"]


@pytest.mark.parametrize(
    "text", ["4,25", "4 lbf·ft", "four", "9**9**9", "nan", "-1 in", "4 furlong"]
)
def test_a_figure_that_cannot_be_read_is_told_at_its_place(text: str) -> None:
    (line,) = told(
        f"a: 1\nb: '{text}'", Block(dict, {"a": Field(Text()), "b": Field(Amount("in"))}).read
    )
    assert line.startswith("f:2:4: “")


def test_every_wrong_entry_of_a_list_and_a_mapping_is_told() -> None:
    assert told("[0, 1, 10, x]", ListOf(Whole(1, 9)).read) == [
        "f:1:2: “0” is not a whole number from 1 to 9",
        "f:1:8: “10” is not a whole number from 1 to 9",
        "f:1:12: “x” is not a whole number from 1 to 9",
    ]
    assert [line[:6] for line in told("{a: 0, B: 1, c: 0}", MapOf(Whole(1, 9)).read)] == [
        "f:1:5:",
        "f:1:8:",
        "f:1:17",
    ]


def test_a_located_value_brings_its_place() -> None:
    (one, mark), (two, _) = value("[3,  1]", ListOf(Located(Whole(1, 9))).read)
    assert (one, two) == (3, 1)
    assert str(mark) == "f:1:2"


BLOCK: Block[dict[str, object]] = Block(
    dict,
    {
        "name": Field(Text(), needed=True),
        "firing-order": Field(ListOf(Whole(1, 9)), default=()),
        "ratio": Field(Number()),
    },
)


def test_a_block_hands_its_fields_over_by_keyword() -> None:
    assert value("{name: x, ratio: 1.6}", BLOCK.read) == {
        "name": "x",
        "firing_order": (),
        "ratio": Decimal("1.6"),
    }


def test_a_block_tells_all_its_mistakes_in_one_run() -> None:
    assert told("firing_order: [1]\nratio: x\nzzz: 1\n", BLOCK.read) == [
        "f:1:1: “firing_order” is no field here (did you mean “firing-order”?)",
        "f:1:1: “name” is missing here; it takes a text",
        "f:2:8: “x” is not a number",
        "f:3:1: “zzz” is no field here; known here are name, firing-order, ratio",
    ]


def test_fields_of_another_reader_are_neither_read_nor_unknown() -> None:
    assert (
        value("{name: x, do: y}", lambda node, into: BLOCK.read(node, into, beside=["do"]))
        is not None
    )
    assert told("{name: x, doo: y}", lambda node, into: BLOCK.read(node, into, beside=["do"])) == [
        "f:1:11: “doo” is no field here (did you mean “do”?)"
    ]


def test_what_a_block_makes_may_find_fields_that_do_not_fit() -> None:
    def make(*, low: int, high: int, mark: object) -> tuple[int, int, object]:
        if low >= high:
            raise Misfit("this is not above low", "high")
        if high == 9:
            raise Misfit("nine is out")
        return low, high, mark

    block = Block(make, {"low": Field(Whole(0, 9)), "high": Field(Whole(0, 9))}, marked=True)
    assert told("low: 3\nhigh: 2\n", block.read) == ["f:2:7: this is not above low"]
    assert told("low: 3\nhigh: 9\n", block.read) == ["f:1:1: nine is out"]
    assert str(value(" \n low: 3\n high: 4\n", block.read)[2]) == "f:2:2"


def test_the_schema_says_what_the_reader_takes() -> None:
    assert BLOCK.schema() == {
        "type": "object",
        "properties": {
            "name": {"type": ["string", "number", "boolean"], "maxLength": 4000},
            "firing-order": {
                "type": "array",
                "items": {"type": "integer", "minimum": 1, "maximum": 9},
                "minItems": 0,
            },
            "ratio": {"type": "number"},
        },
        "required": ["name"],
        "additionalProperties": False,
    }
    assert Choice("a", "b").schema() == {"enum": ["a", "b"]}
    assert Block(dict, {"a": Field(Flag(), help="Whether.")}).schema()["properties"]["a"] == {
        "enum": ["yes", "no", True, False],
        "description": "Whether.",
    }


def test_the_sort_of_a_file_is_its_first_word() -> None:
    assert value("snugset: engine/1\n", sort_of) == "engine"
    assert told("snugset: enigne/1\n", sort_of) == [
        (
            "f:1:10: “enigne/1” is not engine/1, procedure/1, steps/1, specs/1 or answers/1 "
            "(did you mean “engine/1”?)"
        )
    ]
    assert told("name: x\n", sort_of) == [
        (
            "f:1:1: “snugset” is missing here; it says engine/1, procedure/1, steps/1, specs/1 or "
            "answers/1"
        )
    ]
    assert told("- x\n", sort_of) == [
        (
            "f:1:1: a list stands where a file that begins with “snugset: engine/1, procedure/1, "
            "steps/1, specs/1 or answers/1” belongs"
        )
    ]


def test_reading_goes_on_when_the_list_of_mistakes_is_full_and_still_gives_nothing() -> None:
    into = Problems()
    wrong: Any = ListOf(Whole(1, 9))
    told_of = [0] * 300
    assert value(str(told_of).replace("0", "1"), wrong.read) == (1,) * 300
    from snugset.files.tree import parse  # noqa: PLC0415

    node = parse(str(told_of), "f", into)
    assert node is not None
    assert wrong.read(node, into) is None
    assert into.full
    other = parse("{naem: x}", "g", into)
    assert other is not None
    assert BLOCK.read(other, into) is None
    assert into.found == 302
