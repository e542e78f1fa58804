"""Places whose steps at a setting point were begun and not ended."""

from collections.abc import Callable, Iterator, Mapping

from snugset.files.engine import Engine
from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.conditions import absent, hold
from snugset.guide.kinds.choose import chosen, settled
from snugset.guide.state import State
from snugset.plan.places import Site, bridges, cylinders, valves
from snugset.plan.plan import Plan
from snugset.values import dataclass

_SITES: Mapping[str, Callable[[Engine], tuple[Site, ...]]] = {
    "bridges": bridges,
    "cylinders": cylinders,
    "valves": valves,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """One place in the middle of its steps."""

    site: Site
    addresses: tuple[Address, ...]
    """What is closed of them."""

    @property
    def marks(self) -> tuple[str, ...]:
        """By which places what was drawn down there is marked."""
        key = self.site.key
        return (key,) if self.site.over == "valves" else (key, f"{key}I", f"{key}E")


def begun_places(plan: Plan, state: State) -> tuple[Begun, ...]:
    """Find the places that an interruption caught between their first step and their last.

    One that has had its final torque is none: only looking is left there.
    """
    return tuple(
        Begun(site=site, addresses=closed)
        for _, site, wanted, closed in _places(plan, state)
        if 0 < len(closed) < len(wanted) and not _torqued(plan, wanted, closed)
    )


def unset_places(plan: Plan, state: State) -> tuple[str, ...]:
    """Give the places that are not set yet where others of the same round are."""
    sets: dict[tuple[str, int], tuple[list[str], list[str]]] = {}
    for container, site, wanted, closed in _places(plan, state):
        number = wanted[0].round if wanted else 0
        done, left = sets.setdefault((container.id, number), ([], []))
        (left if len(closed) < len(wanted) else done).append(site.key)
    return tuple(
        dict.fromkeys(key for done, left in sets.values() if done and left for key in left)
    )


def _places(
    plan: Plan, state: State
) -> Iterator[tuple[Step, Site, tuple[Address, ...], tuple[Address, ...]]]:
    """Yield every place of every crank container, round by round: its leaves, and those closed."""
    for container in plan.steps.values():
        if container.kind != "crank" or absent(container, plan, state):
            continue
        steps = container.children["steps"]
        for number in sorted({a.round for a in state.facts}):
            for site in _SITES[getattr(container.block, "over", "bridges")](plan.engine):
                wanted = tuple(_leaves(steps, site, number, plan, state))
                yield container, site, wanted, tuple(a for a in wanted if a in state.facts)


def _torqued(plan: Plan, wanted: tuple[Address, ...], closed: tuple[Address, ...]) -> bool:
    torques = [a for a in wanted if plan.steps[a.step].kind == "torque"]
    return bool(torques) and all(address in closed for address in torques)


def _leaves(
    steps: tuple[Step, ...], site: Site, number: int, plan: Plan, state: State
) -> Iterator[Address]:
    """Yield the leaves under a place that are done in this build, in one round."""
    for step in steps:
        if not hold(step.conditions, plan, state):
            continue
        if step.kind == "choose":
            option = settled(step, state)
            if not option:
                asked = Address(step.id, site.key, number)
                yield asked
                option = chosen(state, asked)
            yield from _leaves(step.children.get(option, ()), site, number, plan, state)
        elif not step.children:
            yield Address(step.id, site.key, number)
        else:
            inner = valves(plan.engine, site.cylinder) if _over(step) == "valves" else (site,)
            for each in inner:
                for children in step.children.values():
                    yield from _leaves(children, each, number, plan, state)


def _over(step: Step) -> str:
    return str(getattr(step.block, "over", ""))
