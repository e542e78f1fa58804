"""Unfolding the plan to its leaves, and the one that is asked now."""

from collections.abc import Iterator
from datetime import datetime

from snugset.files.steps import Step
from snugset.guide.conditions import absent, hold
from snugset.guide.kinds import KINDS, back
from snugset.guide.kinds.hold import begun_here
from snugset.guide.kinds.second_look import looked_at, with_second_look
from snugset.guide.scene import Occurrence, Scene
from snugset.guide.state import State
from snugset.plan.plan import Plan


def unfold(steps: tuple[Step, ...], scene: Scene) -> Iterator[Occurrence]:
    """Yield every leaf that the steps stand for now, in order."""
    for step in steps:
        if step.conditions and not hold(step.conditions, scene.plan, scene.state):
            continue
        leaves = KINDS[step.kind].walk(step, scene, unfold)
        yield from with_second_look(step, scene, leaves) if step.second_look else leaves


def occurrences(plan: Plan, state: State, now: datetime) -> Iterator[Occurrence]:
    """Yield every leaf of the build, open and closed, in the order of work."""
    scene = Scene(plan=plan, state=state, now=now)
    if state.returning:
        yield from unfold((back.STEP,), scene)
    yield from unfold(plan.figure_steps, scene)
    for phase in plan.phases:
        yield from unfold(phase.steps, scene)


def current(plan: Plan, state: State, now: datetime) -> Occurrence | None:
    """Give the leaf that is asked now: the first open one, or while it is a wait, another.

    While a hold waits, the first open step marked meanwhile whose needs are done comes before it;
    None when nothing is open: the build is finished.
    """
    every = iter(occurrences(plan, state, now))
    first = next((found for found in every if found.open), None)
    if first is None or begun_here(first) is None:
        return first
    for found in every:
        if found.open and found.step.meanwhile and needs_done(found, plan, state, now):
            return found
    return first


def needs_done(found: Occurrence, plan: Plan, state: State, now: datetime) -> bool:
    """Tell whether every step that this one needs is closed at all its places.

    What is not done in this build is not waited for.
    """
    needs = set(found.step.needs)
    if not needs:
        return True
    seen: set[str] = set()
    for other in occurrences(plan, state, now):
        if (name := looked_at(other.step.id)) in needs:
            if other.open:
                return False
            seen.add(name)
    return all(absent(plan.steps[name], plan, state) for name in needs - seen)


def find(plan: Plan, state: State, now: datetime, address: object) -> Occurrence | None:
    """Give the leaf at an address, open or closed; None where there is none such now."""
    return next((f for f in occurrences(plan, state, now) if f.address == address), None)
