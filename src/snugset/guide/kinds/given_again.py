"""A figure of the spec sheet given again: what was done by the old one and must be done anew."""

from snugset.files.figures import Figure, SpecValue, Window
from snugset.guide.events import Body
from snugset.guide.kinds.crank import Crank
from snugset.guide.kinds.gap import Gap
from snugset.guide.kinds.torque import Tighten, Torque
from snugset.guide.ruling import Ruling, effect
from snugset.guide.scene import Scene
from snugset.guide.state import Reading
from snugset.trade.verdict import decide
from snugset.units import Quantity


def follow(figure: Figure, value: SpecValue, scene: Scene, ruling: Ruling) -> None:
    """Void what no longer holds with the new figure, judge again what can be, and say so."""
    for step in scene.plan.steps.values():
        block = step.block
        if isinstance(block, Tighten) and block.stages == figure.name:
            _stages(step.id, block, value, scene, ruling)
        if isinstance(block, Torque) and block.setting == figure.name:
            _torques(step.id, value, scene, ruling)
        if isinstance(block, Crank) and figure.name in (block.events, block.margin):
            _points(step.id, scene, ruling)
        if isinstance(block, Gap) and block.window == figure.name:
            _window(block, value, scene, ruling)


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


def _window(block: Gap, value: SpecValue, scene: Scene, ruling: Ruling) -> None:
    """Judge the readings of the last round by the new window; its acceptance does not stand."""
    readings = scene.readings(block.figure)
    number = max((r.address.round for r in readings), default=0)
    for reading in readings:
        if reading.address.round == number and reading.uncertainty is not None:
            ruling.add("rejudged", _rejudged(reading, value))
    judged = [
        a for a, j in scene.state.judged.items() if a.round == number and j.outcome == "accept"
    ]
    if number:
        ruling.said.append(f"Round {number} is judged by the new window.")
    if judged:
        _void([str(a) for a in judged], "the window was given again", [], ruling)


def _rejudged(reading: Reading, value: SpecValue) -> Body:
    low, high = (value.low, value.high) if isinstance(value, Window) else (None, None)
    doubt = reading.uncertainty or Quantity(reading.value.value * 0, reading.value.unit)
    return {
        "at": str(reading.address),
        "verdict": str(decide(reading.value, doubt, low, high)),
        "low": None if low is None else low.to_json(),
        "high": None if high is None else high.to_json(),
    }
