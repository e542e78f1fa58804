"""Every kind of step is answered on the screen by its keys, and keeps what it keeps without one."""

import tempfile
from datetime import datetime
from functools import cache
from pathlib import Path

import pytest

from killing import FILES, Walk, unharmed
from snugset.files.answers import Say
from snugset.guide.apply import fold
from snugset.guide.kinds import KINDS
from snugset.guide.walk import find
from snugset.journal.journal import Journal
from snugset.journal.reading import read_records
from snugset.stored import head_of, plan_of

from .stage import OWNER, Stage, playing
from .test_walk import answered

ASKED = sorted(name for name, kind in KINDS.items() if kind.ask is not None)


@cache
def walk(file: Path) -> Walk:
    """Walk an answers file once, without a screen."""
    with tempfile.TemporaryDirectory() as place:
        return unharmed(file, Path(place))


def first_of(kind: str) -> tuple[Walk, int]:
    """Find an answer to a step of a kind, the shortest walk first."""
    for file in (FILES[1], FILES[0], *FILES[2:]):
        found = walk(file)
        for number, entry in enumerate(found.answers.answers):
            if found.kinds[number] == kind and isinstance(entry, Say) and not entry.refused:
                return found, number
    raise AssertionError(f"no walk asks for a step of the kind {kind}")


def moment_of(found: Walk, number: int) -> datetime:
    """Give when an entry is answered."""
    records = found.records[found.after[number] : found.after[number + 1]]
    return datetime.fromisoformat(records[0].at)


@pytest.mark.parametrize("kind", ASKED)
async def test_a_step_of_each_kind_is_answered_by_its_keys(there: Stage, kind: str) -> None:
    found, number = first_of(kind)
    entry = found.answers.answers[number]
    assert isinstance(entry, Say)
    before = found.records[: found.after[number]]
    there.clock.moment = moment_of(found, number)
    plan, state = plan_of(before), fold(before)
    folder = there.shelf.new_folder("walk")
    head = head_of(plan, state, there.clock())
    Journal.create(folder, owner=OWNER, records=before, head=head).close()
    app = there.app(there.opening(folder))
    object.__setattr__(app.doors, "person", found.people[number])
    async with playing(app) as player:
        asked = player.look.prompt
        assert asked is not None
        if str(asked.address) == entry.at:
            leaf = find(plan, state, there.clock(), asked.address)
            assert kind in ("return", "spec") or (leaf is not None and leaf.step.kind == kind)
            assert " ".join(asked.words.split()) in player.words
        await answered(player, entry)
    assert read_records(folder) == found.records[: found.after[number + 1]]
