"""Sealant on threads: whether its open time passed before the final torque."""

from collections.abc import Iterator
from datetime import datetime

from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.conditions import hold
from snugset.guide.scene import when
from snugset.guide.state import State
from snugset.guide.words import took
from snugset.plan.places import fasteners
from snugset.plan.plan import Plan
from snugset.plan.stages import places
from snugset.units import Quantity


def final(state: State, group: str) -> bool:
    """Tell whether a group has reached the last of its stages."""
    reached, _, of = (state.condition.mark("stage", group) or "").partition(" of ")
    return bool(reached) and reached == of


def sealant_past(plan: Plan, state: State, now: datetime, group: str) -> str:
    """Say that sealant in a group's holes is past its open time, empty where it is not.

    The oldest counts of those whose fastener is not tight yet; sealing a thread anew renews its
    time.
    """
    for step in plan.steps.values():
        name = getattr(step.block, "open_time", "")
        own = getattr(step.block, "group", "") or next(iter(plan.engine.fasteners), "")
        allowed = state.spec(name) if name else None
        if own != group or not isinstance(allowed, Quantity):
            continue
        age = _oldest(plan, state, now, group)
        if age > allowed.number("s") and not final(state, group):
            return (
                f"Sealant has been wet for {took(age)}, its open time is {allowed}: clean those "
                f"threads and seal them again before the final torque"
            )
    return ""


def _oldest(plan: Plan, state: State, now: datetime, group: str) -> float:
    """Give how long the first-sealed thread that still moves is wet, seconds; 0 where none is."""
    last = dict(_last(plan, state, group))
    marks = [
        mark.at
        for (what, where), mark in state.condition.marks.items()
        if what == "sealed"
        and where.partition(":")[0] == group
        and last.get(where.partition(":")[2]) not in state.facts
    ]
    return (now - when(min(marks))).total_seconds() if marks else 0


def _last(plan: Plan, state: State, group: str) -> Iterator[tuple[str, Address]]:
    """Yield each fastener of a group with the last address at which it is turned."""
    for step in plan.steps.values():
        if step.kind == "tighten" and getattr(step.block, "group", "") == group:
            found = state.spec(getattr(step.block, "stages", ""))
            total = len(found) if isinstance(found, tuple) else 1
            for site in fasteners(plan.engine, group):
                yield site.key, Address(step.id, f"{total}.{site.key}")
        if step.kind == "stages":
            yield from _last_of(step, plan, state, group)


def _last_of(
    container: Step, plan: Plan, state: State, group: str
) -> Iterator[tuple[str, Address]]:
    there = tuple(s for s in container.children["steps"] if hold(s.conditions, plan, state))
    for place in places(plan.engine, container, there):
        if place.group == group and place.step.kind in ("torque-to", "angle"):
            yield from ((key, Address(place.step.id, key)) for key in place.keys)
