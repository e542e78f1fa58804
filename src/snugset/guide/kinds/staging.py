"""What the stages of a container have in common: where they stand, what of them is done."""

from collections.abc import Iterable, Iterator, Sequence

from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.answer import Answer
from snugset.guide.conditions import hold
from snugset.guide.events import Body
from snugset.guide.kinds.kind import Unfold
from snugset.guide.kinds.so_far import closing
from snugset.guide.kinds.stage_blocks import Stages
from snugset.guide.kinds.wrench import range_words
from snugset.guide.ruling import Ruling, effect, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.guide.sealant import sealant_past
from snugset.guide.state import State
from snugset.plan.plan import Plan
from snugset.plan.stages import Place, groups_of, places, site
from snugset.units import Quantity

RECOVERY = ("loosen", "renew", "gasket")
"""What a container asks for before it begins again, each by an address of its own."""

RESTART = (
    "Beginning again means: all loosened, torque-to-yield fasteners renewed, the gasket asked "
    "about, then from the first stage. Say why: restart ! the reason"
)


def live(plan: Plan, state: State, container: Step) -> tuple[Place, ...]:
    """Give the stages of a container that are done in this build."""
    there = tuple(
        step for step in container.children["steps"] if hold(step.conditions, plan, state)
    )
    return places(plan.engine, container, there)


def block_of(container: Step) -> Stages:
    """Give the block of a container of stages."""
    if not isinstance(container.block, Stages):
        raise TypeError(container.kind)
    return container.block


def container_of(found: Occurrence) -> Step:
    """Give the container that a stage stands in."""
    if found.scene.stages is None:
        raise TypeError("a stage stands in a container of stages")
    return found.scene.stages


def place_of(found: Occurrence) -> Place:
    """Give the stage that a leaf belongs to, in its container."""
    scene = found.scene
    every = live(scene.plan, scene.state, container_of(found))
    return next(place for place in every if place.step.id == found.step.id)


def walk_places(step: Step, scene: Scene, _unfold: Unfold) -> Iterator[Occurrence]:
    """Unfold a stage to its fasteners."""
    if scene.stages is None:
        raise TypeError("a stage stands in a container of stages")
    every = live(scene.plan, scene.state, scene.stages)
    mine = next(place for place in every if place.step.id == step.id)
    for key in mine.keys:
        here = scene.at(site=site(scene.plan.engine, mine.group, key))
        address = here.address(step)
        yield Occurrence(step=step, address=address, scene=here, open=not scene.closed(address))


def addresses(place: Place) -> tuple[Address, ...]:
    """Give the address of each fastener of a stage, in the order of work."""
    return tuple(Address(place.step.id, key) for key in place.keys)


def closed(state: State, place: Place) -> list[Address]:
    """Give what is closed of a stage: fasteners, or passes."""
    return [address for address in state.facts if address.step == place.step.id]


def reached(container: Step, place: Place) -> Body:
    """Give the effect of a stage that is finished."""
    return effect("stage", block_of(container).group, f"{place.number} of {place.of}")


def close(
    found: Occurrence, answer: Answer, value: str, ruling: Ruling, then: tuple[Body, ...] = ()
) -> None:
    """Close this fastener, or all the rest of the stage; `then` is what its end makes true."""
    place = place_of(found)
    rest, now = _counted(found, answer)
    whole = len(now) == len(rest)
    for address in now:
        last = whole and address == now[-1]
        effects = (*_ended(found, place), *then) if last else ()
        ruling.done(value, (*_caught_up(found, place, address.place), *effects), address)
    if whole:
        ruling.said.append(f"{found.step.id}, {value}: every fastener done.")
    elif answer.verb == "stage":
        done = len(place.keys) - len(rest) + len(now)
        ruling.said.append(f"{found.step.id}, {value}: {done} of {len(place.keys)} done.")


def _counted(found: Occurrence, answer: Answer) -> tuple[Sequence[Address], Sequence[Address]]:
    """Give what is left of a stage, and what an answer closes of it."""
    place = place_of(found)
    rest = [a for a in addresses(place) if not found.scene.closed(a)]
    return rest, closing(answer, found.address, rest, len(place.keys))


def _stands(found: Occurrence) -> int:
    """Give the number of the stage that the container's group has reached."""
    mark = found.scene.state.condition.mark("stage", block_of(container_of(found)).group) or "0"
    return int(mark.partition(" ")[0])


def _ended(found: Occurrence, place: Place) -> tuple[Body, ...]:
    """Mark the stage as reached, unless the group has come further and only a new one follows."""
    if place.number < _stands(found):
        return ()
    return (reached(container_of(found), place),)


