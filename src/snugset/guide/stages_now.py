"""What a break does to stages of tightening; read from what is recorded and from the condition.

All rules here are common practice.
"""

from collections.abc import Iterator

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
from snugset.values import dataclass, field


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


def broken_stages(plan: Plan, state: State, *, overnight: bool) -> Broken:
    """Tell what a break puts in doubt.

    A torque stage starts again from its first fastener. An angle that is given to some only is
    asked about: it goes on from recorded marks. A loosening goes on until all are free. Left
    overnight below the last stage, a torque that was reached last is given again.
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
    for at, place in enumerate(stages):
        given = len(done[place.step.id])
        if place.step.kind != "angle" or given == len(place.keys):
            continue
        if given:
            found.effects.append(effect("marks", container.id, place.step.id))
            found.reasons.append(
                f"{group}: {place.step.id} was broken off; an angle is never given twice, so look "
                f"for the marks before you touch a wrench"
            )
            if overnight:
                found.reasons.append(_ask_maker(group, place.step.id))
            return
        if at and all(_whole(before, state) for before in stages[:at]):
            # One may have been turned and not been answered before the break.
            found.effects.append(effect("marks", container.id, place.step.id))
            found.reasons.append(
                f"{group}: {place.step.id} comes next; see first that no mark shows its angle "
                f"given already"
            )
    begun = [place for place in stages if done[place.step.id]]
    if not begun:
        return
    last = begun[-1]
    name, whole = last.step.id, _whole(last, state)
    if not whole and last.step.kind == "loosen":
        found.effects.append(effect("free", name))
        found.voided += done[name]
        found.reasons.append(
            f"{group}: {name} was broken off; loosen all free in order, then it goes on"
        )
        return
    if not whole:
        found.reasons.append(f"{group}: {name} was broken off; it starts again")
        _again(container, last, done[name], found)
        begun.pop()
    if overnight and begun and not (whole and last.number == last.of):
        _relaxed(container, begun[-1], done, found)


def _relaxed(container: Step, last: Place, done: dict[str, list[Address]], found: Broken) -> None:
    """Repeat the stage that was finished last, whose gasket relaxed in the night."""
    group, name = block_of(container).group, last.step.id
    if last.step.kind in ("torque-to", "verify"):
        found.reasons.append(f"{group}: left overnight below the last stage; {name} again")
        _again(container, last, done[name], found)
    elif last.step.kind in ("angle", "accept"):
        found.reasons.append(_ask_maker(group, name))


def _ask_maker(group: str, stage: str) -> str:
    return (
        f"{group}: left overnight below the last stage, after {stage}: ask the gasket's maker "
        f"whether it still stands, then go on"
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
