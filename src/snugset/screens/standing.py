"""Where a build stands, counted once: in the step, the stage, the phase and the build."""

from collections.abc import Iterable, Sequence

from snugset.guide.address import Address
from snugset.guide.scene import Occurrence
from snugset.plan.plan import Plan
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """How many places are closed of those that are known."""

    title: str
    done: int
    known: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """How far a build has come, as far as its places are known now."""

    steps: tuple[tuple[str, Count], ...]
    """Each step with the phase it stands in, in the order of work."""
    step: Count | None
    """The step asked now, in this round of it."""
    stage: Count | None
    """Its torque stage, where it has stages."""
    phase: Count | None
    build: Count


def standing(plan: Plan, every: Iterable[Occurrence], here: Address | None) -> Standing:
    """Count the places of a build; `here` is the one asked now."""
    known = {found.address: found for found in every}
    leaves = list(known.values())
    step = stage = phase = None
    if here is not None:
        now = known.get(here)
        id_ = now.step.id if now else here.step
        mine = [f for f in leaves if f.step.id == id_ and f.address.round == here.round]
        step = _count(id_, mine)
        stage = _stage(here, mine)
        title = plan.phase(id_) or "Coming back"
        phase = _count(title, [f for f in leaves if plan.phase(f.step.id) == plan.phase(id_)])
    return Standing(
        steps=tuple(_by_step(plan, leaves)),
        step=step,
        stage=stage,
        phase=phase,
        build=_count("build", leaves),
    )


def _count(title: str, leaves: Sequence[Occurrence]) -> Count:
    return Count(title=title, done=sum(not f.open for f in leaves), known=len(leaves))


def _stage(here: Address, mine: Sequence[Occurrence]) -> Count | None:
    """Count the stage of a place such as ``2.7``: stage 2, fastener 7."""
    number, dot, _ = here.place.partition(".")
    if not dot:
        return None
    stages = {f.address.place.partition(".")[0] for f in mine}
    return _count(
        f"stage {number} of {len(stages)}",
        [f for f in mine if f.address.place.partition(".")[0] == number],
    )


def _by_step(plan: Plan, leaves: Sequence[Occurrence]) -> list[tuple[str, Count]]:
    grouped: dict[str, list[Occurrence]] = {}
    for found in leaves:
        grouped.setdefault(found.step.id, []).append(found)
    return [(plan.phase(step), _count(step, of)) for step, of in grouped.items()]
