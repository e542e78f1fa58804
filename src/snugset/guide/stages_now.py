"""What a break does to stages of tightening; read from what is recorded and from the condition.

All rules here are common practice.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.conditions import absent
from snugset.guide.events import Body
from snugset.guide.kinds.stage_blocks import Stages
from snugset.guide.kinds.staging import block_of, closed, live
from snugset.guide.ruling import effect
from snugset.guide.state import State
from snugset.plan.plan import Plan
from snugset.plan.stages import Place

AGAIN = ("torque-to", "verify")
"""Stages that can be given again without harm."""


@dataclass(slots=True)
class Broken:
    """What must be done again, why, what it makes of the condition, and what else to think of."""

    voided: list[Address] = field(default_factory=list)
    reasons: list[str] = field(default_factory=list)
    effects: list[Body] = field(default_factory=list)


def containers(plan: Plan, state: State) -> Iterator[Step]:
    """Give the containers of stages that are done in this build."""
    for step in plan.steps.values():
        if isinstance(step.block, Stages) and not absent(step, plan, state):
            yield step


def behind(plan: Plan, state: State) -> Iterator[str]:
    """Say which fasteners have not reached what the others have, as new ones among old."""
    for container in containers(plan, state):
        group = block_of(container).group
        reached, _, of = (state.condition.mark("stage", group) or "").partition(" of ")
        late: list[str] = []
        for place in live(plan, state, container):
            if reached and place.number <= int(reached) and place.step.kind != "verify":
                have = {address.place for address in closed(state, place)}
                late += [key for key in place.keys if key not in have and key not in late]
        if late:
            yield f"{group}: {', '.join(late)} not at stage {reached} of {of} like the others"


def broken_stages(plan: Plan, state: State, *, overnight: bool) -> Broken:
    """Tell what a break puts in doubt.

    A torque stage starts again from its first fastener. An angle that is given to some only is
    asked about, or that came next: it goes on from marks. A loosening goes on until all are free.
    Left overnight below the last stage, a torque that was reached last is given again.
    """
    found = Broken()
    for container in containers(plan, state):
        if state.condition.mark("restart", container.id) is None:
            _look(container, live(plan, state, container), state, found, overnight=overnight)
    return found


def _look(
    container: Step, stages: tuple[Place, ...], state: State, found: Broken, *, overnight: bool
) -> None:
    group = block_of(container).group
    done = {place.step.id: closed(state, place) for place in stages}
    begun = [place for place in stages if done[place.step.id]]
    if not begun:
        return
    here = next((place for place in stages if not _whole(place, state)), None)
    if here is not None and here.step.kind == "angle":
        _marks(container, here, found, overnight=overnight)
        return
    last = begun[-1]
    name, whole = last.step.id, _whole(last, state)
    if not whole and last.step.kind == "loosen":
        found.effects.append(effect("free", name))
        found.voided += done[name]
        found.reasons.append(
            f"{group}: {name} was broken off; loosen all free in order, then it goes on"
        )
    elif not whole:
        found.reasons.append(f"{group}: {name} was broken off; it starts again")
        _again(container, last, done[name], found)
        before = begun[-2] if len(begun) > 1 else None
        if overnight and before is not None and before.step.kind in AGAIN:
            found.reasons.append(
                f"{group}: left overnight below the last stage; {before.step.id} again"
            )
            _again(container, before, done[before.step.id], found)
    elif overnight and last.number < last.of and last.step.kind in AGAIN:
        found.reasons.append(f"{group}: left overnight below the last stage; {name} again")
        _again(container, last, done[name], found)
    elif overnight and last.number < last.of:
        found.reasons.append(
            f"{group}: left overnight below the last stage, after {name}: ask the gasket's maker "
            f"whether it still stands, then go on"
        )


def _marks(container: Step, place: Place, found: Broken, *, overnight: bool) -> None:
    """Ask for the marks: the wrench may have been put down before Enter was pressed."""
    found.effects.append(effect("marks", container.id, place.step.id))
    if overnight:
        found.effects.append(effect("relaxed", container.id))
    found.reasons.append(
        f"{block_of(container).group}: {place.step.id} was broken off; an angle is never given "
        f"twice, so look for the marks before you touch a wrench"
    )


def _whole(place: Place, state: State) -> bool:
    if place.step.kind != "verify":
        return len(closed(state, place)) == len(place.keys)
    facts = [state.facts[address] for address in closed(state, place)]
    return any(not (f.value.isdigit() and f.value != "0") for f in facts)


def _again(container: Step, place: Place, done: list[Address], found: Broken) -> None:
    found.voided += done
    before = f"{place.number - 1} of {place.of}" if place.number > 1 else None
    found.effects.append(effect("stage", block_of(container).group, before))
