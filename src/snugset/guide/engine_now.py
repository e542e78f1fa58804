"""What is loose and what is in doubt on the engine, read from its condition alone."""

from collections.abc import Iterator
from datetime import datetime

from snugset.guide.address import Address
from snugset.guide.events import Body
from snugset.guide.kinds.do import Do
from snugset.guide.kinds.torque import Tighten
from snugset.guide.ruling import effect
from snugset.guide.scene import when
from snugset.guide.state import State
from snugset.guide.words import took
from snugset.plan.places import bridges, fasteners
from snugset.plan.plan import Plan
from snugset.units import Quantity


def _tightened(plan: Plan) -> Iterator[tuple[str, Tighten]]:
    for step in plan.steps.values():
        if isinstance(step.block, Tighten):
            yield step.id, step.block


def final(state: State, group: str) -> bool:
    """Tell whether a group has reached the last of its stages."""
    reached, _, of = (state.condition.mark("stage", group) or "").partition(" of ")
    return bool(reached) and reached == of


def loose(plan: Plan, state: State) -> tuple[str, ...]:
    """Give what is not at its final torque, in words."""
    condition = state.condition
    found = []
    for _, block in _tightened(plan):
        reached = condition.mark("stage", block.group)
        on = condition.mark(f"{block.group}-on") is not None
        if reached and not final(state, block.group):
            found.append(f"{block.group}: stage {reached} reached, not the last")
        elif on and not reached:
            found.append(f"{block.group}: on, no stage of it finished")
    drawn = any(what == "drawn" for what, _ in condition.marks)
    if drawn:
        open_ = [s.key for s in bridges(plan.engine) if condition.mark("torqued", s.key) is None]
        if open_:
            found.append(f"rocker bridges not at final torque: {', '.join(open_)}")
    return tuple(found)


def started_stages(
    plan: Plan, state: State, *, overnight: bool
) -> tuple[tuple[Address, ...], tuple[str, ...], tuple[Body, ...]]:
    """Give the fasteners to be done again after a break, why, and the effect on the condition.

    A stage broken off in the middle starts again at its first fastener; left overnight below the
    final torque, the last finished stage is done again (both common practice).
    """
    voided: list[Address] = []
    reasons: list[str] = []
    effects: list[Body] = []
    for step, block in _tightened(plan):
        keys = [site.key for site in fasteners(plan.engine, block.group)]
        done: dict[int, list[Address]] = {}
        for address, fact in state.facts.items():
            if address.step == step and fact.kind == "done":
                done.setdefault(int(address.place.partition(".")[0]), []).append(address)
        if not done:
            continue
        last, total = max(done), _count(state, block.stages)
        whole = len(done[last]) == len(keys)
        if not whole:
            reasons.append(f"{block.group}: stage {last} was broken off; it starts again")
        elif overnight and last < total:
            reasons.append(
                f"{block.group}: left overnight below the final torque; stage {last} again"
            )
        else:
            continue
        voided += done[last]
        before = f"{last - 1} of {total}" if last > 1 else None
        effects.append(effect("stage", block.group, before))
    return tuple(voided), tuple(reasons), tuple(effects)


def _count(state: State, name: str) -> int:
    found = state.spec(name)
    return len(found) if isinstance(found, tuple) else 1


def sealant(plan: Plan, state: State, now: datetime) -> tuple[str, ...]:
    """Give what to do where sealant was left past its open time before the final torque."""
    found = []
    for step in plan.steps.values():
        if not (isinstance(step.block, Do) and step.block.open_time):
            continue
        allowed = state.spec(step.block.open_time)
        group = step.block.group or next(iter(plan.engine.fasteners))
        marks = [m.at for (what, _), m in state.condition.marks.items() if what == "sealed"]
        if not marks or final(state, group):
            continue
        age = (now - when(min(marks))).total_seconds()
        if not isinstance(allowed, Quantity):
            found.append(f"Sealant has been wet for {took(age)}: look up its open time")
        elif age > allowed.number("s"):
            found.append(
                f"Sealant has been wet for {took(age)}, open time {allowed}: clean those threads "
                f"and seal them again before the final torque"
            )
    return tuple(found)
