"""What newer files make of tightening that was begun: refused in its middle, counted anew after."""

from collections.abc import Iterable

from snugset.guide.address import Address
from snugset.guide.events import Body
from snugset.guide.kinds.stage_blocks import Stages
from snugset.guide.kinds.stage_changed import whole_stages
from snugset.guide.kinds.staging import live
from snugset.guide.ruling import effect
from snugset.guide.state import State
from snugset.plan.plan import Plan

_OPEN = ("marks", "free", "renew", "restart")
"""What a tightening asks for before it goes on; by the container or by a stage."""


def caught(old: Plan, new: Plan, state: State, gone: Iterable[Address]) -> str:
    """Say why the build cannot be revised now, empty where it can.

    An angle that is given cannot be asked for again under another name, and what a tightening
    asks for on beginning again must not be lost with its name.
    """
    for what, place in state.condition.marks:
        if what in _OPEN and place in old.steps and not _same(old, new, place):
            return (
                f"{place} is in the middle of what a break or a restart asks for. Finish that "
                f"first, or keep the name and the kind of {place} in the newer file."
            )
    given = [a for a in gone if a.step in old.steps and old.steps[a.step].kind == "angle"]
    if given:
        step = given[0].step
        return (
            f"{step}: its angle is given at {', '.join(a.place for a in given if a.step == step)}, "
            f"and the newer file has no such stage there. An angle is never given twice: keep the "
            f"name, or begin the tightening again first (restart)."
        )
    return ""


def _same(old: Plan, new: Plan, step: str) -> bool:
    return step in new.steps and new.steps[step].kind == old.steps[step].kind


def marks_of_stages(new: Plan, state: State, gone: Iterable[Address]) -> list[Body]:
    """Give which stage of how many each group has reached by the newer files."""
    left = set(state.facts) - set(gone)
    effects = []
    for container in new.steps.values():
        if not isinstance(container.block, Stages):
            continue
        group = container.block.group
        if state.condition.mark("stage", group) is None:
            continue
        stages = live(new, state, container)
        reached = len(tuple(whole_stages(stages, left)))
        effects.append(effect("stage", group, f"{reached} of {len(stages)}" if reached else None))
    return effects
