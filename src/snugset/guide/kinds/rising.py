"""Whether the torques of a container's stages rise."""

from snugset.files.figures import SpecValue
from snugset.guide.kinds.stage_blocks import Loosen, Stages, TorqueTo
from snugset.guide.scene import Scene
from snugset.units import Quantity


def falling(name: str, value: SpecValue, scene: Scene) -> str:
    """Say where a torque would not be above the stage before it; empty where all rise.

    `value` is what the figure called `name` is about to be. After a loosening it starts anew.
    """
    for container in scene.plan.steps.values():
        if not isinstance(container.block, Stages):
            continue
        before: tuple[str, Quantity] | None = None
        for step in container.children["steps"]:
            block = step.block
            if isinstance(block, Loosen):
                before = None
            if not isinstance(block, TorqueTo):
                continue
            now = value if block.figure == name else scene.state.spec(block.figure)
            if not isinstance(now, Quantity):
                continue
            mine = name in (block.figure, before[0] if before else "")
            if before and mine and not block.falls and now.in_(before[1].unit) <= before[1].value:
                return (
                    f"{block.figure} {now} comes after {before[0]} {before[1]}: each stage must be "
                    f"above the one before it"
                )
            before = (block.figure, now)
    return ""
