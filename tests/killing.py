"""Kills a walk at full speed, at random moments, and holds what is left against an unharmed walk.

``killing.py --kills N --seed S [--folder DIR]``. Children are forked from a process that has
everything loaded, and give whole answers files to `Bench.say` and `Bench.came_back`, one answer
after the other, with a line on a pipe once each has returned. SIGKILL comes after a random number
of such lines and a random wait. The walk then goes on from there, so that every place of every
build comes under fire. The clock is the file's own, so an unharmed walk gives the same records,
byte for byte; after a kill there must be those up to the last answer acknowledged, or up to the one
after it, and nothing else.

Commands are killed too, see ``killing_verbs.py``: what is seen afterwards must be complete.

It prints one line of JSON. The exit code is 1 where anything was lost or does not open, with what
it was; the other kills are done all the same.
"""

import argparse
import json
import os
import random
import select
import shutil
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path

from driving import ANSWERS, ROOT
from snugset.bench import Bench
from snugset.files.answers import Answers, Person, Say, Wait
from snugset.guide.address import Address
from snugset.guide.apply import fold
from snugset.guide.events import Record
from snugset.guide.returning import IDLE
from snugset.guide.ruling import Refusal
from snugset.guide.state import State
from snugset.guide.walk import occurrences
from snugset.journal.errors import JournalError
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.journal.reading import read_head, read_records, verify
from snugset.journal.shelf import Shelf
from snugset.opening import begin, pin, pin_shared
from snugset.play import Paced, read_answers_file
from snugset.stored import BuildError

WALKS = ROOT / "tests" / "walk"
FILES = (ANSWERS, WALKS / "stages" / "answers.yaml", *sorted(WALKS.glob("*-answers.yaml")))
"""Every kind of step is asked in one of them: a test of the screens looks."""
OWNER = Owner.here(person="Wren", since="")
LONGEST_STEP = 14
"""Answers at most between two kills; the mean is half of that."""
LONGEST_WAIT = 0.006
"""Seconds at most from an acknowledgement to the kill: some answers take so long."""
SHORT = 200
"""Kills under which only some places of each build come under fire."""
FEW = 3
"""Kills one after the other, and answers between them, where a kind of step is sought out."""
MOST_FAULTS = 100
"""Faults after which no more is tried: where every child fails, no kill would ever be counted."""
DEADLINE = 60
"""Seconds after which a child that says nothing counts as hung."""


Acknowledge = Callable[[int], None]
Work = Callable[[Acknowledge], None]
"""What a child does; it acknowledges numbers as it goes."""


class LostError(AssertionError):
    """Something that was acknowledged is not there, or something is there that never was."""

    def __init__(self, what: str, events: int = 1) -> None:
        super().__init__(what)
        self.events = events


class UnopenedError(AssertionError):
    """A build that does not open, or is not whole."""


@dataclass(slots=True)
class Tally:
    """What came of all kills."""

    acknowledged: int = 0
    """Events."""
    lost: int = 0
    """Events; a half command counts as one."""
    unopened: int = 0
    """Builds."""
    faults: list[str] = field(default_factory=list)

    @contextmanager
    def noted(self) -> Iterator[None]:
        """Count what does not hold, and go on with another build."""
        try:
            yield
        except LostError as fault:
            self.lost += fault.events
            self.faults.append(str(fault))
        except (UnopenedError, JournalError, BuildError) as fault:
            self.unopened += 1
            self.faults.append(str(fault))


def hold(holds: object, what: str) -> None:
    """Raise LostError unless it holds; these are checks of a program, not of a test runner."""
    if not holds:
        raise LostError(what)


def whole(folder: Path, where: str) -> None:
    """Raise UnopenedError unless a build is whole to its last record and photograph."""
    verdict = verify(folder)
    if not verdict.whole:
        raise UnopenedError(f"{where}: not whole: {verdict.problems}")


@dataclass(slots=True)
class Walk:
    """One answers file, and what an unharmed walk of it keeps."""

    path: Path
    answers: Answers
    records: tuple[Record, ...]
    after: list[int]
    """How many records there are after so many entries; the first is of none."""
    kinds: list[str]
    """The kind of step that each entry answers; “break” where one came between."""
    people: list[str]
    """Who is at the bench before each entry."""


def new(walk_answers: Answers, path: Path, shelf: Shelf) -> Path:
    """Begin the build of an answers file."""
    work = path.parent / walk_answers.procedure
    procedure = pin(work)
    return begin(
        shelf,
        name=walk_answers.name,
        procedure=procedure,
        shared=pin_shared(work, procedure),
        engine=pin(path.parent / walk_answers.engine),
        specs=pin(path.parent / walk_answers.specs) if walk_answers.specs else None,
        owner=OWNER,
        moment=walk_answers.start,
    )


