"""What is done again once fasteners, or the gasket under them, are renewed."""

from collections.abc import Iterable, Mapping

from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.events import Body
from snugset.guide.kinds.do import Do
from snugset.guide.kinds.each import Each
from snugset.guide.kinds.staging import block_of
from snugset.guide.ruling import effect
from snugset.guide.scene import Scene
from snugset.plan.stages import groups_of

_ON_FASTENERS = ("sealed", "oiled", "stud")
"""What is true of a fastener, and of another one in its hole is not."""


def again(scene: Scene, keys: Mapping[str, Iterable[str]]) -> tuple[list[Address], list[Body]]:
    """Give what is done again where other fasteners go in, and what is not true of them.

    `keys` are the places by group.
    """
    spots = {f"{group}:{key}" for group, places in keys.items() for key in places}
    addresses, effects = [], []
    for step in scene.plan.steps.values():
        if not isinstance(step.block, Do) or step.block.marks not in _ON_FASTENERS:
            continue
        group = _group(step, scene)
        addresses += [
            a for a in scene.state.facts if a.step == step.id and f"{group}:{a.place}" in spots
        ]
    for what, spot in scene.state.condition.marks:
        if what in _ON_FASTENERS and spot in spots:
            effects.append(effect(what, spot, None))
    return addresses, effects


def after_restart(
    scene: Scene, container: Step, *, fasteners: bool, gasket: bool
) -> tuple[list[Address], list[Body]]:
    """Give what is done again where a container begins again with its fasteners or gasket renewed.

    A new gasket means that the head was off: its bolts have been out, studs have stayed in.
    """
    block, groups = block_of(container), scene.plan.engine.fasteners
    keys = {
        name: groups[name].places
        for name in groups_of(container)
        if fasteners or (gasket and groups[name].kind == "bolt")
    }
    addresses, effects = again(scene, keys)
    names = (*(block.gasket if gasket else ()), *(block.renewed if keys else ()))
    steps, more = named(scene, names)
    return [*dict.fromkeys((*addresses, *steps))], [*effects, *more]


def named(scene: Scene, names: Iterable[str]) -> tuple[list[Address], list[Body]]:
    """Give the finished addresses of named steps, and the marks that they made."""
    steps = [scene.plan.steps[name] for name in names]
    ids = {step.id for step in steps}
    marks = {(getattr(step.block, "marks", ""), _group(step, scene)) for step in steps}
    off = [
        effect(what, spot, None)
        for what, spot in scene.state.condition.marks
        if (what, spot.partition(":")[0]) in marks
    ]
    return [a for a in scene.state.facts if a.step in ids], off


def _group(step: Step, scene: Scene) -> str:
    """Give the group of fasteners whose places a step is done at, empty for none."""
    for outer in scene.plan.above.get(step.id, ()):
        if isinstance(outer.block, Each) and outer.block.over == "fasteners":
            return outer.block.group or next(iter(scene.plan.engine.fasteners), "")
    return ""
