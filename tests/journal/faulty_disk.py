"""A program of its own whose disk fails at the nth call, for every n of one append.

``faulty_disk.py FOLDER`` prints a line of JSON: how many calls were made to fail, by kind of call
and kind of fault, and what was wrong. It needs the library built from ``faulty.c``, loaded before
the C library. What is proven of each fault:

- an answer that the bench took is in the file afterwards; one that was refused with an error may
  be, and then the bench says so before anything else is answered;
- the error is the disk's, never damage; nothing is set aside; reading says the same or reads;
- once the disk works again, the same words go on from there, and the journal is whole.
"""

import ctypes
import errno
import json
import shutil
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime
from itertools import count
from pathlib import Path

from snugset.bench import Bench
from snugset.guide.apply import fold
from snugset.guide.ruling import Refusal
from snugset.journal.errors import JournalError
from snugset.journal.owner import Owner
from snugset.journal.reading import read_head, read_records, verify
from snugset.play import Paced

READ, WRITE, SYNC, CUT, OPEN = 1, 2, 4, 8, 16
ALL = READ | WRITE | SYNC | CUT | OPEN
OWNER = Owner.here(person="Wren", since="")
FAULTS = (
    ("read error", READ, errno.EIO, 0, 0),
    ("read error for good", READ, errno.EIO, 0, 1),
    ("full disk", WRITE, errno.ENOSPC, 0, 0),
    ("full disk, short write", WRITE, errno.ENOSPC, 1, 1),
    ("write error", WRITE, errno.EIO, 0, 0),
    ("write error, short", WRITE, errno.EIO, 1, 0),
    ("sync error", SYNC, errno.EIO, 0, 0),
    ("sync error for good", SYNC, errno.EIO, 0, 1),
    ("truncate error", CUT, errno.EIO, 0, 1),
    ("read-only", WRITE | OPEN | CUT, errno.EROFS, 0, 1),
    ("any error", ALL, errno.EIO, 0, 0),
    ("any error for good", ALL, errno.EIO, 0, 1),
)


def library(into: Path) -> Path | None:
    """Build the library that makes calls fail; None where there is no C compiler, or no Linux."""
    compiler = shutil.which("cc") or shutil.which("gcc")
    if compiler is None or sys.platform != "linux":
        return None
    built, source = into / "faulty.so", Path(__file__).with_name("faulty.c")
    words = [compiler, "-shared", "-fPIC", "-Wall", "-Werror", "-o", str(built), str(source)]
    subprocess.run([*words, "-ldl"], check=True)
    return built


class Disk:
    """The library that makes calls fail."""

    def __init__(self, folder: Path) -> None:
        self._folder = str(folder).encode()
        self._library = ctypes.CDLL(None)

    def fail(self, kinds: int, nth: int, error: int, half: int = 0, ever: int = 0) -> None:
        """Make the nth call of these kinds fail; 0 counts them only."""
        self._library.faulty_arm(self._folder, kinds, nth, error, half, ever)

    def heal(self) -> int:
        """Let everything through; how many calls there were."""
        found = int(self._library.faulty_count())
        self._library.faulty_arm(b"", 0, 0, 0, 0, 0)
        return found