def give(bench: Bench, clock: Paced, answers: Answers, number: int) -> None:
    """Give one entry, at the moment that the file has for it."""
    clock.moment = answers.start
    for entry in answers.answers[: number + 1]:
        if isinstance(entry, Wait):
            clock.advance(entry.time.number("s"))
        elif isinstance(entry, Say):
            clock.advance(answers.pace.number("s"))
    entry = answers.answers[number]
    if isinstance(entry, Wait) and entry.time.number("s") >= IDLE:
        bench.came_back()
    elif isinstance(entry, Person):
        bench.hand_over(entry.name)
    elif isinstance(entry, Say):
        bench.say(entry.text, at=Address.parse(entry.at))


class _Unwritten(Bench):
    """A bench that leaves the disk alone."""

    def _store(self, _records: list[Record], _state: State, _moment: datetime) -> None:
        return


def unharmed(path: Path, data: Path) -> Walk:
    """Walk an answers file whole, and note what is kept after each entry."""
    answers = read_answers_file(path)
    folder = new(answers, path, Shelf(data))
    clock = Paced(answers.start)
    after: list[int] = []
    kinds: list[str] = []
    people: list[str] = []
    with _Unwritten.open(folder, owner=OWNER, clock=clock, fresh=True) as bench:
        bench.person = answers.person
        bench.base = path.parent
        after.append(len(bench.records))
        for number, entry in enumerate(answers.answers):
            people.append(bench.person)
            at = entry.at if isinstance(entry, Say) else "break"
            leaves = occurrences(bench.plan, bench.state, clock())
            found = next((leaf for leaf in leaves if str(leaf.address) == at), None)
            give(bench, clock, answers, number)
            after.append(len(bench.records))
            kinds.append(found.step.kind if found else "spec" if at.startswith("spec.") else at)
        hold(bench.prompt() is None, f"{path.name} is not walked to its end")
        return Walk(path, answers, tuple(bench.records), after, kinds, people)


def forked(work: Work) -> tuple[int, int]:
    """Fork a child that works and acknowledges numbers; its id and the pipe's reading end."""
    reading, writing = os.pipe()
    child = os.fork()
    if child:
        os.close(writing)
        return child, reading
    os.close(reading)
    code = 1
    try:
        work(lambda number: _write(writing, number))
        code = 0
    except BaseException:  # noqa: BLE001 - a child that was forked returns to nobody
        traceback.print_exc()
    finally:
        os._exit(code)


def _write(handle: int, number: int) -> None:
    os.write(handle, b"%d\n" % number)


def killed(work: Work, after: int, wait: float) -> tuple[list[int], bool]:
    """Kill a child once it has acknowledged so often, and a while more; all that it acknowledged.

    The flag tells whether it had ended by itself before.
    """
    child, pipe = forked(work)
    said, end, hung = b"", time.monotonic() + DEADLINE, False
    with open(pipe, "rb", buffering=0) as source:  # noqa: PTH123 - a handle
        while said.count(b"\n") < after:
            hung = not select.select([source], [], [], max(0, end - time.monotonic()))[0]
            more = b"" if hung else source.read(65536)
            if not more:
                break
            said += more
        time.sleep(wait)
        os.kill(child, signal.SIGKILL)
        while more := source.read(65536):
            said += more
    _, status = os.waitpid(child, 0)
    hold(not hung, "a child hangs")
    ended = os.WIFEXITED(status)
    if ended and os.WEXITSTATUS(status):
        raise UnopenedError("a child failed; its words are above")
    return [int(n) for n in said[: said.rfind(b"\n") + 1].split()], ended


def walking(walk: Walk, folder: Path, number: int) -> Work:
    """Give a child's work: the entries from a number on, each acknowledged once it is kept."""

    def work(say: Acknowledge) -> None:
        clock = Paced(walk.answers.start)
        with Bench.open(folder, owner=OWNER, clock=clock, fresh=True) as bench:
            bench.person = walk.people[number]
            bench.base = walk.path.parent
            say(number)
            for at in range(number, len(walk.kinds)):
                give(bench, clock, walk.answers, at)
                say(at + 1)

    return work


def look(walk: Walk, folder: Path, acknowledged: int) -> int:
    """Prove what a kill left; the number of entries that are kept."""
    place = f"{walk.path.name}, {acknowledged} acknowledged"
    whole(folder, place)
    records = read_records(folder)
    least = walk.after[acknowledged]
    most = walk.after[min(acknowledged + 1, len(walk.kinds))]
    if len(records) not in (least, most):
        found = f"{place}: {len(records)} records, not {least} or {most}"
        raise LostError(found, max(1, least - len(records)))
    hold(records == walk.records[: len(records)], f"{place}: other records than an unharmed walk's")
    head = read_head(folder)
    hold(getattr(head, "sequence", -1) == len(records), f"{place}: the head tells of others")
    with Bench.open(
        folder, owner=OWNER, clock=Paced(datetime.fromisoformat(records[-1].at)), fresh=True
    ) as bench:
        hold(bench.state == fold(walk.records[: len(records)]), f"{place}: another state")
    return acknowledged if len(records) == least else acknowledged + 1


