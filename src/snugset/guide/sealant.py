"""Sealant on threads: whether its open time passed before the final torque."""

from datetime import datetime

from snugset.guide.scene import age
from snugset.guide.state import State
from snugset.guide.tight import tight
from snugset.guide.words import took
from snugset.plan.plan import Plan
from snugset.units import Quantity


def final(state: State, group: str) -> bool:
    """Tell whether a group has reached the last of its stages."""
    reached, _, of = (state.condition.mark("stage", group) or "").partition(" of ")
    return bool(reached) and reached == of


def sealant_past(plan: Plan, state: State, now: datetime, group: str) -> str:
    """Say that sealant in a group's holes is past its open time, empty where it is not.

    The oldest counts among the fasteners that have not had their last torque or angle; sealing a
    thread anew renews its time.
    """
    for step in plan.steps.values():
        name = getattr(step.block, "open_time", "")
        own = getattr(step.block, "group", "") or next(iter(plan.engine.fasteners), "")
        allowed = state.spec(name) if name else None
        if own != group or not isinstance(allowed, Quantity):
            continue
        wet = _wet(plan, state, now, group)
        oldest = max(wet.values(), default=0)
        if oldest > allowed.number("s"):
            late = [key for key, seconds in wet.items() if seconds > allowed.number("s")]
            return (
                f"Sealant has been wet for {took(oldest)} at {', '.join(late)}, its open time is "
                f"{allowed}: clean those threads and seal them again before the final torque, "
                f"each by @{step.id}@{late[0]} again"
            )
    return ""


def _wet(plan: Plan, state: State, now: datetime, group: str) -> dict[str, float]:
    """Give the sealed fasteners of a group that are not tight yet, and for how long, seconds."""
    sealed = {
        where.partition(":")[2]: age(state, mark.at, now)
        for (what, where), mark in state.condition.marks.items()
        if what == "sealed" and where.partition(":")[0] == group
    }
    done = tight(plan, state, group) if sealed else frozenset()
    return {key: wet for key, wet in sealed.items() if key not in done}
