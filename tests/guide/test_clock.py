"""Clocks that jump, and zones: order is by sequence, no span is below zero, doubt is said."""

import random
from datetime import UTC, datetime, timedelta, tzinfo
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from driving import ENGINE, PROCEDURE, SPECS, demo_answers, small, table
from snugset.bench import Bench
from snugset.clock import utc
from snugset.files.answers import Say
from snugset.guide.address import Address
from snugset.guide.apply import fold
from snugset.guide.events import Record
from snugset.guide.returning import OVERNIGHT, WENT_BACK
from snugset.guide.scene import age
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.journal.reading import read_records, verify
from snugset.journal.shelf import Shelf
from snugset.opening import begin, pin, pin_shared
from snugset.play import Paced
from snugset.sheet import as_json, markdown, sheet_of
from snugset.stored import head_of

OWNER = Owner.here(person="Wren", since="")
HOLD = """
- do: mixed
  say: Mixed.
- hold: curing
  for: sealant
  time: cure
"""
CURE = "cure: {kind: time, unit: min, ask: How long?}"


def test_a_whole_build_under_a_clock_that_jumps_keeps_its_order(tmp_path: Path) -> None:
    chance = random.Random(8)  # noqa: S311 - to be the same again
    answers = demo_answers()
    clock = Paced(answers.start)
    shelf = Shelf(tmp_path)
    folder = begin(
        shelf,
        name="Jumping",
        procedure=pin(PROCEDURE),
        shared=pin_shared(PROCEDURE, pin(PROCEDURE)),
        engine=pin(ENGINE),
        specs=pin(SPECS),
        owner=OWNER,
        moment=clock(),
    )
    taken = 0
    with Bench.open(folder, owner=OWNER, clock=clock, fresh=True) as bench:
        for entry in answers.answers[:160]:
            clock.advance(chance.choice((45, 45, 45, -45, -3600, -9 * 86400, 600)))
            if not isinstance(entry, Say):
                bench.came_back()
            elif str(bench.prompt() and bench.prompt().address) == "return":  # type: ignore[union-attr]
                bench.say("")
            outcome = bench.say(entry.text if isinstance(entry, Say) else "", at=_at(entry))
            taken += not outcome.code
        assert bench.state == fold(bench.records)
        found = sheet_of(bench.plan, bench.records, bench.journal.digest)
    assert taken > 60
    records = read_records(folder)
    assert [record.sequence for record in records] == list(range(1, len(records) + 1))
    assert any(one.at > two.at for one, two in pairwise(records))
    assert verify(folder).whole
    assert markdown(found)
    assert as_json(found)
    assert all(wait.seconds >= 0 for wait in found.waits)
    assert all(each.seconds >= 0 for each in found.breaks)


def _at(entry: object) -> Address | None:
    return Address.parse(entry.at) if isinstance(entry, Say) else None


@pytest.mark.parametrize("back", [timedelta(minutes=5), timedelta(days=400)])
def test_a_clock_that_went_back_over_a_break_leaves_nothing_to_one_key(back: timedelta) -> None:
    told = table().until("gap@4I#1")
    told.away(-back)
    assert told.at == "return"
    assert told.asked.asks == "tick", "nobody knows how long it was, so the crank is not confirmed"
    facts = " ".join(told.asked.facts)
    assert "You were away for a time that is not known" in facts
    assert WENT_BACK in facts
    assert told.state.breaks[-1].gap == 0
    told.taken("")
    assert told.state.condition.crank is None


def test_a_clock_that_is_set_back_by_a_little_is_no_break_of_unknown_length() -> None:
    told = table().until("gap@4I#1")
    told.away(timedelta(seconds=-30))
    assert told.asked.asks == "choice"
    assert WENT_BACK not in " ".join(told.asked.facts)


def test_after_a_clock_that_went_back_stages_are_as_after_a_night() -> None:
    night, back = (table().until("head-tighten@2.1") for _ in range(2))
    night.away(timedelta(seconds=OVERNIGHT))
    back.away(timedelta(days=-1))
    assert back.state.breaks[-1].voided == night.state.breaks[-1].voided != ()


def test_a_wait_counts_from_the_return_once_the_clock_went_back() -> None:
    told = small(HOLD, figures=CURE, specs='cure: {value: "20 min", source: tin}')
    told.taken("")
    told.taken("")
    assert told.refused("").code == "waiting"
    told.away(timedelta(days=-3))
    told.taken("")
    told.now += timedelta(minutes=10)
    assert told.refused("").code == "waiting"
    told.now += timedelta(minutes=12)
    assert told.taken("")


def test_an_age_is_never_below_zero_and_never_longer_than_is_sure() -> None:
    told = small(HOLD, figures=CURE, specs='cure: {value: "20 min", source: tin}')
    told.taken("")
    marked = utc(told.now)
    assert age(told.state, marked, told.now - timedelta(days=1)) == 0
    assert age(told.state, marked, told.now + timedelta(hours=1)) == 3600
    told.away(timedelta(days=-1))
    assert age(told.state, marked, told.now + timedelta(minutes=7)) == 420


def _at_time(record: Record, at: str) -> Record:
    return Record(
        sequence=record.sequence,
        answer=record.answer,
        at=at,
        person=record.person,
        kind=record.kind,
        body=record.body,
    )


@pytest.mark.parametrize("zone", ["America/New_York", "Asia/Kolkata", "Pacific/Apia"])
def test_a_zone_or_the_end_of_summer_time_moves_nothing(zone: str, tmp_path: Path) -> None:
    """Clocks go back an hour in New York at 06:00 UTC on 2026-11-01; records are in UTC."""
    start = datetime(2026, 11, 1, 4, 30, tzinfo=UTC)
    kept: list[tuple[Record, ...]] = []
    for here in (UTC, ZoneInfo(zone)):
        told = small("- do: one\n- do: two\n- do: three\n- do: four\n- do: five")
        folder = Shelf(tmp_path / str(len(kept))).new_folder("barn")
        head = head_of(told.plan, told.state, start)
        first = [_at_time(told.records[0], utc(start))]
        Journal.create(folder, owner=OWNER, records=first, head=head).close()
        clock = Paced(start)

        def zoned(clock: Paced = clock, here: tzinfo = here) -> datetime:
            return clock().astimezone(here)

        with Bench.open(folder, owner=OWNER, clock=zoned, fresh=True) as bench:
            for minutes in (20, 20, 20, 35, 20):
                clock.advance(minutes * 60)
                bench.say("")
        kept.append(read_records(folder))
    assert kept[0] == kept[1]
    assert [r.kind for r in kept[0]].count("came-back") == 1, "only the 35 minutes are a break"
