"""Bridges or cylinders whose steps at a setting point were begun and not ended."""

from collections.abc import Iterator
from dataclasses import dataclass

from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.conditions import chosen, hold, settled
from snugset.guide.state import State
from snugset.plan.places import bridges
from snugset.plan.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """One bridge in the middle of its steps."""

    bridge: str
    addresses: tuple[Address, ...]
    """What is closed of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Round:
    """One bridge in one round, as far as the build stands."""

    plan: Plan
    state: State
    number: int

    def leaves(self, steps: tuple[Step, ...], places: tuple[str, ...]) -> Iterator[Address]:
        """Yield the leaves that are there now; what is not done in this build is not."""
        for step in steps:
            if not hold(step.conditions, self.plan, self.state):
                continue
            here = [Address(step.id, place, self.number) for place in places]
            if step.kind == "choose":
                for address in here:
                    if not settled(step, self.state):
                        yield address
                    taken = chosen(step, self.state, address)
                    yield from self.leaves(step.children.get(taken, ()), (address.place,))
                continue
            if not step.children:
                yield from here
            valves = getattr(step.block, "over", "") == "valves"
            inside = (f"{places[0]}I", f"{places[0]}E") if valves else places
            for inner in step.children.values():
                yield from self.leaves(inner, inside)


def begun_bridges(plan: Plan, state: State) -> tuple[Begun, ...]:
    """Find the bridges that an interruption caught between their first step and their last."""
    found = []
    for container in plan.steps.values():
        if container.kind != "crank":
            continue
        for number in sorted({address.round for address in state.facts}):
            here = _Round(plan=plan, state=state, number=number)
            for site in bridges(plan.engine):
                wanted = tuple(here.leaves(container.children["steps"], (site.key,)))
                closed = tuple(address for address in wanted if address in state.facts)
                if 0 < len(closed) < len(wanted):
                    found.append(Begun(bridge=site.key, addresses=closed))
    return tuple(found)
