#!/usr/bin/env python3
"""A thousand kills of a walk at full speed, through every kind of step, and 200 of commands.

``bench_kill.py [FOLDER] [KILLS] [SEED]``: takes some minutes, on a disk. What is proven after each
kill stands in ``tests/killing.py``; the short form of it is a test.
"""

import subprocess
import sys
from pathlib import Path


def main(folder: str = ".", kills: str = "1000", seed: str = "1") -> int:
    """Run the harness; it prints what was under way at the kills, and 1 is a loss."""
    harness = Path(__file__).parent.parent / "killing.py"
    words = ["--folder", folder, "--kills", kills, "--verbs", "200", "--seed", seed]
    return subprocess.run([sys.executable, harness, *words], check=False).returncode


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
