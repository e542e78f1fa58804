"""A fastener's place in words."""

import pytest

from snugset.files.engine import read_engine, words

from .reading import ENGINE, value


def test_a_fastener_is_put_in_words() -> None:
    head = value(ENGINE, read_engine).fasteners["head"]
    assert words(head, "1") == "upper row, first from the front"
    assert words(head, "3") == "upper row, third from the front"
    assert words(head, "5") == "lower row, second from the front"


def rows(ys: list[str], names: str = "") -> str:
    places = "\n".join(
        f"      {'abcdefghijkl'[column * len(ys) + row]}: {{x: {column} in, y: {y}}}"
        for column in range(2)
        for row, y in enumerate(ys)
    )
    head = ENGINE.partition("  head:")[0]
    return f"{head}  head:\n    kind: bolt\n{names}    places:\n{places}\n"


@pytest.mark.parametrize(
    ("ys", "names", "expected"),
    [
        (["0 in"], "", ["first from the front"]),
        (
            ["0 in", "25.4 mm"],
            "",
            ["lower row, first from the front", "upper row, first from the front"],
        ),
        (
            ["0 in", "1 in", "-1 in"],
            "",
            [f"{row} row, first from the front" for row in ("middle", "upper", "lower")],
        ),
        (
            ["0 in", "1 in", "2 in", "3 in"],
            "",
            [
                f"{n} row from below, first from the front"
                for n in ("first", "second", "third", "fourth")
            ],
        ),
        (
            ["0 in", "1 in"],
            "    rows: [pushrod side, manifold]\n",
            ["pushrod side, first from the front", "manifold row, first from the front"],
        ),
    ],
)
def test_rows_go_by_y_and_by_their_names(ys: list[str], names: str, expected: list[str]) -> None:
    group = value(rows(ys, names), read_engine).fasteners["head"]
    assert [words(group, "abcdefghijkl"[row]) for row in range(len(ys))] == expected


def test_places_are_counted_from_the_front_far_along() -> None:
    places = "\n".join(f"      p{x}: {{x: {x} in, y: 0 in}}" for x in range(24))
    text = f"{ENGINE.partition('  head:')[0]}  head:\n    kind: bolt\n    places:\n{places}\n"
    group = value(text, read_engine).fasteners["head"]
    assert [
        words(group, key) for key in ("p8", "p9", "p10", "p11", "p20", "p21", "p22", "p23")
    ] == [
        f"{nth} from the front"
        for nth in ("ninth", "10th", "11th", "12th", "21st", "22nd", "23rd", "24th")
    ]