def _caught_up(found: Occurrence, place: Place, key: str) -> tuple[Body, ...]:
    """Say how far a new fastener has come after the others."""
    spot = f"{place.group}:{key}"
    if found.scene.state.condition.mark("new", spot) is None:
        return ()
    behind = place.number < _stands(found)
    return (effect("new", spot, f"{place.number} of {place.of}" if behind else None),)


def skipped(found: Occurrence) -> tuple[Body, ...]:
    """Close the stage where the fastener that is left out was its last."""
    place = place_of(found)
    rest = [a for a in addresses(place) if not found.scene.closed(a)]
    own = _caught_up(found, place, found.address.place)
    return (*own, *_ended(found, place)) if rest == [found.address] else own


def head_line(found: Occurrence, shown: str) -> str:
    """Give the line that says which stage it is, and its figure."""
    place = place_of(found)
    return f"Stage {place.number} of {place.of}, {found.step.id}: {shown}"


def generated(found: Occurrence) -> tuple[str, ...]:
    """Say that an order was generated, where it was."""
    place = place_of(found)
    order = getattr(found.step.block, "order", "")
    made = found.scene.plan.engine.fasteners[place.group].generated
    if order in ("criss-cross", "spiral") or (made and isinstance(order, str)):
        return ("Order generated from the map: use the maker's diagram if you have one.",)
    return ()


def wrench_of(found: Occurrence) -> str:
    """Give the figure that is the range of a stage's wrench, empty without one."""
    return getattr(found.step.block, "wrench", "") or block_of(container_of(found)).wrench


def trusted(found: Occurrence, setting: Quantity, ruling: Ruling) -> None:
    """Stop once a stage at a setting beyond the wrench, and at sealant past its open time."""
    _counted(found, ruling.answer)  # a count that cannot be is no matter of rules
    wrench = wrench_of(found)
    wrong = range_words(setting, found.scene.state.spec(wrench) if wrench else None)
    _once(found, "wrench-range", wrong, ruling)
    sealed_in_time(found, ruling)


def sealed_in_time(found: Occurrence, ruling: Ruling) -> None:
    """Stop once a stage at sealant past its open time."""
    _counted(found, ruling.answer)
    scene = found.scene
    late = sealant_past(scene.plan, scene.state, scene.now, place_of(found).group)
    _once(found, "sealant", late, ruling)


def _once(found: Occurrence, code: str, words: str, ruling: Ruling) -> None:
    known = any(
        o.code == code and o.address.step == found.step.id for o in found.scene.state.overrides
    )
    if words and not known:
        ruling.rule(code, words)


def needed(found: Occurrence, name: str) -> Quantity:
    """Give the figure of a stage; a stop where it is not had."""
    setting = found.scene.length(name)
    if setting is None:
        stop("no-figure", f"{name} is not on the spec sheet; this can be skipped only.")
    return setting


def restart_asked(found: Occurrence, answer: Answer, ruling: Ruling) -> bool:
    """Begin a container again where that is asked; tell whether it was."""
    if answer.text.lower() != "restart":
        return False
    ruling.rule("restart", RESTART)
    restart(found.scene, container_of(found), ruling, ruling.reason)
    return True


def restart(scene: Scene, container: Step, ruling: Ruling, reason: str) -> None:
    """Open everything of a container, and ask first for what must be loosened and renewed."""
    every = live(scene.plan, scene.state, container)
    steps = {place.step.id for place in every}
    own = {f"{container.id}.{name}" for name in (*RECOVERY, "marks")}
    renewed = {f"{step}.renew" for step in steps}
    ruling.add(
        "voided",
        {
            "at": str(ruling.address),
            "addresses": [str(a) for a in scene.state.facts if a.step in steps | own | renewed],
            "reason": reason,
            "effects": [
                effect("restart", container.id),
                effect("marks", container.id, None),
                *(effect(what, step, None) for step in sorted(steps) for what in ("free", "renew")),
                *(
                    effect(what, spot, None)
                    for what, spot in scene.state.condition.marks
                    if what == "new" and spot.partition(":")[0] in groups_of(container)
                ),
                effect("stage", block_of(container).group, None),
            ],
        },
    )
    ruling.said.append("Loosen all in the reverse order first; then it begins again.")


def yields(scene: Scene, container: Step) -> str:
    """Tell whether the fasteners are torque-to-yield: yes, no, or empty where it is not known."""
    name = block_of(container).yield_
    found = scene.state.spec(name) if name else None
    return found if isinstance(found, str) else ""


def voiding(at: Address, addresses_: Iterable[Address], reason: str, *effects: Body) -> Body:
    """Make the body of an event that opens addresses again."""
    return {
        "at": str(at),
        "addresses": [str(address) for address in addresses_],
        "reason": reason,
        "effects": list(effects),
    }
