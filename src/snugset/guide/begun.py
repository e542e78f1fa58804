"""Bridges whose steps at a setting point were begun and not ended."""

from collections.abc import Iterator

from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.state import State
from snugset.plan.places import bridges
from snugset.plan.plan import Plan
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """One bridge in the middle of its steps."""

    bridge: str
    addresses: tuple[Address, ...]
    """What is closed of them."""


def _leaves(steps: tuple[Step, ...], *, valves: bool = False) -> Iterator[tuple[str, bool]]:
    """Yield the leaves under a bridge by id, and whether they are done at each of its valves."""
    for step in steps:
        if not step.children:
            yield step.id, valves
        for inner in step.children.values():
            yield from _leaves(inner, valves=getattr(step.block, "over", "") == "valves")


def begun_bridges(plan: Plan, state: State) -> tuple[Begun, ...]:
    """Find the bridges that an interruption caught between their first step and their last."""
    found = []
    for container in plan.steps.values():
        if container.kind != "crank":
            continue
        leaves = dict(_leaves(container.children["steps"]))
        rounds = {a.round for a in state.facts if a.step in leaves}
        for number in rounds:
            for site in bridges(plan.engine):
                wanted = [
                    Address(step, place, number)
                    for step, valves in leaves.items()
                    for place in ((f"{site.key}I", f"{site.key}E") if valves else (site.key,))
                ]
                closed = tuple(address for address in wanted if address in state.facts)
                if 0 < len(closed) < len(wanted):
                    found.append(Begun(bridge=site.key, addresses=closed))
    return tuple(found)
