"""Whether the torques of a container's stages rise."""

from snugset.files.figures import SpecValue
from snugset.guide.kinds.stage_blocks import Loosen, Stages, TorqueTo
from snugset.guide.scene import Scene
from snugset.plan.stages import group_of, keys_of
from snugset.units import Quantity


def falling(name: str, value: SpecValue, scene: Scene) -> str:
    """Say where a torque would not be above the one before it on the same fastener.

    Empty where all rise. `value` is what the figure called `name` is about to be. After a loosening
    it starts anew.
    """
    for container in scene.plan.steps.values():
        if not isinstance(container.block, Stages):
            continue
        before: dict[tuple[str, str], tuple[str, Quantity]] = {}
        for step in container.children["steps"]:
            block = step.block
            if not isinstance(block, Loosen | TorqueTo):
                continue
            group = group_of(container, step)
            keys = keys_of(scene.plan.engine, group, block.only, block.order)
            spots = [(group, key) for key in keys]
            if isinstance(block, Loosen):
                before = {spot: was for spot, was in before.items() if spot not in spots}
                continue
            now = value if block.figure == name else scene.state.spec(block.figure)
            if not isinstance(now, Quantity):
                continue
            earlier = (before[spot] for spot in spots if spot in before)
            for figure, was in () if block.falls else earlier:
                if name in (block.figure, figure) and now.in_(was.unit) <= was.value:
                    return (
                        f"{block.figure} {now} comes after {figure} {was}: each stage must be "
                        f"above the one before it, or its step says “falls: yes”"
                    )
            before.update(dict.fromkeys(spots, (block.figure, now)))
    return ""
