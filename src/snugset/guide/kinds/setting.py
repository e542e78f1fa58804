"""The setting points of a crank container: by which method, and what follows from it."""

from collections.abc import Mapping
from decimal import Decimal
from typing import ClassVar

from snugset.files.figures import Camshaft
from snugset.guide.scene import Scene
from snugset.trade.camshaft import THIN, Events, arcs
from snugset.trade.points import MarginError, Point, setting_points
from snugset.trade.positions import two_positions
from snugset.values import dataclass

METHODS = ("camshaft", "firing-order", "valve-by-valve", "two-positions")


@dataclass(frozen=True, slots=True, kw_only=True)
class Crank:
    """The block of a crank container."""

    FIGURES: ClassVar[Mapping[str, str]] = {
        "events": "camshaft",
        "margin": "angle/one",
        "lifter": "choice",
        "bleed": "time/one",
    }
    CHOICES: ClassVar[Mapping[str, tuple[str, ...]]] = {"lifter": ("dry", "filled")}

    over: str
    method: str = "camshaft"
    events: str = ""
    margin: str = ""
    lifter: str = ""
    bleed: str = ""


Found = tuple[tuple[Point, ...], str, str]
"""The points, the method that gave them, and what follows from it in words."""
_ALONE = "each cylinder at its own compression dead centre."


def events_of(scene: Scene, block: Crank) -> Events | None:
    """Give the camshaft card's events; None where it is not had."""
    card = scene.state.spec(block.events) if block.events else None
    if not isinstance(card, Camshaft):
        return None
    return Events(ivo=card.ivo, ivc=card.ivc, evo=card.evo, evc=card.evc, lift=card.lift)


def work_out(scene: Scene, block: Crank) -> Found:
    """Give the setting points, the method, and what follows from it, for this engine and card."""
    events = events_of(scene, block)
    match block.method:
        case "firing-order":
            return _in_firing_order(scene, block, events, f"In firing order: {_ALONE}")
        case "valve-by-valve":
            return _valve_by_valve(scene, events)
        case "two-positions":
            return _two_positions(scene, block, events)
    return _by_card(scene, block, events)


def margin_of(scene: Scene, block: Crank) -> Decimal:
    """Give the least margin in degrees: the builder's, else the one under which a list is thin."""
    margin = scene.length(block.margin)
    return margin.in_("deg") if margin else THIN


def _bridged(block: Crank) -> bool:
    """Tell whether both valves of a cylinder must be closed at once."""
    return block.over != "valves"


def _by_card(scene: Scene, block: Crank, events: Events | None, before: str = "") -> Found:
    if events is None:
        return _in_firing_order(scene, block, events, f"No camshaft card: {_ALONE}")
    engine = scene.plan.engine
    try:
        points = setting_points(
            "camshaft",
            engine.firing_order,
            engine.intervals,
            bridged=_bridged(block),
            events=events,
            marks=engine.marks,
            margin=margin_of(scene, block),
            prefer_down=_filled(scene, block),
        )
    except MarginError as error:
        return _in_firing_order(scene, block, events, f"{before}{error}. So {_ALONE}")
    one = block.over.removesuffix("s")
    why = f"{before}From the camshaft card: the fewest points that reach every {one}."
    return points, "camshaft", why


def _filled(scene: Scene, block: Crank) -> bool:
    return bool(block.lifter) and scene.state.spec(block.lifter) == "filled"


def _in_firing_order(scene: Scene, block: Crank, events: Events | None, why: str) -> Found:
    engine = scene.plan.engine
    if _filled(scene, block):
        why += (
            " Filled lifters: at dead centre a valve drawn down hard can meet its piston; a "
            f"quarter turn of the {'screws' if block.over == 'bridges' else 'nut'} at a time, and "
            "wait."
        )
    points = setting_points(
        "firing-order",
        engine.firing_order,
        engine.intervals,
        bridged=_bridged(block),
        events=events,
        marks=engine.marks,
    )
    return points, "firing-order", why


def _valve_by_valve(scene: Scene, events: Events | None) -> Found:
    engine = scene.plan.engine
    points = setting_points(
        "valve-by-valve",
        engine.firing_order,
        engine.intervals,
        bridged=False,
        events=events,
        marks=engine.marks,
    )
    why = (
        "Valve by valve: as an exhaust starts to open, that cylinder's intake; as an intake has "
        "nearly closed, its exhaust."
    )
    return points, "valve-by-valve", why


_UNJUDGED = "Two positions cannot be judged without a camshaft card"


def _listed(scene: Scene, block: Crank, events: Events) -> tuple[Point, ...]:
    """Give the two positions; MarginError where one of them leaves too little."""
    engine = scene.plan.engine
    closed = arcs(engine.firing_order, engine.intervals, events, bridged=_bridged(block))
    return two_positions(closed, margin=margin_of(scene, block), marks=engine.marks)


def too_thin(scene: Scene, block: Crank) -> str:
    """Say why the two-position list cannot be offered here; empty where it can, or is not asked."""
    if block.method != "two-positions":
        return ""
    events = events_of(scene, block)
    if events is None:
        return _UNJUDGED
    try:
        _listed(scene, block, events)
    except MarginError as error:
        return str(error)
    return ""


def _two_positions(scene: Scene, block: Crank, events: Events | None) -> Found:
    if events is None:
        return _in_firing_order(scene, block, events, f"{_UNJUDGED}: {_ALONE}")
    try:
        points = _listed(scene, block, events)
    except MarginError as error:
        return _by_card(scene, block, events, f"{error}: the two-position list is not offered. ")
    least = min(point.margin for point in points if point.margin is not None)
    why = f"Number one's firing dead centre and one turn on; the least margin is {least:.0f}°."
    return points, "two-positions", why
