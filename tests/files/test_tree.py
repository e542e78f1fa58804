"""The located tree: places, what is kept as typed, what is refused."""

import sys
from typing import Any

import pytest
import yaml

from snugset.files import tree
from snugset.files.characters import forbidden
from snugset.files.problems import Mark, Problems
from snugset.files.tree import Fields, Items, Scalar, parse

from .reading import told


def read(text: str | bytes) -> Any:  # noqa: ANN401 -- a test knows what node it made
    into = Problems()
    node = parse(text, "f", into)
    assert not into, [str(problem) for problem in into.items]
    return node


@pytest.fixture(params=["C", "Python"], autouse=True)
def parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Run every test with both of PyYAML's parsers; not every platform has the one in C."""
    if request.param == "Python":
        monkeypatch.setattr(tree, "_LOADER", yaml.SafeLoader)


@pytest.mark.parametrize(
    "text", ["NO", "1:30", "0777", "on", "~", "1e3", "2026-01-01", ".5", "0x1F"]
)
def test_no_scalar_is_guessed(text: str) -> None:
    assert read(f"a: {text}\n").fields["a"][1] == Scalar(text, Mark("f", 1, 4), plain=True)


def test_every_node_and_every_name_knows_its_place() -> None:
    node = read("# note\none:\n  - ä: 'x'\n    öö: [p, q]\n")
    assert node.mark == Mark("f", 2, 1)
    items = node.fields["one"][1]
    assert isinstance(items, Items)
    assert items.mark == Mark("f", 3, 3)
    inner = items.items[0]
    assert isinstance(inner, Fields)
    key, value = inner.fields["öö"]
    assert key.mark == Mark("f", 4, 5)
    assert [item.mark for item in value.items] == [Mark("f", 4, 10), Mark("f", 4, 13)]  # type: ignore[union-attr]
    assert inner.fields["ä"][1] == Scalar("x", Mark("f", 3, 8), plain=False)


def test_fields_stay_in_the_order_of_the_file() -> None:
    assert list(read("z: 1\na: 2\nm: 3\n").fields) == ["z", "a", "m"]


def test_text_is_kept_as_typed_also_with_line_ends_of_another_system() -> None:
    assert read("a: |\n  one\n  twö 气\n").fields["a"][1].text == "one\ntwö 气\n"
    assert read(b"a: 1\r\nb: 2\r\n").fields["b"][1].mark == Mark("f", 2, 4)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a: &x 1\n", ["f:1:4: an anchor (“&x”) is not read; take it out"]),
        ("a: 1\nb: *x\n", ["f:2:4: an alias (“*x”) is not read; write the value out"]),
        ("a: !!int 1\n", ["f:1:4: a tag (“tag:yaml.org,2002:int”) is not read; take it out"]),
        ("a: ! x\n", ["f:1:4: a tag (“!”) is not read; take it out"]),
        ("a: 1\n---\nb: 2\n", ["f:2:1: a second document begins here; keep one to a file"]),
        ("a: 1\nb: 2\na: 3\n", ["f:3:1: “a” is given twice, first in line 1; keep one"]),
        ("[x]: 1\n", ["f:1:1: a name belongs here, before the “:”; write it as one text"]),
        ("", ["f:1:1: the file is empty; begin it with “snugset: …”"]),
        ("# only a remark\n", ["f:1:1: the file is empty; begin it with “snugset: …”"]),
        ("a: b\x00\n", ["f:1:5: a NUL (U+0000) stands here; take it out"]),
        ("a: b\rc\n", ["f:1:5: a carriage return (U+000D) stands here; take it out"]),
        ("# \u202ehidden\n", ["f:1:3: an invisible character (U+202E) stands here; take it out"]),
        ("# \u061c\n", ["f:1:3: an invisible character (U+061C) stands here; take it out"]),
        ("# \U000e0041\n", ["f:1:3: an invisible character (U+E0041) stands here; take it out"]),
        ("é: \u2066\n", ["f:1:4: an invisible character (U+2066) stands here; take it out"]),
        ("a: \ud800\n", ["f:1:4: a control character (U+D800) stands here; take it out"]),
        (
            'a: "\\u202e"\n',
            ["f:1:4: an invisible character (U+202E) stands in this text; take it out"],
        ),
        ('a: "\\e[2J"\n', ["f:1:4: an escape (U+001B) stands in this text; take it out"]),
        (
            "\ufeffa: 1\n",
            ["f:1:1: the file starts with a byte order mark; save it as UTF-8 without"],
        ),
    ],
)
def test_what_is_refused_is_told_with_its_place(text: str, expected: list[str]) -> None:
    assert told(text) == expected


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        (b"a: 1\nb: caf\xe9\n", "f:2:7: this is not UTF-8; save the file as UTF-8"),
        ("a: é".encode("utf-16"), "f:1:1: this is not UTF-8; save the file as UTF-8"),
        ("é: ".encode() + b"\xc0\x80", "f:1:4: this is not UTF-8; save the file as UTF-8"),
    ],
)
def test_bytes_are_read_as_strict_utf8(source: bytes, expected: str) -> None:
    into = Problems()
    assert parse(source, "f", into) is None
    assert [str(problem) for problem in into.items] == [expected]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "a: b: c\n",
            "1:5: a second “:” stands in this line; put the text after the first in quotes",
        ),
        ("a:\n\t- b\n", "2:1: a tab stands here; indent with spaces"),
        ("a: 'x\nb: 2\n", "1:4: a quote opens here and is never closed"),
        ("a: [1, 2\nb: 3\n", "1:4: a list opens here; check its commas and that “]” closes it"),
        ("a: {x: 1\nb: 2\n", "1:4: a group opens here; check its commas and that “}” closes it"),
        ("a: [1,,2]\n", "1:7: a value is missing here; write it, or take out a comma"),
        ("a: @x\n", "1:4: a text may not begin with “@”; put it in quotes"),
        ("a: *\n", "1:5: a text may not begin with “*”; put it in quotes"),
        ("a: 1\nb 2\nc: 3\n", "2:1: a “:” is missing after this name; write it as “name: value”"),
        ("a: |9x\n", "1:6: the text after “|” or “>” begins in the next line"),
        (
            "a:\n  - 1\n - 2\n",
            (
                "3:2: this does not fit under the lines above; give the fields "
                "of one group the same "
                "indent and put whole texts in quotes"
            ),
        ),
        (
            "- a\nb: 1\n",
            "2:1: this does not line up with the list above; begin it with “- ” at the same indent",
        ),
        (
            "a: 1\n b: 2\n",
            (
                "2:3: this line does not fit under the one above; give the fields of one group the "
                "same indent and write “:” after each"
            ),
        ),
    ],
)
def test_a_syntax_error_says_in_plain_words_what_to_mend(text: str, expected: str) -> None:
    assert told(text) == [f"f:{expected}"]


