"""A figure of the spec sheet given again: what was done by the old one and must be done anew."""

from snugset.files.figures import Figure, SpecValue
from snugset.files.problems import all_of
from snugset.files.steps import Step
from snugset.guide.conditions import absent
from snugset.guide.events import Body
from snugset.guide.kinds.clay import Clay
from snugset.guide.kinds.crank import Crank
from snugset.guide.kinds.gap import Gap, window_of
from snugset.guide.kinds.judged_again import (
    judge_again,
    lash_limits,
    measure_limits,
    nut_limits,
    rejudged,
    saturated,
)
from snugset.guide.kinds.lash import Lash
from snugset.guide.kinds.nut import Nut
from snugset.guide.kinds.read import Measure
from snugset.guide.kinds.stage_blocks import Stages
from snugset.guide.kinds.stage_changed import changed_stage
from snugset.guide.kinds.torque import Tighten, Torque
from snugset.guide.ruling import Ruling, effect
from snugset.guide.scene import Scene
from snugset.trade.verdict import decide
from snugset.units import Quantity
from snugset.values import replace


def follow(figure: Figure, value: SpecValue, scene: Scene, ruling: Ruling) -> None:
    """Void what no longer holds with the new figure, judge again what can be, and say so."""
    new = _with(figure, value, scene)
    there, then = _leaves(scene), _leaves(new)
    for step in scene.plan.steps.values():
        _follow_step(step, value, scene, ruling, new=new, name=figure.name)
    gone = [
        str(address)
        for address in scene.state.facts
        if address.step in there and address.step not in then
    ]
    if gone:
        ruling.said.append(
            f"With it these do not belong to the build any more: {', '.join(gone[:6])}"
            f"{f' and {len(gone) - 6} more' if gone[6:] else ''}. What was done there still is."
        )
    done = {address.step for address in scene.state.facts}
    for what, steps in (
        ("come in", [name for name in then if name not in there]),
        ("are left out", [name for name in there if name not in then and name not in done]),
    ):
        if steps:
            ruling.said.append(f"With it these {what}: {all_of(steps)}.")


def _leaves(scene: Scene) -> dict[str, None]:
    """Give the steps of this build that are done one by one, in order."""
    return {
        step.id: None
        for step in scene.plan.steps.values()
        if (not step.children or step.kind == "choose")
        and not absent(step, scene.plan, scene.state)
    }


def _with(figure: Figure, value: SpecValue, scene: Scene) -> Scene:
    """Give the scene as it is with the new figure."""
    old = scene.state.specs[figure.name]
    specs = {**scene.state.specs, figure.name: replace(old, value=value, had=value is not None)}
    return scene.at(state=replace(scene.state, specs=specs))


def _follow_step(
    step: Step, value: SpecValue, scene: Scene, ruling: Ruling, *, new: Scene, name: str
) -> None:
    block = step.block
    match block:
        case Tighten() if block.stages == name:
            _stages(step.id, block, value, scene, ruling)
        case Torque() if block.setting == name:
            _torques(step.id, value, scene, ruling)
        case Crank() if name in (block.events, block.margin, block.lifter):
            _points(step.id, scene, ruling)
        case Gap() if name in (block.window, block.travel):
            _window(block, new, scene, ruling)
        case Clay() if name in (block.at_least, *block.gaskets):
            _clay(step.id, scene, ruling)
        case Stages():
            changed_stage(step, name, scene, new, ruling)
        case Lash() if name in (block.intake, block.exhaust, block.shift, block.tolerance):
            judge_again(step, scene, new, ruling, lash_limits)
        case Measure() if name in (block.at_most, block.at_least, block.window):
            judge_again(step, scene, new, ruling, measure_limits)
        case Nut() if name in (block.thread, block.turns, block.target):
            _nuts(step.id, scene, ruling)
        case Nut() if name in (block.window, block.travel):
            judge_again(step, scene, new, ruling, nut_limits)
        case _:
            pass


def _void(addresses: list[str], reason: str, effects: list[Body], ruling: Ruling) -> None:
    ruling.add("voided", {"addresses": addresses, "reason": reason, "effects": effects})


