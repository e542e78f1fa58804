"""Walks and commands that are killed at random: the short form of ``tests/bench/bench_kill.py``."""

import json
import subprocess
import sys
from pathlib import Path

import killing
import killing_verbs


def test_no_acknowledged_answer_is_lost_whenever_the_walk_is_killed(tmp_path: Path) -> None:
    done = subprocess.run(
        [
            *(sys.executable, killing.__file__, "--folder", str(tmp_path)),
            *("--kills", "15", "--verbs", "7", "--files", "3", "--seed", "11"),
        ],
        capture_output=True,
        text=True,
        check=False,
        timeout=240,
    )
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert found["kills"] == 15
    assert set(found["verbs"]) == set(killing_verbs.VERBS)
    assert sum(found["verbs"].values()) > 0
    assert (found["lost"], found["unopened"]) == (0, 0)
    assert found["acknowledged"] > 7
    assert list(tmp_path.iterdir()) == []


def test_a_loss_would_be_seen(tmp_path: Path) -> None:
    """A walk that acknowledges before it keeps fails the harness."""
    code = """
import sys
import killing
def early(walk, folder, number):
    def work(say):
        say(number)
        say(min(number + 5, len(walk.kinds)))
        while True: pass
    return work
killing.walking = early
killing.FEW = 1
sys.argv[1:] = ["--kills", "3", "--verbs", "0", "--files", "1", "--folder", sys.argv[1]]
killing.main.__globals__["LONGEST_WAIT"] = 0.2
sys.exit(killing.main())
"""
    done = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path)],
        capture_output=True,
        text=True,
        check=False,
        timeout=240,
        env={"PYTHONPATH": str(Path(killing.__file__).parent)},
    )
    assert done.returncode == 1, done.stdout
    assert json.loads(done.stdout)["lost"] >= 3
    assert "acknowledged" in done.stderr
