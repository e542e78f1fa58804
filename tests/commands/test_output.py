"""What comes from files and people is shown on a terminal, and never drives it."""

import io
import json
import sys
import unicodedata
from collections.abc import Callable
from decimal import Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from snugset.commands.layout import columns, folded
from snugset.commands.output import say, say_json, say_json_text, warn
from snugset.printable import counted, printable

ANY = st.text(st.characters(exclude_categories=()))


@given(ANY)
@example("\x1b[31m\x07\x9b0m")
@example("a\u202eb\u2066c\u200e")
@example("line\nline\ttab\rreturn")
@example("\ud800")
@example("long " * 60 + "\x1b[2J")
def test_nothing_printable_is_a_control_or_turns_the_reading_direction(text: str) -> None:
    shown = printable(text)
    assert len(shown) == len(text)
    for letter in shown:
        assert unicodedata.category(letter) not in {"Cc", "Cs", "Zl", "Zp"}
        assert unicodedata.bidirectional(letter) not in {
            *("LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI")
        }
        assert letter not in "\u200e\u200f\u061c"


@given(st.text(st.characters(categories=("L", "N", "P", "S"), include_characters=" ")))
@example("22 lbf·ft ± 5°, 3/16 in × π")
@example("می‌خواهم")
def test_what_can_be_seen_stays_as_it_was(text: str) -> None:
    assert printable(text) == text


def test_one_is_counted_as_one() -> None:
    assert counted(1, "answer") == "1 answer"
    assert counted(0, "answer") == "0 answers"
    assert counted(1, "figure stands", "figures stand") == "1 figure stands"
    assert counted(2, "figure stands", "figures stand") == "2 figures stand"


@pytest.mark.parametrize("encoding", ["utf-8", "ascii", "latin-1"])
@given(text=st.text())
@example(text="\x1b\x7f\x9b\u202e\U000e0001\ud800 lbf·ft")
def test_json_says_the_same_in_every_encoding_and_holds_nothing_unseen(
    encoding: str, text: str
) -> None:
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding=encoding, write_through=True)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "stdout", stream)
        say_json({"text": [text]})
    out = raw.getvalue().decode(encoding)
    assert json.loads(out) == {"text": [text]}
    assert out.replace("\n", "").isprintable()


def test_json_that_is_ready_is_written_as_it_is(capsys: pytest.CaptureFixture[str]) -> None:
    text = '{\n  "torque": "22 lbf·ft"\n}\n'
    say_json_text(text)
    assert capsys.readouterr().out == text


def test_a_decimal_is_a_number_in_json(capsys: pytest.CaptureFixture[str]) -> None:
    say_json([Decimal("0.5"), Decimal("58.000"), None])
    assert json.loads(capsys.readouterr().out) == [0.5, 58, None]


def test_columns_are_as_wide_as_what_is_shown_in_them() -> None:
    rows = [("a", "\x1b[1mlong\n", "last"), ("longer", "b", "x" * 90)]
    assert list(columns(rows)) == [
        "a       �[1mlong�  last",
        f"longer  b          {'x' * 90}",
    ]
    assert list(columns([])) == []


def test_a_long_last_column_is_folded_below_itself() -> None:
    lines = list(folded([("key", "word " * 30)]))
    assert len(lines) == 2
    assert all(len(line) <= 79 for line in lines)
    assert lines[1].startswith("     word word")


@pytest.mark.parametrize(("write", "where"), [(say, "out"), (warn, "err")])
def test_lines_to_people_are_shown_and_never_drive(
    write: Callable[..., None], where: str, capsys: pytest.CaptureFixture[str]
) -> None:
    write("a\x1b[2Jb", "\u202eowned\x07")
    assert getattr(capsys.readouterr(), where) == "a\ufffd[2Jb\n\ufffdowned\ufffd\n"
