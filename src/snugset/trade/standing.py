"""How a cylinder stands at a crank angle: its valves, its piston, and the words for both."""

import math
from collections.abc import Collection, Sequence
from decimal import Decimal

from snugset.trade.camshaft import Events, arcs, firing
from snugset.trade.circle import Arc, Number, degrees, from_zero, plain, wrap
from snugset.trade.throw import fallen
from snugset.typed import Literal
from snugset.values import dataclass

_FLANK = Decimal(15)
"""Degrees either side of an event within which a valve is just opening or just closing."""

_NUMBERS = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
    "twenty", "twenty-one", "twenty-two", "twenty-three", "twenty-four",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class ValveState:
    """One valve at a crank angle; open means not surely closed."""

    open: bool
    then: Literal["opens", "closes", "never changes"]
    """What it does next."""
    degrees: Decimal
    """Degrees of crank until then, in the running direction; 0 where nothing changes."""


def valves(
    firing_order: Sequence[int], intervals: Sequence[Number], events: Events, angle: Number
) -> dict[str, ValveState]:
    """Give the state of every valve, ``1I`` ``1E`` …, at an angle after number one's firing."""
    here = degrees(angle)
    closed = arcs(firing_order, intervals, events, bridged=False)
    return {place: _state(arc, here) for place, arc in closed.items()}


def _state(arc: Arc, here: Decimal) -> ValveState:
    if arc.full or arc.empty:
        return ValveState(open=arc.empty, then="never changes", degrees=Decimal(0))
    if arc.holds(here):
        return ValveState(open=False, then="opens", degrees=arc.length - wrap(here - arc.low))
    return ValveState(open=True, then="closes", degrees=wrap(arc.low - here))


@dataclass(frozen=True, slots=True, kw_only=True)
class PistonPlace:
    """Where a piston is."""

    own: Decimal
    """Degrees after the cylinder's own firing dead centre, 0 to 720."""
    centre: Literal["top", "bottom"]
    """The nearer dead centre."""
    past: Decimal
    """Degrees past that centre; negative before it."""
    stroke: Literal["power", "exhaust", "intake", "compression"]
    fallen: float
    """Share of its travel that the piston is below top, 0 to 1."""

    @property
    def words(self) -> str:
        """Say it: ``60° past bottom``, ``30° before top``, ``at top on compression``."""
        if self.past:
            side = "past" if self.past > 0 else "before"
            return f"{plain(abs(self.past))}° {side} {self.centre}"
        if self.centre == "bottom":
            return "at bottom"
        return "at top on overlap" if self.own else "at top on compression"


def piston(
    angle: Number,
    cylinder: int,
    firing_order: Sequence[int],
    intervals: Sequence[Number],
    *,
    ratio: float | None = None,
) -> PistonPlace:
    """Find a cylinder's piston at an angle after number one's firing dead centre.

    ``ratio`` is the connecting rod's length over the stroke; without one the connecting rod
    counts as endless. ValueError for a ratio that is not over a half, or no such cylinder.
    """
    own = _own(angle, cylinder, firing_order, intervals)
    folded = from_zero(own, Decimal(360))
    at_bottom = abs(folded) > 90  # half way round
    strokes: tuple[Literal["power", "exhaust", "intake", "compression"], ...]
    strokes = ("power", "exhaust", "intake", "compression")
    return PistonPlace(
        own=own,
        centre="bottom" if at_bottom else "top",
        past=from_zero(own - 180, Decimal(360)) if at_bottom else folded,
        stroke=strokes[int(own // 180)],
        fallen=fallen(math.radians(float(own)), ratio),
    )


def _own(
    angle: Number, cylinder: int, firing_order: Sequence[int], intervals: Sequence[Number]
) -> Decimal:
    tops = firing(firing_order, intervals)
    if cylinder not in tops:
        raise ValueError(f"no cylinder {cylinder}; this engine has 1 to {len(tops)}")
    return wrap(degrees(angle) - tops[cylinder])


def lowest_pistons(
    tops: Collection[Decimal],
    low: Decimal,
    high: Decimal,
    marked: Collection[Decimal] = (),
) -> Decimal:
    """Find the angle from low to high at which the highest of some pistons is lowest.

    Tops are the pistons' dead centres. Among equals a marked angle, then the one nearest the
    middle.
    """
    middle = (low + high) / 2
    # Depth is the distance from the nearest top: greatest half way between two, or at an end.
    turn = Decimal(360)
    crowns = sorted({wrap(top, turn) for top in tops})
    after = [*crowns[1:], crowns[0] + turn]
    level = {
        middle + from_zero((one + other) / 2 - middle, turn) + lap
        for one, other in zip(crowns, after, strict=True)
        for lap in (-turn, Decimal(0), turn)
    }
    tries = sorted({low, middle, high, *level, *marked})
    return max(
        (angle for angle in tries if low <= angle <= high),
        key=lambda angle: (
            min(abs(from_zero(angle - top, turn)) for top in crowns),
            angle in marked,
            -abs(angle - middle),
        ),
    )


def number_word(number: int) -> str:
    """Write a cylinder's number in words, ``five``; in digits past ``twenty-four``."""
    return _NUMBERS[number] if 1 <= number < len(_NUMBERS) else str(number)


def describe(
    angle: Number,
    cylinder: int,
    firing_order: Sequence[int],
    intervals: Sequence[Number],
    events: Events | None = None,
) -> str:
    """Say how a cylinder stands: ``number five: 60° past bottom, intake just closing``.

    Without a camshaft card only the piston is told.
    """
    place = piston(angle, cylinder, firing_order, intervals)
    told = [place.words]
    if events is not None:
        exhaust = _doing(place.own, events.exhaust, events.allowance)
        intake = _doing(place.own, events.intake, events.allowance)
        moving = [f"exhaust {exhaust}"] if exhaust else []
        moving += [f"intake {intake}"] if intake else []
        told += moving or ["both valves closed"]
    return f"number {number_word(cylinder)}: {', '.join(told)}"


def _doing(own: Decimal, arc: Arc, allowance: Decimal) -> str:
    """Say what a valve does; empty when it is closed and not near an event.

    The card's events lie outside the surely closed arc by the allowance.
    """
    if arc.full or arc.empty:
        return "" if arc.full else "open"
    seated = max(_FLANK - allowance, Decimal(0))
    if -allowance - _FLANK <= from_zero(own - arc.low) <= seated:
        return "just closing"
    if -seated <= from_zero(own - arc.high) <= allowance + _FLANK:
        return "just opening"
    return "" if arc.holds(own) else "open"
