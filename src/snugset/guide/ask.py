"""The prompt of a build as it stands."""

from datetime import datetime

from snugset.guide.kinds import KINDS
from snugset.guide.kinds.hold import waiting_words
from snugset.guide.prompt import Prompt
from snugset.guide.state import State
from snugset.guide.walk import current, find, occurrences
from snugset.plan.plan import Plan
from snugset.values import dataclass, replace


def prompt(plan: Plan, state: State, now: datetime) -> Prompt | None:
    """Give the one thing asked now; None when the build is finished."""
    found = current(plan, state, now)
    if found is None:
        return None
    ask = KINDS[found.step.kind].ask
    if ask is None:
        raise TypeError(found.step.kind)
    waiting = tuple(
        waiting_words(held)
        for address in state.holds
        if address != found.address
        if (held := find(plan, state, now, address)) is not None
    )
    back = found.address.step == "return"  # which tells of every wait itself
    return replace(ask(found), waiting=() if back else waiting)


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far a build has come, counted in leaves as far as they are known now."""

    done: int
    known: int
    phase: str
    phase_done: int
    phase_known: int


def progress(plan: Plan, state: State, now: datetime) -> Progress:
    """Count the leaves closed and known, of the build and of the phase that stands open."""
    counts: dict[str, list[int]] = {}
    here = current(plan, state, now)
    for found in occurrences(plan, state, now):
        title = plan.phase(found.step.id)
        pair = counts.setdefault(title, [0, 0])
        pair[0] += not found.open
        pair[1] += 1
    title = "" if here is None else plan.phase(here.step.id)
    of_phase = counts.get(title, [0, 0])
    return Progress(
        done=sum(pair[0] for pair in counts.values()),
        known=sum(pair[1] for pair in counts.values()),
        phase=title,
        phase_done=of_phase[0],
        phase_known=of_phase[1],
    )