def _stages(step: str, block: Tighten, value: SpecValue, scene: Scene, ruling: Ruling) -> None:
    """Begin again at the first stage whose torque is another now."""
    new = value if isinstance(value, tuple) else (value,) if isinstance(value, Quantity) else ()
    done = {a: f for a, f in scene.state.facts.items() if a.step == step and f.kind == "done"}
    wrong = [
        number
        for number in {int(a.place.partition(".")[0]) for a in done}
        if number > len(new)
        or any(
            f.value != str(new[number - 1])
            for a, f in done.items()
            if int(a.place.partition(".")[0]) == number
        )
    ]
    last = max((int(a.place.partition(".")[0]) for a in done), default=0)
    first = min(wrong, default=0)
    if not first and last >= len(new) and (old := scene.state.condition.mark("stage", block.group)):
        reached, _, of = old.partition(" of ")
        if of != str(len(new)):
            first = int(reached)
    if not first:
        return
    addresses = [
        str(a)
        for a in scene.state.facts
        if a.step == step and int(a.place.partition(".")[0]) >= first
    ]
    before = f"{first - 1} of {len(new)}" if first > 1 else None
    _void(addresses, "its torque was given again", [effect("stage", block.group, before)], ruling)
    ruling.said.append(f"{block.group}: stage {first} and what follows are to be done again.")


def _torques(step: str, value: SpecValue, scene: Scene, ruling: Ruling) -> None:
    wrong = [a for a, f in scene.state.facts.items() if a.step == step and f.value != str(value)]
    if wrong:
        effects = [effect("torqued", a.place, None) for a in wrong]
        _void([str(a) for a in wrong], "its torque was given again", effects, ruling)
        ruling.said.append(f"{step} is to be done again at {', '.join(a.place for a in wrong)}.")


def _clay(step: str, scene: Scene, ruling: Ruling) -> None:
    """Ask for the clay again: the clearance was worked out and judged with another figure."""
    read = [str(a) for a in scene.state.readings if a.step == step]
    if read:
        _void(read, "a figure it was worked out with was given again", [], ruling)
        ruling.said.append(f"{step} is to be worked out again: type the clay once more.")


def _points(step: str, scene: Scene, ruling: Ruling) -> None:
    if step not in scene.state.planned:
        return
    begun = scene.state.condition.marks.keys() & {
        ("drawn", str(n)) for n in scene.plan.engine.firing_order
    }
    torqued = {p for (what, p) in scene.state.condition.marks if what == "torqued"}
    slack = sorted(place for _, place in begun if place not in torqued)
    if slack:
        ruling.rule(
            "bridge-begun",
            f"Bridge {', '.join(slack)} is drawn down: finish it before the setting points change.",
        )
    _void([f"{step}.plan"], "the figure was given again", [], ruling)
    ruling.said.append("The setting points are worked out again.")


def _window(block: Gap, new: Scene, scene: Scene, ruling: Ruling) -> None:
    """Judge the readings of the last round again; its acceptance does not stand."""
    readings = scene.readings(block.figure)
    number = max((r.address.round for r in readings), default=0)
    if not number:
        return
    low, high = window_of(new, block.window) or (None, None)
    travel = new.length(block.travel)
    for reading in readings:
        if reading.address.round == number and reading.uncertainty is not None:
            verdict = saturated(reading.value, travel) or decide(
                reading.value, reading.uncertainty, low, high
            )
            ruling.add("rejudged", rejudged(reading, str(verdict), low, high))
    ruling.said.append(f"Round {number} is judged by the new figure.")
    judged = [
        a for a, j in scene.state.judged.items() if a.round == number and j.outcome == "accept"
    ]
    if judged:
        _void([str(a) for a in judged], "what it was judged by was given again", [], ruling)


def _nuts(step: str, scene: Scene, ruling: Ruling) -> None:
    """Ask for the nuts again: the turns they were given make another preload now."""
    read = [str(a) for a in scene.state.readings if a.step == step]
    if read:
        _void(read, "what its turns were worked out with was given again", [], ruling)
        ruling.said.append(f"{step} is to be done again: {', '.join(read[:6])}.")
