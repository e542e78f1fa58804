"""Coming back after a break: the events that say what it puts in doubt."""

from datetime import datetime

from snugset.guide.engine_now import loose, sealant, started_stages
from snugset.guide.events import Event
from snugset.guide.ruling import effect
from snugset.guide.scene import when
from snugset.guide.state import State
from snugset.guide.walk import current
from snugset.plan.plan import Plan

IDLE = 30 * 60
"""Seconds without an answer after which the engine may not be as it was left."""
OVERNIGHT = 6 * 60 * 60
"""Seconds after which a gasket below its final torque has relaxed (common practice)."""


def came_back(
    plan: Plan, state: State, now: datetime, left: State | None = None
) -> tuple[Event, ...]:
    """Give the events of coming back; none before the first answer or after the last.

    The crank becomes unknown, and a torque stage that was broken off starts again. `left` is
    the state in which the build was left, where one answer has been kept since.
    """
    if not state.given:
        return ()
    left = left or state
    gap = max(0, int((now - when(left.last_at)).total_seconds()))
    here = current(plan, state, now)
    if here is None:
        return ()
    voided, reasons, effects = started_stages(plan, state, overnight=gap >= OVERNIGHT)
    crank = state.condition.crank
    advice = (*reasons, *sealant(plan, state, now))
    body = {
        "gap": gap,
        "before": left.last_at,
        "last_person": left.last_person,
        "stood": str(here.address),
        "crank": None if crank is None else str(crank),
        "voided": [str(address) for address in voided],
        "loose": list(loose(plan, state)),
        "advice": list(advice),
        "effects": [effect("crank", "", None)],
    }
    events = [Event("came-back", body)]
    if voided:
        addresses = [str(address) for address in voided]
        events.append(
            Event(
                "voided",
                {"addresses": addresses, "reason": "; ".join(reasons), "effects": list(effects)},
            )
        )
    return tuple(events)
