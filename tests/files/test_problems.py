"""Mistakes: their order, their caret, the near word."""

import pytest

from snugset.files.problems import Mark, Problem, Problems, did_you_mean, quote


def test_mistakes_come_by_file_line_and_column() -> None:
    into = Problems()
    for mark in (Mark("b", 1, 1), Mark("a", 10, 1), Mark("a", 9, 20), Mark("a", 9, 3)):
        into.add(mark, "x")
    assert [str(p.mark) for p in into.items] == ["a:9:3", "a:9:20", "a:10:1", "b:1:1"]


def test_a_mistake_prints_as_file_line_column_and_text() -> None:
    assert (
        str(Problem(Mark("head.yaml", 3, 7), "six is no number"))
        == "head.yaml:3:7: six is no number"
    )


@pytest.mark.parametrize(
    ("line", "column", "at"),
    [
        ("a: b", 4, 3),
        ("气缸: b", 5, 6),  # wide characters take two columns
        ("e\u0301a: b", 6, 4),  # a combining accent takes none
        ("a:\tb", 4, 3),
        ("a: b", 9, 4),
    ],
)
def test_the_caret_stands_under_the_place(line: str, column: int, at: int) -> None:
    shown, caret = Problems.caret(Problem(Mark("f", 2, column), "x"), f"\n{line}\n").split("\n")
    assert shown == line.replace("\t", " ")
    assert caret == " " * at + "^"


def test_a_long_line_is_cut_around_the_place() -> None:
    line = "a" * 500 + "X" + "b" * 500
    shown, caret = Problems.caret(Problem(Mark("f", 1, 501), "x"), line).split("\n")
    assert len(shown) < 100
    assert shown[caret.index("^")] == "X"


def test_nothing_in_a_snippet_drives_the_terminal() -> None:
    snippet = Problems.caret(Problem(Mark("f", 1, 1), "x"), "a\x1b[2J\u202eb\r\nc")
    assert snippet == "a\ufffd[2J\ufffdb\n^"
    assert quote("a\x1b[31m\nb") == "“a\ufffd[31m b”"


def test_a_near_word_is_offered_and_a_far_one_is_not() -> None:
    assert (
        did_you_mean("firing_order", ["firing-order", "name"]) == " (did you mean “firing-order”?)"
    )
    assert did_you_mean("N·M", ["N·m", "lbf·ft"]) == " (did you mean “N·m”?)"
    assert did_you_mean("zzz", ["firing-order", "name"]) == ""
    assert did_you_mean("n" * 1000, ["n" * 999]) == ""


def test_the_list_ends_and_says_so() -> None:
    into = Problems()
    for line in range(1, 1000):
        into.add(Mark("f", line, 1), "x")
    assert into.full
    assert len(into) == 200
    assert (
        into.items[-1].text == "x; the list ends here, more mistakes may follow: mend these first"
    )
