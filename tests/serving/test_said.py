"""What a browser says: keys, size, a mark to give back; anything else is refused."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.serving.said import Keys, Nothing, Ping, Said, Size, read


@pytest.mark.parametrize(
    ("message", "said"),
    [
        (["stdin", "17+18\r"], Keys(b"17+18\r")),
        (["stdin", "0.4 \u00b5m"], Keys("0.4 \u00b5m".encode())),
        (["resize", {"width": 107, "height": 36}], Size(107, 36)),
        (["resize", {"width": 10**9, "height": -5}], Size(400, 2)),
        (["ping", "1795573496205"], Ping("1795573496205")),
        (["blur"], Nothing()),
        (["focus"], Nothing()),
    ],
)
def test_what_the_page_says_is_understood(message: object, said: Said) -> None:
    assert read(json.dumps(message)) == said


@pytest.mark.parametrize(
    "message",
    [
        "",
        "stdin",
        "[]",
        '["stdin"]',
        '["stdin", 5]',
        '["stdin", "a", "b"]',
        '["stdin", "\\ud800"]',
        '["resize", {"width": 80}]',
        '["resize", {"width": "80", "height": 24}]',
        '["resize", {"width": 1e400, "height": 24}]',
        '["ping", "' + "x" * 65 + '"]',
        '["quit"]',
        '[["stdin", "a"]]',
        "[" * 30_000,
        "1" * 5000,
    ],
)
def test_anything_else_is_refused(message: str) -> None:
    with pytest.raises(ValueError):  # noqa: PT011 - of whatever kind
        read(message)


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text() | st.just("resize"),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner),
    max_leaves=8,
)


@given(st.text() | JSON.map(json.dumps))
def test_no_message_does_anything_but_these(message: str) -> None:
    try:
        said = read(message)
    except ValueError:
        return
    assert isinstance(said, Keys | Size | Ping | Nothing)
