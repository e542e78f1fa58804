"""Sealant on threads: whether its open time passed before the final torque."""

from datetime import datetime

from snugset.guide.scene import age
from snugset.guide.state import State
from snugset.guide.words import took
from snugset.plan.plan import Plan
from snugset.units import Quantity


def final(state: State, group: str) -> bool:
    """Tell whether a group has reached the last of its stages."""
    reached, _, of = (state.condition.mark("stage", group) or "").partition(" of ")
    return bool(reached) and reached == of


def sealant_past(plan: Plan, state: State, now: datetime, group: str) -> str:
    """Say that sealant in a group's holes is past its open time, empty where it is not.

    The oldest counts; sealing a thread anew renews its time.
    """
    for step in plan.steps.values():
        name = getattr(step.block, "open_time", "")
        own = getattr(step.block, "group", "") or next(iter(plan.engine.fasteners), "")
        allowed = state.spec(name) if name else None
        if own != group or not isinstance(allowed, Quantity):
            continue
        wet = oldest(state, now, group)
        if wet > allowed.number("s") and not final(state, group):
            return (
                f"Sealant has been wet for {took(wet)}, its open time is {allowed}: clean those "
                f"threads and seal them again before the final torque"
            )
    return ""


def oldest(state: State, now: datetime, group: str) -> float:
    """Give how long the first-sealed thread of a group has been wet, seconds; 0 where none is."""
    ages = [
        age(state, mark.at, now)
        for (what, where), mark in state.condition.marks.items()
        if what == "sealed" and where.partition(":")[0] == group
    ]
    return max(ages, default=0)
