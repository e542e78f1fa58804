"""A figure of a stage given again: which stages are done anew, and when all begins again."""

from collections.abc import Container, Iterator
from decimal import Decimal

from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.kinds.stage_blocks import Accept, Angle, TorqueTo, Verify
from snugset.guide.kinds.staging import block_of, closed, live, restart, voiding
from snugset.guide.ruling import Ruling, effect
from snugset.guide.scene import Scene
from snugset.plan.stages import Place
from snugset.units import Quantity


def changed_stage(container: Step, name: str, scene: Scene, new: Scene, ruling: Ruling) -> None:
    """Follow a figure into a container of stages.

    A torque is given again, with what follows it; where an angle stands on it, or the angle is
    another, nothing can be put under it: all begins again, which needs a reason.
    """
    if name == block_of(container).yield_:
        _renewed_before(container, scene, ruling)
    stages = live(scene.plan, scene.state, container)
    first = next((p for p in stages if _changed(p, name, new) and closed(scene.state, p)), None)
    if first is None:
        _recount(container, scene, new, ruling)
        return
    later = stages[first.number - 1 :]
    angles = [p for p in later if p.step.kind == "angle" and closed(scene.state, p)]
    if angles:
        ruling.rule(
            "angle-given",
            f"{name} is another now, and {angles[0].step.id} is given already: no torque goes "
            f"under an angle, and none is given twice. Taking it means beginning {container.id} "
            f"again: all loosened, and so on. Give the figure with the reason: FIGURE ! why",
        )
        restart(scene, container, ruling, f"{name} was given again")
        return
    done = [address for place in later for address in closed(scene.state, place)]
    number = first.number - 1
    group, before = block_of(container).group, f"{number} of {first.of}" if number else None
    mark = effect("stage", group, before)
    ruling.add("voided", voiding(ruling.address, done, f"{name} was given again", mark))
    ruling.said.append(f"{group}: {first.step.id} and what follows are to be done again.")


def _renewed_before(container: Step, scene: Scene, ruling: Ruling) -> None:
    """Say that fasteners which were renewed by the old answer stay in."""
    asked = {f"{step.id}.renew" for step in (container, *container.children["steps"])}
    if any(a.step in asked and f.kind == "done" for a, f in scene.state.facts.items()):
        ruling.said.append(
            f"{block_of(container).group}: what was renewed stays in; the new answer holds from "
            "the next time that it is loosened."
        )


def _changed(place: Place, name: str, new: Scene) -> bool:
    """Tell whether what was done in a stage is not what its figure says now."""
    block = place.step.block
    if not isinstance(block, TorqueTo | Verify | Accept | Angle):
        return False
    figure = new.length(name) if block.figure == name else None
    if figure is None:
        return False
    values = [new.state.facts[address].value for address in closed(new.state, place)]
    if isinstance(block, Verify):
        return bool(values)
    if isinstance(block, Accept):
        return any(_under(value, figure) for value in values)
    return any(value.removesuffix(", by its mark") != str(figure) for value in values)


def _under(value: str, least: Quantity) -> bool:
    number, _, unit = value.partition(" ")
    return Quantity(Decimal(number), unit).in_(least.unit) < least.value


def _recount(container: Step, scene: Scene, new: Scene, ruling: Ruling) -> None:
    """Say anew which stage of how many is reached, where stages have come or gone."""
    before, after = (live(s.plan, s.state, container) for s in (scene, new))
    if [p.step.id for p in before] == [p.step.id for p in after]:
        return
    group = block_of(container).group
    if scene.state.condition.mark("stage", group) is None:
        return
    reached = list(whole_stages(after, scene.state.facts))
    words = f"{len(reached)} of {len(after)}" if reached else None
    mark = effect("stage", group, words)
    ruling.add("voided", voiding(ruling.address, (), "its stages are others now", mark))


def whole_stages(stages: tuple[Place, ...], done: Container[Address]) -> Iterator[Place]:
    """Yield the stages that are finished by what is done, up to the first that is not."""
    for place in stages:
        if isinstance(place.step.block, Verify):
            whole = Address(place.step.id, "", 1) in done
        else:
            whole = all(Address(place.step.id, key) in done for key in place.keys)
        if not whole:
            return
        yield place
