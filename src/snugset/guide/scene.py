"""What a kind sees: plan, state, the moment, and where in the plan it stands."""

from collections.abc import Iterable
from datetime import UTC, datetime

from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.state import PlannedPoint, Reading, State
from snugset.plan.places import Site
from snugset.plan.plan import Plan
from snugset.units import Quantity
from snugset.values import dataclass, replace

_SET_BY = 60
"""Seconds by which a clock may be set back without anybody having been away."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A place in the unfolding of the plan."""

    plan: Plan
    state: State
    now: datetime
    site: Site | None = None
    round: int = 0
    rounds: Step | None = None
    """The container of rounds that this stands in."""
    stages: Step | None = None
    """The container of stages that this stands in."""
    crank: Step | None = None
    point: PlannedPoint | None = None

    def at(self, **changes: object) -> "Scene":
        """Give this scene with some of it changed."""
        return replace(self, **changes)  # type: ignore[arg-type]

    def address(self, step: Step | str, place: str | None = None) -> Address:
        """Name an occurrence here."""
        key = (self.site.key if self.site else "") if place is None else place
        return Address(step if isinstance(step, str) else step.id, key, self.round)

    def closed(self, address: Address) -> bool:
        """Tell whether a leaf is done, read, judged or skipped."""
        return address in self.state.facts

    def length(self, name: str) -> Quantity | None:
        """Give a figure of the spec sheet where it is one quantity."""
        found = self.state.spec(name) if name else None
        return found if isinstance(found, Quantity) else None

    def readings(self, figure: str, round_: int | None = None) -> tuple[Reading, ...]:
        """Give the standing readings of one figure, of one round or of all."""
        return tuple(
            r
            for r in self.state.readings.values()
            if r.figure == figure and (round_ is None or r.address.round == round_)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Occurrence:
    """A leaf at one place, open or closed."""

    step: Step
    address: Address
    scene: Scene
    open: bool

    @property
    def place(self) -> str:
        """Where, in words."""
        return self.scene.site.words if self.scene.site else ""


def when(text: str) -> datetime:
    """Read a record's time."""
    return datetime.fromisoformat(text).astimezone(UTC)


def went_back(earlier: str, now: datetime) -> bool:
    """Tell whether the clock went back since a record, by more than clocks are set by."""
    return (when(earlier) - now).total_seconds() > _SET_BY


def age(state: State, at: str, now: datetime) -> float:
    """Give the seconds since a record's time, never below zero.

    Where the clock was seen to go back at a later break, only the time since that break is sure.
    """
    begun = when(at)
    for each in state.breaks:
        if when(each.at) < begun <= when(each.before):
            begun = when(each.at)
    return max(0.0, (now - begun).total_seconds())


def newest(readings: Iterable[Reading]) -> dict[str, Reading]:
    """Give the newest reading by place: later rounds count over earlier ones."""
    found: dict[str, Reading] = {}
    for reading in readings:
        have = found.get(reading.address.place)
        if have is None or reading.address.round >= have.address.round:
            found[reading.address.place] = reading
    return found
