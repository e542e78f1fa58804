"""What is made to be large, deep or endless ends in a sentence, soon and within memory."""

import time
from pathlib import Path

import pytest

from .bombs import TAKEN, bombs
from .checked import told
from .process import run
from .squares import SQUARES

QUICK = sorted(set(bombs()) - set(TAKEN) - set(SQUARES))
MOST_MIB = 200
TRACES = (b"Traceback", b"fault inside")


@pytest.mark.parametrize("name", QUICK)
def test_a_bomb_is_told(name: str, tmp_path: Path) -> None:
    file = tmp_path / "bomb.yaml"
    file.write_bytes(bombs()[name])
    assert told(file)


@pytest.mark.parametrize("name", [*TAKEN, "a chain of needs", "tags", "conditions"])
def test_the_largest_in_a_process_of_its_own(name: str, tmp_path: Path) -> None:
    file = tmp_path / "bomb.yaml"
    file.write_bytes(bombs()[name])
    ran = run("check", file, data=tmp_path / "data")
    assert ran.code == (name not in TAKEN)
    assert not any(trace in ran.out for trace in TRACES), ran.out[-2000:]
    assert b"\x1b" not in ran.out
    assert ran.mebibytes < MOST_MIB
    assert [path.name for path in tmp_path.iterdir()] == ["bomb.yaml"]


@pytest.mark.parametrize(
    "name",
    [
        "steps named",
        "steps named that are not there",
        "what was changed",
        "words of one step that nothing fills",
        "cranks that nothing proves",
    ],
)
def test_sixteen_times_as_much_takes_no_square_of_it(name: str, tmp_path: Path) -> None:
    """Sixteen times the text takes some twenty times as long, where its square is 256.

    The least of three short runs counts, and the least of as many long ones as are needed, up to
    three: one slow moment of the machine is no growth, and more long runs only lower the share.
    """
    make, most = SQUARES[name]
    short, long = make(most // 16), make(most)
    few = min(_took(short, tmp_path) for _ in range(3))
    assert any(_took(long, tmp_path) / few < 40 for _ in range(3))


def _took(text: str, folder: Path) -> float:
    file = folder / "square.yaml"
    file.write_text(text, "utf-8")
    started = time.process_time()
    told(file)
    return time.process_time() - started


def test_a_list_of_conditions_has_an_end(tmp_path: Path) -> None:
    file = tmp_path / "many.yaml"
    file.write_text(
        "snugset: procedure/1\nname: x\nphases:\n  - title: T\n    steps:\n"
        f"      - {{do: d, if: [{', '.join(['cylinders are 6'] * 25)}]}}\n",
        "utf-8",
    )
    assert told(file) == ["this list has 25 entries; it can have 24"]
