"""Walks the demo in tmux at 80x24, as somebody does who has just typed the README's first command.

``python tests/walk_tmux.py COMMAND…`` runs the command in a terminal of its own, such as
``.venv/bin/snugset demo``, or the README's whole line in quotes; it installs nothing itself. It
ends with 1 and the screen at the first thing that is not as it should be. Needs tmux.
"""

import shlex
import subprocess
import sys
import tempfile
import time

PATIENCE = 30.0
"""Seconds for a step."""
START = 600.0
"""Seconds for the first screen: the command may install first."""


class Walk:
    """One terminal in tmux."""

    def __init__(self, command: str) -> None:
        self._scratch = tempfile.TemporaryDirectory(prefix="snugset-walk-")
        after = "; echo ended $?; stty -a | tr ' ;' '\\n\\n' | grep -x -- '-*echo'; sleep 600"
        self._tmux(
            "-f", "/dev/null", "new-session", "-d", "-x", "80", "-y", "24",
            f"sh -c {shlex.quote(command + after)}",
        )  # fmt: skip

    @property
    def _socket(self) -> str:
        return f"{self._scratch.name}/socket"

    def _tmux(self, *words: str) -> str:
        done = subprocess.run(
            ["tmux", "-u", "-S", self._socket, *words], capture_output=True, text=True, check=False
        )
        if done.returncode:
            raise SystemExit(f"tmux {' '.join(words)}: {done.stderr.strip()}")
        return done.stdout

    @property
    def shown(self) -> str:
        """What stands on the screen."""
        return self._tmux("capture-pane", "-p")

    def see(self, *texts: str, patience: float = PATIENCE) -> str:
        """Wait until texts stand on the screen, and give it."""
        end = time.monotonic() + patience
        while True:
            shown = self.shown
            missing = [text for text in texts if text not in shown]
            if not missing:
                sys.stdout.write(f"seen: {'; '.join(texts)}\n")
                return shown
            if time.monotonic() > end:
                raise SystemExit(f"not seen: {'; '.join(missing)}\n{shown}")
            time.sleep(0.1)

    def gone(self, text: str) -> None:
        """Wait until a text stands on the screen no more."""
        end = time.monotonic() + PATIENCE
        while text in self.shown:
            if time.monotonic() > end:
                raise SystemExit(f"still there: {text}\n{self.shown}")
            time.sleep(0.1)

    def press(self, *keys: str) -> None:
        """Press keys, by tmux's names, once the screen is still: earlier keys are dropped."""
        self._still()
        self._tmux("send-keys", *keys)

    def type(self, text: str) -> None:
        """Type a text."""
        self._still()
        self._tmux("send-keys", "-l", text)

    def _still(self) -> None:
        before = ""
        while before != (before := self.shown):
            time.sleep(0.3)

    def resize(self, width: int, height: int) -> None:
        """Change the size of the terminal."""
        self._tmux("resize-window", "-x", str(width), "-y", str(height))

    def close(self) -> None:
        """End the terminal."""
        subprocess.run(
            ["tmux", "-S", self._socket, "kill-server"], capture_output=True, check=False
        )
        self._scratch.cleanup()


def walk(on: Walk) -> None:
    """Go through several steps of the demo, a slip and an undo among them, and leave."""
    shown = on.see(
        "thou ▸", "Intake of 4", "Ledger, round 1", "gap@4I#1", "^Q quit", patience=START
    )
    lines = shown.rstrip("\n").split("\n")
    if len(lines) != 24 or any(len(line) > 80 for line in lines):
        raise SystemExit(f"not 80x24:\n{shown}")
    on.type("40+38")
    on.see("78 thou")
    on.type("; 40+40")
    on.see("79 thou", "high")
    on.press("Enter")
    on.see("Exhaust of 4", "gap@4E#1", "✓ Intake of 4: 79 thou")
    on.type("25,4")
    on.press("Enter")
    on.see("✗", "comma", "gap@4E#1")
    on.press("Escape")
    on.type("43+41; 43+40")
    on.press("Enter")
    on.see("bridge-off@4#1", "done: Enter")
    on.press("F3")
    on.see("gap@4E#1", "✓ Took back gap@4E#1.")
    on.press("F9")
    on.see("History of Barn pump six", "↶")
    on.press("Escape")
    on.see("thou ▸")
    on.press("F8")
    on.see("Spec sheet ·", "head-flatness")
    on.press("Escape")
    on.press("F1")
    on.see("Help · bench")
    on.press("Escape")
    for size in ((160, 48), (100, 30), (80, 24)):
        on.resize(*size)
        on.see("Exhaust of 4", "Ledger, round 1", "^Q quit")
    on.press("C-q")
    on.see("The demo stands in", "nothing of yours was touched", "ended 0")
    if "\n-echo" in on.shown or "\necho" not in on.shown:
        raise SystemExit(f"the terminal was not left whole:\n{on.shown}")
    on.gone("^Q quit")


def main() -> None:
    """Run the walk with the command that was given."""
    if len(sys.argv) < 2:
        raise SystemExit(__doc__)
    command = sys.argv[1] if len(sys.argv) == 2 else shlex.join(sys.argv[1:])
    on = Walk(command)
    try:
        walk(on)
    finally:
        on.close()
    sys.stdout.write("The demo was walked and left whole.\n")


if __name__ == "__main__":
    main()
