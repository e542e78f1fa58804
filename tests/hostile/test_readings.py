"""What people may type for a figure: the right value or a clear error, by a second reader."""

import pytest

from snugset.units import UNITS

from .readings import FIELDS, ask, hold


def test_every_unit_is_known_to_the_second_reader() -> None:
    assert set(FIELDS) == set(UNITS)


@pytest.mark.parametrize("seed", range(4))
def test_any_text_is_read_as_the_second_reader_reads_it_or_refused(seed: int) -> None:
    tally = hold(seed, 1000)
    assert tally.read > 200
    assert tally.refused > 200


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("1-1/2", True),
        ("1 1/2\u2033", True),
        ("\u22121 in", False),
        ("1,5", False),
        ("1\u00a0000 mm", False),
        ("1e3", False),
        ("\u0663\u0665", False),
        ("9**9**9", False),
        ("9" * 10**6, False),
        ("1/0 in", False),
        ("\ud800", False),
        ("1 \u212a", False),
    ],
)
def test_texts_that_a_reader_may_fall_for(text: str, *, read: bool) -> None:
    assert ask(text, "in", "one", negative=False) is read
