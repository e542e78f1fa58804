"""Which fasteners have had the last torque or angle that their group gets."""

from collections.abc import Iterator

from snugset.files.steps import Step
from snugset.guide.conditions import absent, hold
from snugset.guide.state import State
from snugset.plan.plan import Plan
from snugset.plan.stages import places

_TIGHTEN = ("torque-to", "angle")


def tight(plan: Plan, state: State, group: str) -> frozenset[str]:
    """Give the keys of a group's fasteners that have reached the end of their tightening."""
    found: set[str] = set()
    for step in plan.steps.values():
        if not absent(step, plan, state):
            match step.kind:
                case "tighten":
                    found.update(_by_stages(step, state, group))
                case "stages":
                    found.update(_in_container(step, plan, state, group))
    return frozenset(found)


def _by_stages(step: Step, state: State, group: str) -> Iterator[str]:
    if getattr(step.block, "group", "") != group:
        return
    torques = state.spec(getattr(step.block, "stages", ""))
    last = str(len(torques) if isinstance(torques, tuple) else 1)
    for address in state.facts:
        number, _, key = address.place.partition(".")
        if address.step == step.id and number == last:
            yield key


def _in_container(container: Step, plan: Plan, state: State, group: str) -> Iterator[str]:
    there = tuple(s for s in container.children["steps"] if hold(s.conditions, plan, state))
    last = {
        key: place.step.id
        for place in places(plan.engine, container, there)
        if place.group == group and place.step.kind in _TIGHTEN
        for key in place.keys
    }
    done = {(address.step, address.place) for address in state.facts}
    yield from (key for key, stage in last.items() if (stage, key) in done)
