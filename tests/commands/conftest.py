"""A shell of the test's own."""

import shutil
import tempfile
from pathlib import Path

import pytest

from snugset.journal.shelf import Shelf
from snugset.play import play

from .shell import ANSWERS, Shell


@pytest.fixture
def shell(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Shell:
    """Give a shell whose home, data and scratch folders are the test's."""
    for name in ("home", "scratch", "work"):
        (tmp_path / name).mkdir()
    data = tmp_path / "data"
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.delenv("XDG_DATA_HOME", raising=False)
    monkeypatch.setenv("SNUGSET_DATA", str(data))
    monkeypatch.setenv("SNUGSET_PERSON", "Wren")
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "scratch"))
    monkeypatch.chdir(tmp_path / "work")
    return Shell(data, monkeypatch, capsys)


@pytest.fixture(scope="session")
def played(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a data folder with the demo played to its end; it is copied, never changed."""
    data = tmp_path_factory.mktemp("played")
    play(ANSWERS, Shelf(data))
    return data


@pytest.fixture
def full(shell: Shell, played: Path) -> Shell:
    """Give a shell with one finished build."""
    shutil.copytree(played, shell.data)
    return shell
