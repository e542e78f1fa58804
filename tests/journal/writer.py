"""A program of its own that writes a build at full speed and says what was kept.

``writer.py FOLDER`` appends answers of one to three records; after each it prints the last sequence
kept. ``writer.py FOLDER hold`` opens the build, says so and waits. ``writer.py FOLDER create``
makes builds FOLDER-1, FOLDER-2 … without end.
"""

import os
import sys
import time
from itertools import count
from pathlib import Path

from snugset.guide.events import Record
from snugset.journal.head import Head
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner

OWNER = Owner.here(person="Bob", since="2026-11-02T18:00:00Z")


def record(sequence: int, answer: int) -> Record:
    body = {"typed": str(sequence) * (sequence % 700), "answer": answer}
    return Record(
        sequence=sequence,
        answer=answer,
        at="2026-11-02T18:04:00Z",
        person="Bob",
        kind="read",
        body=body,
    )


def say(number: int) -> None:
    os.write(1, b"%d\n" % number)


def write(folder: Path) -> None:
    with Journal.open(folder, owner=OWNER) as journal:
        say(0)
        last = journal.records()[-1].answer if journal.records() else 0
        for answer in count(last + 1):
            first = journal.sequence + 1
            size = answer % 3 + 1
            journal.append(
                [record(sequence, answer) for sequence in range(first, first + size)],
                Head(name="Barn pump six", step=str(answer)),
            )
            say(first + size - 1)


def hold(folder: Path) -> None:
    with Journal.open(folder, owner=OWNER):
        say(0)
        time.sleep(60)


def create(folder: Path) -> None:
    for number in count(1):
        place = folder.with_name(f"{folder.name}-{number}")
        Journal.create(place, owner=OWNER, records=[record(1, 1)], head=Head(name="new")).close()
        say(number)


if __name__ == "__main__":
    {"write": write, "hold": hold, "create": create}[(*sys.argv, "write")[2]](Path(sys.argv[1]))
