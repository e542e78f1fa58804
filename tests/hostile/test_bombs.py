"""What is made to be large, deep or endless ends in a sentence, soon and within memory."""

from pathlib import Path

import pytest

from .bombs import TAKEN, bombs
from .checked import told
from .process import run

QUICK = sorted(set(bombs()) - set(TAKEN))
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