def test_all_refused_things_of_a_file_are_told_in_one_run() -> None:
    text = "a: &x 1\nb: *x\na: !t 2\n? {k: v}\n: 3\n"
    assert [line.split(": ", 1)[0] for line in told(text)] == [
        "f:1:4",
        "f:2:4",
        "f:3:1",
        "f:3:4",
        "f:4:3",
    ]


def test_what_was_refused_gets_no_second_complaint() -> None:
    into = Problems()
    node = parse("a: *x\n", "f", into)
    assert isinstance(node, Fields)
    into.add(node.fields["a"][1].mark, "nothing stands here")
    assert len(into) == 1


def test_depth_is_bounded() -> None:
    assert read("[" * 24 + "]" * 24) is not None
    assert told("[" * 25 + "]" * 25) == [
        "f:1:25: this is nested more than 24 deep; make it flatter"
    ]
    for deep in ("[", "{", "- ", "? "):
        (told_of_it,) = told(deep * 100_000)
        assert told_of_it.endswith("this is nested more than 24 deep; make it flatter")


def test_size_is_bounded() -> None:
    # Not run to the end by either parser: the length alone decides.
    assert told("a" * (2 * 1024 * 1024 + 1)) == [
        "f:1:1: the file is larger than 2 MiB; split it or take out what is no use"
    ]


def test_the_number_of_entries_is_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tree, "_MOST_NODES", 10)
    assert told("[1, 2, 3, 4, 5, 6, 7, 8, 9]") == []
    assert told("[1, 2, 3, 4, 5, 6, 7, 8, 9,\n 10]") == [
        "f:2:2: the file holds more than 50,000 entries; split it"
    ]


def test_what_can_be_seen_is_never_forbidden() -> None:
    everything = "".join(map(chr, range(sys.maxunicode + 1)))
    found = {match[0] for match in forbidden(everything)}
    assert {"\t", "\r", "\0", "\x1b", "\u202e", "\ufeff", "\ud800"} < found
    assert not [letter for letter in found if letter.isprintable()]
    assert not {"\n", " ", "\u00a0", "°", "\u200d"} & found
