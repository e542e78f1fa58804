"""Beginning a tightening again from its first stage, also when it was finished long ago."""

from collections.abc import Iterator
from datetime import datetime

from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.answer import Answer
from snugset.guide.kinds.stage_blocks import Stages
from snugset.guide.kinds.staging import RESTART, restart
from snugset.guide.kinds.torque import Tighten
from snugset.guide.ruling import Decision, Ruling, effect, stop
from snugset.guide.scene import Scene
from snugset.guide.state import State
from snugset.guide.walk import occurrences
from snugset.plan.plan import Plan
from snugset.printable import counted


def begin_again(plan: Plan, state: State, answer: Answer, now: datetime) -> Decision | None:
    """Take ``restart`` at a tightening, or at a stage in it; None where it is something else."""
    if answer.text.lower() != "restart" or answer.verb not in ("say", "again"):
        return None
    container = _tightening(plan, answer.address)
    if container is None:
        return None
    scene = Scene(plan=plan, state=state, now=now)
    if state.returning:
        stop("returning", "Read what is asked on coming back first.")
    steps = {container.id, *(s.id for inner in container.children.values() for s in inner)}
    done = [address for address in state.facts if address.step in steps]
    if not done:
        stop("not-yet", f"Nothing of {container.id} is done yet.")
    ruling = Ruling(answer, answer.address)
    if isinstance(container.block, Tighten):
        ruling.rule("restart", "Beginning again means: all loosened first. Say why: restart ! why")
        ruling.add(
            "voided",
            {
                "at": str(answer.address),
                "addresses": [str(address) for address in done],
                "reason": ruling.reason,
                "effects": [effect("stage", container.block.group, None)],
            },
        )
        ruling.said.append("Loosen all in the reverse order first; then it begins at stage 1.")
    else:
        ruling.rule("restart", RESTART)
        restart(scene, container, ruling, ruling.reason)
    ruling.said += _since(scene, steps)
    return ruling.decision()


def _tightening(plan: Plan, address: Address) -> Step | None:
    step = plan.steps.get(address.step)
    if step is None:
        return None
    every = (*plan.above.get(step.id, ()), step)
    return next((s for s in every if isinstance(s.block, Stages | Tighten)), None)


def _since(scene: Scene, steps: set[str]) -> Iterator[str]:
    """Say what was done after it and is not opened by itself."""
    every = list(occurrences(scene.plan, scene.state, scene.now))
    last = max((n for n, found in enumerate(every) if found.step.id in steps), default=len(every))
    after = [str(found.address) for found in every[last + 1 :] if not found.open]
    if after:
        yield (
            f"What was done since stands on the record: {counted(len(after), 'answer')}, from "
            f"{after[0]} to {after[-1]}. What has to come off for this is done "
            f"again: @{after[0]} again"
        )
