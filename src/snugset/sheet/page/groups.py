"""The sheet's rows put together as the page shows them."""

from collections.abc import Iterable, Sequence
from itertools import groupby

from snugset.sheet.entries import Entry
from snugset.sheet.fastened import Fastener, FastenerGroup, Stage
from snugset.sheet.phrases import listed, spread
from snugset.sheet.points import Points
from snugset.sheet.readings import ReadingRow
from snugset.units import signed


def ledgers(rows: Iterable[ReadingRow]) -> tuple[tuple[str, tuple[ReadingRow, ...]], ...]:
    """Part readings by the figure that they are written under, in order of appearance."""
    found: dict[str, list[ReadingRow]] = {}
    for row in rows:
        found.setdefault(row.figure, []).append(row)
    return tuple((figure, tuple(each)) for figure, each in found.items())


def stage_heads(group: FastenerGroup) -> tuple[tuple[str, int, str, str], ...]:
    """Give the stages of a group: (step, number, setting in words, name), in order of the plan.

    The name is the number, with its step where two have the same.
    """
    by_stage: dict[tuple[str, int], list[Stage]] = {}
    for fastener in group.fasteners:
        for stage in fastener.stages:
            by_stage.setdefault((stage.step, stage.number), []).append(stage)
    steps = list(dict.fromkeys(step for step, _ in by_stage))
    order = sorted(by_stage, key=lambda pair: (steps.index(pair[0]), pair[1]))
    numbers = [number for _, number in order]
    return tuple(
        (
            step,
            number,
            _setting(by_stage[step, number]),
            f"{step} {number}" if numbers.count(number) > 1 else f"{number}",
        )
        for step, number in order
    )


def _setting(stages: Sequence[Stage]) -> str:
    """Say what a stage is drawn to: ``30 lbf·ft``, ``90 to 93 deg``, ``at least 65 lbf·ft``."""
    found = sorted(
        {stage.setting for stage in stages if stage.setting is not None}, key=lambda q: q.value
    )
    if not found:
        return "" if stages[0].entry.outcome == "done" else "skipped"
    most = f" to {found[-1]}" if len(found) > 1 else ""
    span = f"{signed(found[0].value)}{most}" if most else str(found[0])
    return f"at least {span}" if stages[0].entry.kind == "accept" else span


def stage_at(fastener: Fastener, step: str, number: int) -> Stage | None:
    """Give a fastener's stage; None where it was not reached."""
    return next((s for s in fastener.stages if (s.step, s.number) == (step, number)), None)


def same(rows: Sequence[ReadingRow], what: str) -> bool:
    """Tell whether several readings have one and the same thing, so that it is said once."""
    return (
        len(rows) > 1
        and bool(getattr(rows[0], what))
        and len({getattr(row, what) for row in rows}) == 1
    )


def planned(every: Sequence[Points], nth: int) -> str:
    """Name the step before that had the same setting points; empty where these are the first."""
    mine = every[nth].points
    return next((each.step for each in every[:nth] if each.points == mine), "")


def steps_of(entries: Sequence[Entry]) -> tuple[tuple[str, str, str, str, str], ...]:
    """Say each step once, with its places: (step, places, what came of it, when, by)."""
    keys = dict.fromkeys((e.step, e.round, e.outcome, e.person) for e in entries)
    return tuple(
        _step([e for e in entries if (e.step, e.round, e.outcome, e.person) == key]) for key in keys
    )


def _step(entries: Sequence[Entry]) -> tuple[str, str, str, str, str]:
    first, last = entries[0], entries[-1]
    where = ", ".join(entry.place for entry in entries if entry.place)
    round_ = f"round {first.round}" if first.round else ""
    told = {"skipped": "skipped", "reading": "read", "judged": f"judged: {first.value}"}
    return (
        first.step,
        ", ".join(filter(None, (where, round_))),
        told.get(first.outcome) or _values(entries),
        spread(first.at, last.at),
        first.person,
    )


def _values(entries: Sequence[Entry]) -> str:
    values = [value for value, _ in groupby(entry.value for entry in entries) if value]
    return listed(dict.fromkeys(values)) if values else "done"
