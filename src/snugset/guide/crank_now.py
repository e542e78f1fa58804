"""Where the crank stands, what may be set there and what comes next; for every front end."""

from collections.abc import Mapping
from datetime import UTC, datetime
from decimal import Decimal

from snugset.files.figures import Camshaft
from snugset.files.steps import Step
from snugset.guide.kinds.crank import rim
from snugset.guide.kinds.setting import Crank
from snugset.guide.kinds.turn import TURN, Turn, in_window
from snugset.guide.scene import Scene
from snugset.guide.state import PlannedPoint, State
from snugset.guide.words import fill
from snugset.plan.plan import Plan
from snugset.trade.ahead import Change, next_change
from snugset.trade.camshaft import THIN, Events, arcs, closed_at
from snugset.trade.circle import Arc, plain, wrap
from snugset.units import Quantity
from snugset.values import dataclass

_NEVER = datetime.min.replace(tzinfo=UTC)
"""The words of a step know no time."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CrankNow:
    """The crank as it stands in a build."""

    crank: Decimal | None
    """Degrees past number one's firing dead centre, 0 to 720; None is unknown."""
    over: str
    """What is set: bridges, cylinders or valves."""
    closed: Mapping[str, Arc]
    """Where each valve is surely closed, in firing order; empty without a camshaft card."""
    point: PlannedPoint | None
    """The setting point that is asked or stood at."""
    free: tuple[str, ...]
    """What may be set where the crank stands, with the margin that was asked."""
    change: Change | None
    """The valve that opens or closes next."""
    proof: str
    """How number one is proven, where the crank is unknown; empty if no step does."""
    rim: str
    """The aim on the damper's rim; empty without a damper or a setting point."""

    @property
    def words(self) -> tuple[str, ...]:
        """Say it, a line each."""
        if self.crank is None:
            how = self.proof or "turn until number one is at its compression dead centre"
            return ("Crank: not known.", f"To prove number one: {how}")
        said = [f"Crank: {_past(self.crank)}."]
        if self.free or self.closed:
            said.append(f"May be set now: {', '.join(self.free) or 'none'}.")
        if self.point is not None:
            said += self._to_point(self.crank, self.point)
        if self.change is not None:
            name = "intake" if self.change.place.endswith("I") else "exhaust"
            does = "may open" if self.change.opens else "will be closed"
            cylinder = self.change.place.rstrip("IE")
            said.append(f"{self.change.ahead:.0f}° on: the {name} of {cylinder} {does}.")
        return tuple(said)

    def _to_point(self, crank: Decimal, point: PlannedPoint) -> list[str]:
        if in_window(crank, point):
            left = point.high - point.low - wrap(crank - point.low)
            return [f"{point.key}: in its window, {left:.0f}° left."]
        on = f"{point.key}: {plain(wrap(point.aim - crank))}° on, {_past(point.aim)}."
        return [on, *([f"Rim: {self.rim}."] if self.rim else [])]


def _past(angle: Decimal) -> str:
    """Say where the crank stands or will: past number one's mark, in which of the two turns."""
    turn = ", second turn" if wrap(angle) >= TURN else ""
    return f"{plain(wrap(angle, TURN))}° past the mark{turn}"


def crank_now(plan: Plan, state: State, step: str = "", place: str = "") -> CrankNow:
    """Give the crank as it stands; `step` and `place` are what is asked."""
    container = _container(plan, step)
    block = container.block if container else None
    over = block.over if isinstance(block, Crank) else "cylinders"
    engine, crank = plan.engine, state.condition.crank
    events = _card(plan, state)
    closed: Mapping[str, Arc] = {}
    free: tuple[str, ...] = ()
    point = point_at(state, place)
    if events is not None:
        closed = arcs(engine.firing_order, engine.intervals, events, bridged=False)
        if crank is not None:
            name = block.margin if isinstance(block, Crank) else ""
            margin = state.spec(name) if name else None
            least = margin.in_("deg") if isinstance(margin, Quantity) else THIN
            each = arcs(engine.firing_order, engine.intervals, events, bridged=over != "valves")
            free = closed_at(each, crank, least)
    elif crank is not None and point is not None and in_window(crank, point):
        free = point.places
    return CrankNow(
        crank=crank,
        over=over,
        closed=closed,
        point=point,
        free=free,
        change=next_change(closed, crank) if crank is not None else None,
        proof="" if crank is not None else _proof(plan, state),
        rim="" if point is None else rim(engine.damper, point.aim, engine.marks),
    )


def point_at(state: State, place: str) -> PlannedPoint | None:
    """Find a setting point by its key, or by what is set there."""
    return next(
        (
            point
            for planned in state.planned.values()
            for point in planned.points
            if place == point.key or {place, place.rstrip("IE")} & set(point.places)
        ),
        None,
    )


def _container(plan: Plan, step: str) -> Step | None:
    """Find the container that a step stands in, else the first there is."""
    own = [s for s in plan.steps.values() if isinstance(s.block, Crank)]
    asked = {step, step.rpartition(".")[0], *(above.id for above in plan.above.get(step, ()))}
    return next((s for s in own if s.id in asked), own[0] if own else None)


def _card(plan: Plan, state: State) -> Events | None:
    for step in plan.steps.values():
        if isinstance(step.block, Crank) and step.block.events:
            found = state.spec(step.block.events)
            if isinstance(found, Camshaft):
                return Events(
                    ivo=found.ivo, ivc=found.ivc, evo=found.evo, evc=found.evc, lift=found.lift
                )
    return None


def _proof(plan: Plan, state: State) -> str:
    """Give the words of the step that proves number one."""
    scene = Scene(plan=plan, state=state, now=_NEVER)
    return next(
        (
            fill(step.say, scene)
            for step in plan.steps.values()
            if isinstance(step.block, Turn) and step.block.prove
        ),
        "",
    )
