"""The setting points that were used, and where the crank was brought to."""

from decimal import Decimal

from snugset.files.figures import Camshaft
from snugset.guide.kinds.crank import Crank, rim_words
from snugset.guide.kinds.turn import window_words
from snugset.guide.state import PlannedPoint
from snugset.sheet.entries import Entry, View
from snugset.trade.camshaft import Events, arcs, firing
from snugset.units import Quantity
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PointRow:
    """One setting point; angles on the 720° circle from number one's firing dead centre."""

    key: str
    over: str
    """bridges, cylinders or valves."""
    places: tuple[str, ...]
    window: str
    """Window and aim in words, from number one's mark."""
    low: Quantity
    """May be under 0, where the window holds the firing dead centre itself."""
    high: Quantity
    aim: Quantity
    margin: Quantity | None
    """Least degrees from the aim to a valve's opening or closing; None without a camshaft card."""
    marked: bool
    """Whether the aim is a mark on the damper's rim."""
    rim: str
    """The aim as a distance round the damper's rim; empty without a damper on the engine's file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """Where the valves of one place are surely closed, by the camshaft card as it stands now."""

    place: str
    low: Quantity
    """Degrees of the circle of 720; may be under 0."""
    high: Quantity
    """May be over 720."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Top:
    """Where one cylinder fires."""

    cylinder: int
    angle: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Points:
    """The setting points of one crank container."""

    step: str
    method: str
    """One of the crank's methods."""
    why: str
    over: str
    """What its places are: bridges, cylinders or valves."""
    points: tuple[PointRow, ...]
    tops: tuple[Top, ...]
    """Where each cylinder fires, in firing order."""
    closed: tuple[Span, ...]
    """In firing order; empty without a camshaft card."""
    turns: tuple[Entry, ...]
    """Each turn to a point: the value is where the crank stood, in degrees of that circle."""


def points(view: View) -> tuple[Points, ...]:
    """Give the setting points of every crank container that was planned."""
    return tuple(
        Points(
            step=step,
            method=planned.method,
            why=planned.why,
            over=_over(view, step),
            points=tuple(point_row(view, step, point) for point in planned.points),
            tops=_tops(view),
            closed=_closed(view, step),
            turns=tuple(entry for entry in view.entries if entry.step == f"{step}.turn"),
        )
        for step, planned in view.state.planned.items()
    )


def point_row(view: View, step: str, point: PlannedPoint) -> PointRow:
    """Give one setting point with its words and its distance round the rim."""
    engine = view.plan.engine
    return PointRow(
        key=point.key,
        over=_over(view, step),
        places=point.places,
        window=window_words(point),
        low=_degrees(point.low),
        high=_degrees(point.high),
        aim=_degrees(point.aim),
        margin=None if point.margin is None else _degrees(point.margin),
        marked=point.marked,
        rim="" if engine.damper is None else rim_words(engine.damper, point.aim, engine.marks),
    )


def _over(view: View, step: str) -> str:
    return str(getattr(view.block(step), "over", "bridges"))


def _tops(view: View) -> tuple[Top, ...]:
    found = firing(view.plan.engine.firing_order, view.plan.engine.intervals)
    return tuple(Top(cylinder=each, angle=_degrees(angle)) for each, angle in found.items())


def _closed(view: View, step: str) -> tuple[Span, ...]:
    block = view.block(step)
    card = view.state.spec(block.events) if isinstance(block, Crank) and block.events else None
    if not isinstance(block, Crank) or not isinstance(card, Camshaft):
        return ()
    events = Events(ivo=card.ivo, ivc=card.ivc, evo=card.evo, evc=card.evc, lift=card.lift)
    engine = view.plan.engine
    bridged = block.over != "valves"
    found = arcs(engine.firing_order, engine.intervals, events, bridged=bridged)
    return tuple(
        Span(place=place, low=_degrees(arc.low), high=_degrees(arc.high))
        for place, arc in found.items()
        if not arc.empty
    )


def _degrees(value: Decimal) -> Quantity:
    return Quantity(value, "deg")