class Trial:
    """One bench on one disk, and every fault in turn."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.disk = Disk(folder)
        self.clock = Paced(datetime(2026, 3, 6, 18, 0, tzinfo=UTC))
        self.failed: Counter[str] = Counter()
        self.kept_after_all: Counter[str] = Counter()
        self.wrong: list[str] = []
        self.bench = Bench.open(folder, owner=OWNER, clock=self.clock, fresh=True)
        self.acknowledged = len(self.bench.records)

    def hold(self, holds: object, what: str) -> None:
        """Note what does not hold."""
        if not holds:
            self.wrong.append(what)

    def append(self, name: str, fault: tuple[int, int, int, int], nth: int) -> bool:
        """Answer while the nth call fails; whether there was such a call."""
        kinds, error, half, ever = fault
        self.clock.advance(1)
        here = f"{name} at {nth}"
        before = len(self.bench.records)
        self.disk.fail(kinds, nth, error, half, ever)
        try:
            outcome = self.bench.say(f"note {here}")
            self.hold(not isinstance(outcome, Refusal), f"{here}: refused, {outcome.code}")
            self.acknowledged = len(self.bench.records)
        except JournalError as fault_said:
            self.hold(fault_said.code == "disk", f"{here}: {fault_said.code}, {fault_said}")
            self.hold(len(self.bench.records) == before, f"{here}: shown though it failed")
            self.failed[name] += 1
            self._cannot_read(here)
        calls = self.disk.heal()
        self._again(here, name)
        return 0 < nth <= calls

    def _cannot_read(self, here: str) -> None:
        """Look at the build while the disk still fails: it reads, or the disk is named."""
        looks: tuple[Callable[[Path], object], ...] = (verify, read_records, read_head)
        for look in looks:
            try:
                found = look(self.folder)
                self.hold(getattr(found, "whole", True), f"{here}: {look.__name__} says {found}")
            except JournalError as fault:
                self.hold(
                    fault.code in ("disk", "open-elsewhere", "busy"),
                    f"{here}: {look.__name__} says {fault.code}: {fault}",
                )

    def _again(self, here: str, name: str) -> None:
        """Answer again, a little later, on a disk that works."""
        for _ in range(2):
            self.clock.advance(1)
            try:
                outcome = self.bench.say(f"note again, {here}")
            except JournalError as fault:
                self.hold(False, f"{here}: on a healed disk {fault.code}: {fault}")  # noqa: FBT003
                return
            if not isinstance(outcome, Refusal):
                break
            self.hold(outcome.code == "behind", f"{here}: {outcome.code}")
            self.kept_after_all[name] += 1
        else:
            self.hold(False, f"{here}: refused twice")  # noqa: FBT003
        self.acknowledged = len(self.bench.records)
        found = read_records(self.folder)
        self.hold(list(found) == self.bench.records, f"{here}: the file holds something else")
        self.hold(self.bench.state == fold(found), f"{here}: another state")
        verdict = verify(self.folder)
        self.hold(verdict.whole, f"{here}: {verdict.problems}")

    def open(self, nth: int, *, ever: int) -> bool:
        """Open and read while the nth call fails; whether there was such a call."""
        self.bench.close()
        here = f"opening at {nth}"
        before = (self.folder / "journal.sqlite").read_bytes()
        self.disk.fail(ALL, nth, errno.EIO, 0, ever)
        opened = None
        try:
            opened = Bench.open(self.folder, owner=OWNER, clock=self.clock, fresh=True)
        except JournalError as fault:
            self.hold(fault.code == "disk", f"{here}: {fault.code}: {fault}")
            self.failed["opening"] += 1
            self._cannot_read(here)
        calls = self.disk.heal()
        self.hold((self.folder / "journal.sqlite").read_bytes() == before, f"{here}: changed")
        if opened is not None:
            opened.close()
        self.bench = Bench.open(self.folder, owner=OWNER, clock=self.clock, fresh=True)
        self.hold(len(self.bench.records) == self.acknowledged, f"{here}: lost some")
        return nth <= calls

    def read(self, *, ever: int) -> None:
        """Read the build in every way while any one call fails, or all from it on."""
        looks: tuple[Callable[[Path], object], ...] = (verify, read_records, read_head)
        for look in looks:
            for nth in count(1):
                here = f"{look.__name__} at {nth}"
                self.disk.fail(ALL, nth, errno.EIO, 0, ever)
                try:
                    found = look(self.folder)
                    self.hold(getattr(found, "whole", True), f"{here}: {found}")
                except JournalError as fault:
                    self.hold(fault.code == "disk", f"{here}: {fault.code}: {fault}")
                    self.failed["reading"] += 1
                if nth > self.disk.heal():
                    break


def main(folder: Path) -> int:
    """Try every fault at every call."""
    trial = Trial(folder)
    for name, *fault in FAULTS:
        kinds, error, half, ever = fault
        nth = 1
        while trial.append(name, (kinds, error, half, ever), nth):
            nth += 1
    for ever in (0, 1):
        nth = 1
        while trial.open(nth, ever=ever):
            nth += 1
        trial.read(ever=ever)
    trial.bench.close()
    found = {"failed": trial.failed, "kept after all": trial.kept_after_all, "wrong": trial.wrong}
    sys.stdout.write(json.dumps(found) + "\n")
    return int(bool(trial.wrong))


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
