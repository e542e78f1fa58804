"""A torque, an angle or a camshaft card given again: what falls with it."""

from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.kinds.crank import Crank
from snugset.guide.kinds.stage_blocks import Stages
from snugset.guide.kinds.staging import block_of, closed, live, voiding
from snugset.guide.kinds.torque import Tighten, Torque, stages
from snugset.guide.ruling import Ruling, effect
from snugset.guide.scene import Scene
from snugset.plan.stages import Place

AGAIN = "its torque was given again"


def tighten(step: Step, scene: Scene, ruling: Ruling) -> None:
    """Begin again at the first stage whose torque is another now."""
    if not isinstance(step.block, Tighten):
        raise TypeError(step.kind)
    group, new = step.block.group, stages(scene, step.block.stages)
    done = {a: f for a, f in scene.state.facts.items() if a.step == step.id and f.kind == "done"}
    wrong = [
        number
        for number in {_number(a) for a in done}
        if number > len(new)
        or any(f.value != str(new[number - 1]) for a, f in done.items() if _number(a) == number)
    ]
    last = max(map(_number, done), default=0)
    first = min(wrong, default=0)
    if not first and last >= len(new) and (old := scene.state.condition.mark("stage", group)):
        reached, _, of = old.partition(" of ")
        if of != str(len(new)):
            first = int(reached)
    if not first:
        return
    again = [a for a in scene.state.facts if a.step == step.id and _number(a) >= first]
    before = f"{first - 1} of {len(new)}" if first > 1 else None
    ruling.add("voided", voiding(ruling.address, again, AGAIN, effect("stage", group, before)))
    ruling.said.append(f"{group}: stage {first} and what follows are to be done again.")


def _number(address: Address) -> int:
    return int(address.place.partition(".")[0])


def torque(step: Step, scene: Scene, ruling: Ruling) -> None:
    """Open the places that were drawn to another torque."""
    setting = scene.length(step.block.setting) if isinstance(step.block, Torque) else None
    facts = scene.state.facts
    wrong = [a for a, f in facts.items() if a.step == step.id and f.value != str(setting)]
    if wrong:
        off = [effect("torqued", a.place, None) for a in wrong]
        ruling.add("voided", voiding(ruling.address, wrong, AGAIN, *off))
        ruling.said.append(f"{step.id} is to be done again at {', '.join(a.place for a in wrong)}.")


def _place(step: Step, scene: Scene) -> tuple[Step, Place, tuple[Place, ...]] | None:
    """Find a stage in its container, and those after it; None where it is not done here."""
    container = next(s for s in scene.plan.above[step.id] if isinstance(s.block, Stages))
    every = live(scene.plan, scene.state, container)
    mine = next((place for place in every if place.step.id == step.id), None)
    return None if mine is None else (container, mine, every[mine.number :])


def _stands(place: Place, scene: Scene, named: str) -> list[str]:
    """Give the values other than the figure's that fasteners were brought to, without the unit."""
    now = str(scene.length(named))
    facts = (scene.state.facts[a] for a in closed(scene.state, place))
    return list(dict.fromkeys(f.value for f in facts if f.kind == "done" and f.value != now))


def stage(step: Step, scene: Scene, ruling: Ruling) -> None:
    """Open a torque stage and what follows it; under an angle it is stopped instead."""
    found = _place(step, scene)
    if found is None:
        return
    container, mine, after = found
    done = closed(scene.state, mine)
    other = step.kind != "torque-to" or _stands(mine, scene, getattr(step.block, "figure", ""))
    if not done or not other:
        return
    turned = [p for p in after if p.step.kind == "angle" and closed(scene.state, p)]
    if turned and step.kind != "accept":
        _stop(container, f"The angle of {turned[0].step.id} was given on this torque", ruling)
        return
    later = [mine, *(place for place in after if place.group == mine.group)]
    again = [address for place in later for address in closed(scene.state, place)]
    before = f"{mine.number - 1} of {mine.of}" if mine.number > 1 else None
    off = effect("stage", block_of(container).group, before)
    ruling.add("voided", voiding(ruling.address, again, AGAIN, off))
    ruling.said.append(f"{step.id} and what follows it in {container.id} are to be done again.")


def angle(step: Step, scene: Scene, ruling: Ruling) -> None:
    """Stop where fasteners have another angle already: it is never given twice."""
    found = _place(step, scene)
    given = [] if found is None else _stands(found[1], scene, getattr(step.block, "figure", ""))
    if found is not None and given:
        _stop(found[0], f"{step.id} was given as {', '.join(given)}", ruling)


def _stop(container: Step, why: str, ruling: Ruling) -> None:
    if any(event.body.get("code") == "angle-stands" for event in ruling.events):
        return
    ruling.rule(
        "angle-stands",
        f"{why}. If that was wrong on the engine, all of {container.id} begins again: at one of "
        f"its fasteners that is done, @ITS-ADDRESS restart ! the reason, then this figure. If only "
        f"the figure was written down wrongly, say so: again {ruling.answer.text} ! the reason",
    )


def points(step: Step, scene: Scene, ruling: Ruling) -> None:
    """Work the setting points out again."""
    if not isinstance(step.block, Crank) or step.id not in scene.state.planned:
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
    again = [Address(f"{step.id}.plan")]
    ruling.add("voided", voiding(ruling.address, again, "the figure was given again"))
    ruling.said.append("The setting points are worked out again.")
