"""Stages of tightening: which fasteners each goes over, in which order."""

from collections.abc import Iterator
from functools import lru_cache
from typing import ClassVar

from snugset.files.engine import Engine
from snugset.files.fasteners import spots, words
from snugset.files.problems import Problems, all_of, quote
from snugset.files.steps import Step
from snugset.plan.places import Site
from snugset.trade.sequence import centre_out, order_faults
from snugset.values import dataclass

KINDS = ("torque-to", "angle", "loosen", "verify", "accept")
"""What may stand in a container of stages."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """What every stage says of the fasteners that it goes over."""

    GROUPS: ClassVar[tuple[str, ...]] = ("group",)

    group: str = ""
    """Empty for the container's."""
    only: tuple[str, ...] = ()
    """Some of the group's places; empty for all."""
    order: str | tuple[str, ...] = "as-map"
    """One of the patterns, or the places in their order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A stage in its container."""

    step: Step
    number: int
    """From 1, as they stand."""
    of: int
    group: str
    keys: tuple[str, ...]
    """The places in the order of work."""


def group_of(container: Step, stage: Step) -> str:
    """Give the group that a stage goes over."""
    own: str = getattr(stage.block, "group", "")
    return own or getattr(container.block, "group", "")


def places(engine: Engine, container: Step, steps: tuple[Step, ...]) -> tuple[Place, ...]:
    """Give the stages among some steps of a container, with their fasteners."""
    found = []
    for number, step in enumerate(steps, 1):
        if not isinstance(step.block, Stage):
            raise TypeError(step.kind)
        group = group_of(container, step)
        keys = keys_of(engine, group, step.block.only, step.block.order)
        found.append(Place(step=step, number=number, of=len(steps), group=group, keys=keys))
    return tuple(found)


@lru_cache(maxsize=256)
def keys_of(
    engine: Engine, group: str, only: tuple[str, ...], order: str | tuple[str, ...]
) -> tuple[str, ...]:
    """Give the places of a stage in the order of work."""
    found = engine.fasteners[group]
    keys = tuple(key for key in found.order if not only or key in only)
    match order:
        case tuple():
            return order
        case "reverse":
            return keys[::-1]
        case "criss-cross" | "spiral":
            known = spots(found.places)
            return centre_out(
                {key: known[key] for key in found.places if key in keys},
                "spiral" if order == "spiral" else "criss-cross",
            )
    return keys


@lru_cache(maxsize=4096)
def site(engine: Engine, group: str, key: str, shown: str = "") -> Site:
    """Give a fastener as a place; `shown` is its key where that says more."""
    found = engine.fasteners[group]
    return Site(
        over="fasteners",
        key=shown or key,
        words=f"{key}, {words(found, key)}",
        group=group,
        fastener=key if shown else "",
    )


def groups_of(container: Step) -> tuple[str, ...]:
    """Give the groups that the stages of a container go over, its own first."""
    found = [getattr(container.block, "group", "")]
    found += [group_of(container, step) for step in container.children["steps"]]
    return tuple(dict.fromkeys(found))


def check_stages(container: Step, engine: Engine, into: Problems) -> None:
    """Add what is wrong with the places that the stages of a container name."""
    for step in container.children.get("steps", ()):
        block = step.block
        group = engine.fasteners.get(group_of(container, step))
        if not isinstance(block, Stage) or group is None:
            continue
        for wrong in _wrong(block, set(group.places), group.name):
            into.add(step.field_marks.get("order", step.mark), f"{step.id}: {wrong}", (group.name,))
    for name in groups_of(container):
        if missed := _missed(container, engine, name):
            into.add(
                container.mark,
                f"{container.id}: no torque or angle goes over {all_of(missed)} of the group "
                f"{quote(name)}; each fastener is tightened in some stage",
                (name,),
            )


def _missed(container: Step, engine: Engine, name: str) -> list[str]:
    """Give the places of a group that no stage of a container tightens."""
    group = engine.fasteners.get(name)
    if group is None:
        return []
    left = dict.fromkeys(group.places)
    for step in container.children.get("steps", ()):
        if isinstance(step.block, Stage) and group_of(container, step) == name:
            for key in step.block.only or tuple(group.places):
                if step.kind in ("torque-to", "angle"):
                    left.pop(key, None)
    return list(left)


def _wrong(block: Stage, there: set[str], group: str) -> Iterator[str]:
    strangers = [key for key in block.only if key not in there]
    if strangers:
        yield f"“only” names {all_of(map(quote, strangers))}, no place of the group {quote(group)}"
    if isinstance(block.order, str):
        return
    wanted = [key for key in (block.only or sorted(there)) if key in there]
    faults = order_faults(block.order, wanted)
    for at in faults.unknown:
        yield f"the order names {quote(block.order[at])}, which is no place of this stage"
    for at in faults.repeated:
        yield f"place {block.order[at]} stands twice in the order; each is done once"
    if faults.missing:
        yield f"the order misses {all_of(faults.missing)}; each place of the stage is done once"
