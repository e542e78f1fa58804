"""Runs the program in this process, in a data folder and a home of the test's own."""

import io
import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any, NamedTuple, TextIO

import pytest

from snugset.cli import main
from snugset.shipped import demo, engines, procedures

PROCEDURE = procedures()["inline-six-bridged-hydraulic"]
ENGINE = engines()["barn-pump-six"]
ANSWERS = demo()
SPECS = ANSWERS.with_name("specs.yaml")

NEW = ("new", "inline-six-bridged-hydraulic", "--engine", "barn-pump-six")
"""Begins a build from what is shipped, without a spec sheet."""


class Ran(NamedTuple):
    """What came of one run."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:  # noqa: ANN401 - whatever JSON says
        """What was written, read as JSON."""
        return json.loads(self.out)


class Shell:
    """Calls the program; `typed` is what comes on its standard input, or stands for it."""

    def __init__(
        self, data: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        self.data = data
        self._monkeypatch = monkeypatch
        self._capsys = capsys

    def __call__(self, *words: object, typed: str | TextIO = "") -> Ran:
        given = io.StringIO(typed) if isinstance(typed, str) else typed
        self._monkeypatch.setattr(sys, "stdin", given)
        self._capsys.readouterr()
        code = main([str(word) for word in words])
        out, err = self._capsys.readouterr()
        assert "Traceback" not in out + err
        return Ran(code, out, err)

    def ok(self, *words: object, typed: str = "") -> Ran:
        """Run what must succeed."""
        ran = self(*words, typed=typed)
        assert (ran.code, ran.err) == (0, ""), ran.err
        return ran

    def environ(self) -> dict[str, str]:
        """The environment for a process of its own."""
        return {**os.environ, "PYTHONUTF8": "1"}


def process(shell: Shell, *words: object, typed: str = "") -> Ran:
    """Run the program as a process of its own."""
    done = subprocess.run(
        [sys.executable, "-c", MAIN, *map(str, words)],
        input=typed,
        capture_output=True,
        text=True,
        env=shell.environ(),
        timeout=60,
        check=False,
    )
    assert "Traceback" not in done.stdout + done.stderr
    return Ran(done.returncode, done.stdout, done.stderr)


MAIN = "import sys; from snugset.cli import main; sys.exit(main())"
