"""What is loose and what is in doubt on the engine, read from its condition alone."""

from collections.abc import Iterator

from snugset.guide.address import Address
from snugset.guide.begun import unset_places
from snugset.guide.events import Body
from snugset.guide.kinds.staging import block_of
from snugset.guide.kinds.torque import Tighten
from snugset.guide.ruling import effect
from snugset.guide.sealant import final
from snugset.guide.stages_now import broken_stages, containers
from snugset.guide.state import State
from snugset.plan.places import bridges, fasteners
from snugset.plan.plan import Plan


def _tightened(plan: Plan) -> Iterator[tuple[str, Tighten]]:
    for step in plan.steps.values():
        if isinstance(step.block, Tighten):
            yield step.id, step.block


def loose(plan: Plan, state: State) -> tuple[str, ...]:
    """Give what is not at its final torque, in words."""
    condition = state.condition
    found = []
    groups = [block.group for _, block in _tightened(plan)]
    groups += [block_of(container).group for container in containers(plan, state)]
    for group in dict.fromkeys(groups):
        reached = condition.mark("stage", group)
        on = condition.mark(f"{group}-on") is not None
        if reached and not final(state, group):
            found.append(f"the {group} is tightened to stage {reached} only")
        elif on and not reached:
            found.append(f"the {group} is on, and no stage of its tightening is finished")
    found += [
        f"{where.replace(':', ' ', 1)} is new, and is tightened to stage {mark.value} only"
        for (what, where), mark in condition.marks.items()
        if what == "new"
    ]
    bridged = plan.engine.rockers == "bridged"
    unset = () if bridged else unset_places(plan, state)
    if unset:
        found.append(f"rockers not set yet: {', '.join(unset)}")
    places = [site.key for site in bridges(plan.engine)] if bridged else []
    torqued = {key for key in places if condition.mark("torqued", key) is not None}
    drawn = [k for k in places if condition.mark("drawn", k) is not None and k not in torqued]
    if drawn:
        found.append(f"rocker bridges drawn down, not at final torque: {', '.join(drawn)}")
    off = [key for key in places if key not in torqued and key not in drawn]
    if off and state.planned:
        found.append(f"rocker bridges off: {', '.join(off)}")
    return tuple(found)


def started_stages(
    plan: Plan, state: State, *, overnight: bool
) -> tuple[tuple[Address, ...], tuple[str, ...], tuple[Body, ...]]:
    """Give the fasteners to be done again after a break, why, and the effect on the condition.

    A stage broken off in the middle starts again at its first fastener; left overnight below the
    final torque, the last finished stage is done again (both common practice).
    """
    voided: list[Address] = []
    reasons: list[str] = []
    effects: list[Body] = []
    for step, block in _tightened(plan):
        keys = [site.key for site in fasteners(plan.engine, block.group)]
        done: dict[int, list[Address]] = {}
        for address, fact in state.facts.items():
            if address.step == step and fact.kind in ("done", "skipped"):
                done.setdefault(int(address.place.partition(".")[0]), []).append(address)
        if not done:
            continue
        first = last = max(done)
        total, whole = _count(state, block.stages), len(done[last]) == len(keys)
        if not whole:
            reasons.append(f"{block.group}: stage {last} was broken off; it starts again")
        if overnight and not (whole and last >= total):
            first = last if whole else max(last - 1, 1)
            if whole or first < last:
                reasons.append(
                    f"{block.group}: left overnight below the final torque; stage {first} again"
                )
        elif whole:
            continue
        voided += [address for number in range(first, last + 1) for address in done.get(number, ())]
        before = f"{first - 1} of {total}" if first > 1 else None
        effects.append(effect("stage", block.group, before))
    more = broken_stages(plan, state, overnight=overnight)
    return (
        (*voided, *more.voided),
        (*reasons, *more.reasons),
        (*effects, *more.effects),
    )


def _count(state: State, name: str) -> int:
    found = state.spec(name)
    return len(found) if isinstance(found, tuple) else 1