def come_back(folder: Path, scratch: Path) -> None:
    """Go on with a copy the way a builder does, days later: the break is read, an answer taken."""
    copy = shutil.copytree(folder, scratch / "copy")
    records = read_records(copy)
    clock = Paced(datetime.fromisoformat(records[-1].at) + timedelta(days=9))
    with Bench.open(copy, owner=OWNER, clock=clock) as bench:
        asked = bench.prompt()
        if asked is not None:
            note = bench.say("note after the lights went out")
            hold(not isinstance(note, Refusal), f"nothing can be said at {asked.address}")
            hold(bench.state == fold(bench.records), "coming back folds otherwise")
    shutil.rmtree(copy)


def beginning(
    walks: Sequence[Walk], under: Counter[str], chance: random.Random
) -> tuple[Walk, int]:
    """Choose where a walk begins: shortly before a step of the kind that was killed least."""
    places = [(walk, at) for walk in walks for at in range(len(walk.kinds))]
    least = min(sorted({walk.kinds[at] for walk, at in places}), key=lambda kind: under[kind])
    walk, at = chance.choice([(walk, at) for walk, at in places if walk.kinds[at] == least])
    return walk, max(0, at - chance.randint(0, 2))


def kill_walks(
    walks: Sequence[Walk], kills: int, chance: random.Random, data: Path, tally: Tally
) -> Counter[str]:
    """Kill walks so often, each going on where it was killed; by the kind of step under way.

    Half of the kills go through whole builds, the others where a kind of step has had fewest.
    """
    under: Counter[str] = Counter()
    done = builds = 0
    while done < kills and len(tally.faults) < MOST_FAULTS:
        all_of_it = kills >= SHORT and done < kills / 2
        walk, number = walks[builds % len(walks)], 0
        if not all_of_it:
            walk, number = beginning(walks, under, chance)
        shelf = Shelf(data / f"walk-{builds}")
        builds += 1
        folder = shelf.new_folder("walk")
        first = walk.records[: walk.after[number]]
        Journal.create(folder, owner=OWNER, records=first).close()
        with tally.noted():
            rounds = 0
            while number < len(walk.kinds) and done < kills and (all_of_it or rounds < FEW):
                said, ended = killed(
                    walking(walk, folder, number),
                    chance.randint(0, LONGEST_STEP if all_of_it else FEW),
                    chance.uniform(0, LONGEST_WAIT),
                )
                acknowledged = said[-1] if said else number
                tally.acknowledged += walk.after[acknowledged] - walk.after[number]
                rounds += 1
                done += not ended
                under[walk.kinds[min(acknowledged, len(walk.kinds) - 1)]] += not ended
                number = look(walk, folder, acknowledged)
                if ended:
                    break
                if done % 10 == 0:
                    come_back(folder, data)
        shutil.rmtree(shelf.path.parent)
    return under


def main() -> int:
    """Run it from the command line."""
    take = argparse.ArgumentParser()
    take.add_argument("--kills", type=int, default=20)
    take.add_argument("--verbs", type=int, default=8)
    take.add_argument("--seed", type=int, default=1)
    take.add_argument("--files", type=int, default=len(FILES))
    take.add_argument("--folder")
    given = take.parse_args()
    chance = random.Random(given.seed)  # noqa: S311 - to be the same again, not to be secret
    from killing_verbs import kill_verbs  # noqa: PLC0415 - it takes its tools from here

    start = time.monotonic()
    with tempfile.TemporaryDirectory(dir=given.folder, prefix=".killing-") as place:
        data = Path(place)
        walks = [unharmed(p, data / f"ref-{n}") for n, p in enumerate(FILES[: given.files])]
        tally = Tally()
        under = kill_walks(walks, given.kills, chance, data, tally)
        verbs = kill_verbs(walks[0], given.verbs, chance, data, tally)
    every = set().union(*(walk.kinds for walk in walks))
    result = {
        "kills": under.total(),
        "acknowledged": tally.acknowledged,
        "lost": tally.lost,
        "unopened": tally.unopened,
        "verbs": dict(verbs),
        "kinds": dict(under.most_common()),
        "never under way": sorted(every - set(under)),
        "seconds": round(time.monotonic() - start, 1),
    }
    sys.stdout.write(json.dumps(result) + "\n")
    for fault in tally.faults[:20]:
        sys.stderr.write(f"seed {given.seed}: {fault}\n")
    return int(bool(tally.faults))


if __name__ == "__main__":
    import killing  # the module that the commands' part has its tools from

    sys.exit(killing.main())
