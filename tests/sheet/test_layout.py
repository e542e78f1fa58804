"""Paragraphs, lists and tables fit in 100 columns."""

from hypothesis import given
from hypothesis import strategies as st

from snugset.sheet.layout import MOST, WIDTH, items, paragraph, table, width

WORDS = st.lists(st.text(alphabet="abcδ界", min_size=1, max_size=30), min_size=1, max_size=80)


@given(WORDS)
def test_folded_text_fits_and_loses_no_word(words: list[str]) -> None:
    lines = items([" ".join(words)])
    assert all(width(line) <= WIDTH for line in lines)
    assert " ".join(lines).replace("- ", "", 1).split() == words


@given(st.integers(2, 9), st.integers(1, 4), st.integers(1, 60))
def test_a_wide_table_becomes_several_that_fit(columns: int, rows: int, length: int) -> None:
    head = [f"H{number}" for number in range(columns)]
    cells = [[f"{'x' * length}{n}" for n in range(columns)] for _ in range(rows)]
    lines = table(head, cells)
    assert all(width(line) <= WIDTH for line in lines)
    heads = [line for line in lines if "H0" in line]
    assert sorted({word for line in heads for word in line.split() if word != "|"}) == head


def test_a_wide_table_repeats_its_first_column() -> None:
    lines = table(("No", "A", "B", "C"), [("7", "a" * 40, "b" * 40, "c" * 40)])
    assert [line.split("|")[1].strip() for line in lines if line.startswith("| 7")] == ["7", "7"]


def test_a_long_cell_is_cut_but_not_within_an_escape() -> None:
    cell = "x" * (MOST - 2) + "\\|" + "y"
    line = table(("A",), [(cell,)])[2]
    assert line == f"| {'x' * (MOST - 2)}… |"


def test_empty_columns_are_left_out_and_common_ones_said_once() -> None:
    lines = table(("No", "By", "Note"), [("1", "Wren", ""), ("2", "Wren", "")], shared=("By",))
    assert lines == [
        "| No |",
        "|----|",
        "| 1  |",
        "| 2  |",
        "",
        "In every row: By Wren.",
        "",
    ]


def test_a_word_longer_than_a_line_stays_whole() -> None:
    word = "x" * 150
    assert paragraph(f"before {word} after") == ["before", word, "after", ""]


def test_no_rows_make_no_table() -> None:
    assert table(("A", "B"), []) == []
