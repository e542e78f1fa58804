"""A figure of the spec sheet given again: what was done by the old one and must be done anew."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from snugset.files.figures import Figure, SpecValue
from snugset.files.steps import Step
from snugset.guide.kinds import again_readings, again_torques
from snugset.guide.kinds.clay import Clay
from snugset.guide.kinds.crank import Crank
from snugset.guide.kinds.gap import Gap
from snugset.guide.kinds.lash import Lash
from snugset.guide.kinds.nut import Nut
from snugset.guide.kinds.read import Measure
from snugset.guide.kinds.stage_blocks import Accept, Angle, TorqueTo, Verify
from snugset.guide.kinds.torque import Tighten, Torque
from snugset.guide.ruling import Ruling
from snugset.guide.scene import Scene

Follow = Callable[[Step, Scene, Ruling], None]
"""Void what no longer holds at a step; the scene has the new figure already."""

FOLLOWED: Mapping[type, Mapping[str, Follow]] = {
    Tighten: {"stages": again_torques.tighten},
    Torque: {"setting": again_torques.torque},
    TorqueTo: {"figure": again_torques.stage},
    Verify: {"figure": again_torques.stage},
    Accept: {"figure": again_torques.stage},
    Angle: {"figure": again_torques.angle},
    Crank: {"events": again_torques.points, "margin": again_torques.points},
    Gap: {
        "window": again_readings.window,
        "travel": again_readings.travel,
        "lifter": again_readings.lifter,
    },
    Lash: dict.fromkeys(("intake", "exhaust", "shift", "tolerance"), again_readings.lash),
    Nut: {
        **dict.fromkeys(("thread", "turns", "target"), again_readings.nut),
        **dict.fromkeys(("window", "travel"), again_readings.nut_limits),
    },
    Measure: dict.fromkeys(("at_most", "at_least", "window"), again_readings.measure),
    Clay: dict.fromkeys(
        ("at_least", "under", "gasket_old", "gasket_new", "crush"), again_readings.clay
    ),
}
"""By block and field that names a figure; what stands in none of these counts from now on only."""


def follow(figure: Figure, value: SpecValue, scene: Scene, ruling: Ruling) -> None:
    """Void what no longer holds with the new figure, judge again what can be, and say so."""
    specs = scene.state.specs
    new = replace(specs[figure.name], value=value)
    after = scene.at(state=replace(scene.state, specs={**specs, figure.name: new}))
    for step in scene.plan.steps.values():
        fields = FOLLOWED.get(type(step.block), {})
        handlers = [
            act for field, act in fields.items() if getattr(step.block, field) == figure.name
        ]
        for act in dict.fromkeys(handlers):
            act(step, after, ruling)
