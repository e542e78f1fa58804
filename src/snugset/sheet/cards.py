"""Bench cards: the procedure for the wall, with the figures of one build, as frozen values."""

import itertools
from collections.abc import Iterable, Iterator

from snugset.files.fasteners import Group, words
from snugset.files.naming import every_step
from snugset.files.steps import Step
from snugset.guide.conditions import absent
from snugset.guide.events import Record
from snugset.guide.kinds.crank import as_planned
from snugset.guide.kinds.setting import Crank, work_out
from snugset.guide.kinds.stage_blocks import Stages
from snugset.guide.kinds.staging import live
from snugset.guide.kinds.torque import Tighten
from snugset.guide.state import PlannedPoint
from snugset.guide.words import hole_words
from snugset.plan.places import fasteners
from snugset.plan.plan import Plan
from snugset.sheet.card_map import fastener_map
from snugset.sheet.card_steps import CardStep, card_steps, figures_for, taken
from snugset.sheet.entries import View, view_of
from snugset.sheet.points import PointRow, point_row
from snugset.sheet.specs import both
from snugset.trade.fault import FigureError
from snugset.units import echo
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PhaseCard:
    """One stretch of the work."""

    title: str
    steps: tuple[CardStep, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One fastener in the order of tightening."""

    number: int
    key: str
    where: str
    length: str
    hole: str
    """As it was probed, else as on the map; empty where neither says."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FastenerCard:
    """How one group is tightened."""

    step: str
    title: str
    """When it is done: the stretch of the work, and under which answer where that is open."""
    group: str
    kind: str
    stages: tuple[str, ...]
    """Each with its figure, in order, and its own order where it goes another way."""
    map: tuple[str, ...]
    """Drawn from above, the front at the left; after each key its number in the order."""
    order: tuple[Turn, ...]
    generated: bool
    """Whether the order was made from the map, for want of the maker's."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PointsCard:
    """The setting points of one crank container."""

    step: str
    title: str
    why: str
    running: str
    damper: str
    """The rim's diameter, in both systems; empty where the engine's file has none."""
    points: tuple[PointRow, ...]
    planned: bool
    """Whether the build has settled on them; otherwise they are worked out from its figures now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cards:
    """All cards of a build. All times are RFC 3339 in UTC."""

    build: str
    engine: str
    procedure: str
    as_of: str
    phases: tuple[PhaseCard, ...]
    fasteners: tuple[FastenerCard, ...]
    points: tuple[PointsCard, ...]


def cards_of(plan: Plan, records: Iterable[Record]) -> Cards:
    """Make the bench cards of a build; ValueError unless the records begin with its first."""
    view = view_of(plan, tuple(records))
    return Cards(
        build=view.state.name,
        engine=plan.engine.name,
        procedure=plan.procedure.name,
        as_of=view.state.last_at,
        phases=tuple(
            PhaseCard(title=phase.title, steps=tuple(card_steps(view, phase.steps, 0)))
            for phase in plan.phases
        ),
        fasteners=tuple(_fasteners(view)),
        points=tuple(_points(view)),
    )


def _when(view: View, step: Step) -> str | None:
    """Say when a step is done; None where this build has answered that it is not."""
    words = [view.plan.phase(step.id)]
    path = (*view.plan.above.get(step.id, ()), step)
    for outer, inner in itertools.pairwise(path):
        if outer.kind == "choose":
            name = next(name for name, steps in outer.children.items() if inner in steps)
            if taken(view, outer) not in ("", name):
                return None
            words.append(f"if “{name}”")
    return ", ".join([*words, step.id])


def _fasteners(view: View) -> Iterator[FastenerCard]:
    for step in view.plan.steps.values():
        title = _when(view, step)
        if title is None or absent(step, view.plan, view.state):
            continue
        if isinstance(step.block, Tighten):
            group = view.plan.engine.fasteners[step.block.group]
            yield _fastener_card(view, step.id, title, group, tuple(_tighten(view, step.block)))
        elif isinstance(step.block, Stages):
            group = view.plan.engine.fasteners[step.block.group]
            yield _fastener_card(view, step.id, title, group, tuple(_stages(view, step)))


def _tighten(view: View, block: Tighten) -> Iterator[str]:
    value = view.state.spec(block.stages)
    every = value if isinstance(value, tuple) else (value,)
    for number, setting in enumerate(every, 1):
        yield f"Stage {number} of {len(every)}: {'not given' if setting is None else both(setting)}"


def _stages(view: View, container: Step) -> Iterator[str]:
    own = view.plan.engine.fasteners[getattr(container.block, "group", "")].order
    for place in live(view.plan, view.state, container):
        shown = "; ".join(f"{field} {value}" for field, value in figures_for(view, place.step))
        order = "" if place.keys == own else f". In this order: {', '.join(place.keys)}"
        yield f"Stage {place.number} of {place.of}, {place.step.kind}: {shown}{order}"


def _fastener_card(
    view: View, step: str, title: str, group: Group, stages: tuple[str, ...]
) -> FastenerCard:
    sites = {site.on_map: site for site in fasteners(view.plan.engine, group.name)}
    return FastenerCard(
        step=step,
        title=title,
        group=group.name,
        kind=group.kind,
        stages=stages,
        map=fastener_map(group),
        order=tuple(
            Turn(
                number=number,
                key=key,
                where=words(group, key),
                length="" if (long := group.places[key].length) is None else echo(long),
                hole=hole_words(view.scene.at(site=sites[key])),
            )
            for number, key in enumerate(group.order, 1)
        ),
        generated=group.generated,
    )


def _points(view: View) -> Iterator[PointsCard]:
    engine = view.plan.engine
    inside = {s.id: s for phase in view.plan.phases for s in every_step(phase.steps)}
    for step in inside.values():
        title = _when(view, step)
        if not isinstance(step.block, Crank) or title is None:
            continue
        if absent(step, view.plan, view.state):
            continue
        planned = view.state.planned.get(step.id)
        points: tuple[PlannedPoint, ...]
        if planned is None:
            try:
                found, _, why = work_out(view.scene, step.block)
            except FigureError as error:
                yield _no_points(view, step, title, f"They cannot be worked out yet: {error}.")
                continue
            points = tuple(as_planned(point) for point in found)
        else:
            points, why = planned.points, planned.why
        yield PointsCard(
            step=step.id,
            title=title,
            why=why,
            running=engine.running,
            damper="" if engine.damper is None else echo(engine.damper),
            points=tuple(point_row(view, step.id, point) for point in points),
            planned=planned is not None,
        )


def _no_points(view: View, step: Step, title: str, why: str) -> PointsCard:
    return PointsCard(
        step=step.id,
        title=title,
        why=why,
        running=view.plan.engine.running,
        damper="",
        points=(),
        planned=False,
    )
