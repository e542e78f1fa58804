"""Coming back after a break: the events that say what it puts in doubt."""

from datetime import datetime

from snugset.files.steps import Step
from snugset.guide.engine_now import loose, started_stages
from snugset.guide.events import Event
from snugset.guide.lifters import on_return
from snugset.guide.ruling import effect
from snugset.guide.scene import Scene, went_back, when
from snugset.guide.sealant import sealant_past
from snugset.guide.state import State
from snugset.guide.walk import current
from snugset.plan.plan import Plan

IDLE = 30 * 60
"""Seconds without an answer after which the engine may not be as it was left."""
WENT_BACK = (
    "This machine's clock went back, so nobody knows how long that was: judge wet sealant and "
    "lifters that bleed down by your own watch"
)
OVERNIGHT = 6 * 60 * 60
"""Seconds after which a gasket below its final torque has relaxed (common practice)."""

_COOLED = (
    "The engine has cooled: run it hot again before the next hot lash is set; what was set hot "
    "stands"
)


def hot_work(plan: Plan, step: Step) -> bool:
    """Tell whether a step is, or stands among, work that is done on a hot engine."""
    outer = (*plan.above.get(step.id, ()), plan.steps.get(step.id.rpartition(".")[0], step), step)
    return any(_hot(each) for each in outer)


def _hot(step: Step) -> bool:
    inner = (each for steps in step.children.values() for each in steps)
    return getattr(step.block, "at", "") == "hot" or any(_hot(each) for each in inner)


def came_back(plan: Plan, state: State, now: datetime) -> tuple[Event, ...]:
    """Give the events of coming back; none before the first answer or after the last.

    The crank becomes unknown, and a torque stage that was broken off starts again. While an earlier
    return has not been read, this one is the same break grown longer: it keeps where the build
    stood then, and does not void a second time.
    """
    here = current(plan, state, now)
    if not state.given or here is None:
        return ()
    first = state.breaks[-1] if state.returning else None
    before = first.before if first else state.last_at
    gap = max(0, int((now - when(before)).total_seconds()))
    unknown = went_back(before, now)
    long = gap >= OVERNIGHT or unknown
    voided, reasons, effects = started_stages(plan, state, overnight=long)
    if first and first.voided and (first.gap >= OVERNIGHT or not long):
        voided, reasons, effects = (), (), ()
    crank = first.crank if first else state.condition.crank
    late = [WENT_BACK] if unknown else []
    late += [words for g in plan.engine.fasteners if (words := sealant_past(plan, state, now, g))]
    bled = on_return(Scene(plan=plan, state=state, now=now))
    late += [bled] if bled else []
    late += [_COOLED] if hot_work(plan, here.step) else []
    advice = dict.fromkeys((*(first.advice if first else ()), *reasons, *late))
    addresses = [str(address) for address in voided]
    body = {
        "gap": gap,
        "before": before,
        "last_person": first.last_person if first else state.last_person,
        "stood": first.stood if first else str(here.address),
        "crank": None if crank is None else str(crank),
        "voided": [*(first.voided if first else ()), *addresses],
        "loose": list(loose(plan, state)),
        "advice": list(advice),
        "effects": [effect("crank", "", None), *(() if voided else effects)],
    }
    events = [Event("came-back", body)]
    if voided:
        reason = "; ".join(reasons)
        events.append(
            Event("voided", {"addresses": addresses, "reason": reason, "effects": list(effects)})
        )
    return tuple(events)
