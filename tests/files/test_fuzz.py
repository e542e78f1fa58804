"""Hostile files: any text gives a value or mistakes with their places, in bounded time."""

import time
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from snugset.files.answers import read_answers
from snugset.files.characters import forbidden
from snugset.files.engine import read_engine
from snugset.files.problems import Problems
from snugset.files.procedure import read_procedure
from snugset.files.specs import read_specs
from snugset.files.tree import Node, parse

from .kinds import KINDS
from .reading import ANSWERS, ENGINE, PROCEDURE, SPECS, value

Reader = Callable[[Node, Problems], object]
FIGURES = value(PROCEDURE, lambda node, into: read_procedure(node, KINDS, into)).figures
FILES: dict[str, tuple[str, Reader]] = {
    "engine": (ENGINE, read_engine),
    "procedure": (PROCEDURE, lambda node, into: read_procedure(node, KINDS, into)),
    "specs": (SPECS, lambda node, into: read_specs(node, FIGURES, into)),
    "answers": (ANSWERS, read_answers),
}
PIECES = st.one_of(
    st.sampled_from(
        [
            *("&a", "*a", "!t", "---\n", "...\n", "? ", ": ", "- ", "[", "]", "{", "}", ",", "'"),
            *('"', "|", ">", "#", "%", "@", "\t", "\n", "\r", "  ", "\0", "\x1b", "\u202e"),
            *("\ufeff", "\ud800", "\\u202e", "9" * 400, "-1", "1e999", "nan", "½", "٣", "0x10"),
            *("~", "null", "<<: ", "yes", "[]", "{}", '""'),
        ]
    ),
    st.text(max_size=8),
)


@st.composite
def mutated(draw: st.DrawFn, text: str) -> str:
    """Spoil a text in one to four places: cut, put in, double, swap lines."""
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.integers(0, 12)))
        match draw(st.sampled_from(["cut", "put", "double", "line"])):
            case "cut":
                text = text[:start] + text[end:]
            case "put":
                text = text[:start] + draw(PIECES) + text[end:]
            case "double":
                text = text[:end] + text[start:]
            case _:
                lines = text.split("\n")
                one, two = (draw(st.integers(0, len(lines) - 1)) for _ in range(2))
                lines[one], lines[two] = lines[two], lines[one]
                text = "\n".join(lines)
    return text


def check(source: str | bytes, read: Reader) -> Problems:
    """Read and hold what holds for every file."""
    into = Problems()
    node = parse(source, "f", into)
    got = None if node is None else read(node, into)
    assert (got is not None) or into
    text = source if isinstance(source, str) else source.decode("utf-8", "replace")
    lines = text.split("\n")
    for problem in into.items:
        assert 1 <= problem.mark.line <= len(lines)
        assert 1 <= problem.mark.column <= len(lines[problem.mark.line - 1]) + 1
        assert problem.text
        assert not [*forbidden(problem.text)]
        assert Problems.caret(problem, text).endswith("^")
    return into


@pytest.mark.parametrize("name", FILES)
@given(data=st.data())
@settings(max_examples=300, deadline=1000)
def test_a_spoiled_file_gives_a_value_or_mistakes(name: str, data: st.DataObject) -> None:
    text, read = FILES[name]
    check(data.draw(mutated(text)), read)


@pytest.mark.parametrize("name", FILES)
@given(source=st.one_of(st.binary(max_size=200), st.text(max_size=200)))
@settings(max_examples=100, deadline=1000)
def test_any_text_gives_mistakes(name: str, source: str | bytes) -> None:
    assert check(source, FILES[name][1])


@pytest.mark.parametrize("name", FILES)
@given(data=st.data())
@settings(max_examples=100, deadline=1000)
def test_a_file_torn_off_anywhere_is_read_or_told(name: str, data: st.DataObject) -> None:
    text, read = FILES[name]
    check(text.encode()[: data.draw(st.integers(0, len(text.encode())))], read)


HUGE = {
    "unknown fields": ENGINE + "".join(f"zz{n}: 1\n" for n in range(90_000)),
    "one field again and again": ENGINE + "name: x\n" * 90_000,
    "an order of strangers": ENGINE.replace('order: ["2",', f"order: [{'zz, ' * 90_000}"),
    "needs of strangers": PROCEDURE.replace(
        "lay-gasket\n            m", f"[{'zz, ' * 90_000}]\n            m"
    ),
    "steps without kind": PROCEDURE + "      - sya: x\n" * 60_000,
    "steps with kind": PROCEDURE + "".join(f"      - do: s{n}\n" for n in range(60_000)),
    "strange figures": SPECS + "".join(f"  f{n}: {{none: yes}}\n" for n in range(30_000)),
    "long text": f"a: {'x ' * 1_000_000}",
    "long name": f"{'x' * 2_000_000}: 1",
    "many lists": "[[]" + ",[]" * 150_000 + "]",
    "many quotes": "a: '" + "''" * 1_000_000 + "'",
    "many question marks": "? a\n" * 500_000,
    "many colons": "a" + ":a" * 1_000_000,
    "control characters": "\x01" * 2_000_000,
    "deep": "[" * 2_000_000,
    "deeper lines": "\n".join(" " * n + "a:" for n in range(1_900)),
    "remarks": "# x\n" * 500_000,
}


@pytest.mark.parametrize("name", HUGE)
def test_a_huge_file_is_read_or_told_in_bounded_time(name: str) -> None:
    text = HUGE[name]
    _, read = next((own for own in FILES.values() if text[:16] == own[0][:16]), FILES["engine"])
    started = time.process_time()
    check(text, read)
    # It takes about a second; a stall takes minutes.
    assert time.process_time() - started < 20
