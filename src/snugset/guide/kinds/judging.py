"""What a judge step looks at: its figures, the round's readings, and the order they call for."""

from collections.abc import Mapping
from typing import ClassVar

from snugset.files.shapes import Block, Field, Word
from snugset.files.steps import KindBlock
from snugset.guide.kinds.gap import fitted, window_of
from snugset.guide.kinds.order_words import catalogue_of
from snugset.guide.ruling import stop
from snugset.guide.scene import Occurrence, Scene
from snugset.guide.state import Reading
from snugset.plan.places import valves
from snugset.printable import counted
from snugset.trade.allowed import Catalogue
from snugset.trade.pushrods import Order, order
from snugset.trade.verdict import Verdict
from snugset.units import Quantity
from snugset.values import dataclass

MEASURED = ("in", "inside", "outside", "low", "high", "no-limit")


@dataclass(frozen=True, slots=True, kw_only=True)
class Judge:
    """The block of a judge step: the figures of the spec sheet that it decides by."""

    FIGURES: ClassVar[Mapping[str, str]] = {
        "pushrod": "length/one",
        "catalogue": "length/catalogue",
        "tolerance": "length/one",
        "window": "length/window",
        "target": "length/one",
        "travel": "length/one",
        "most": "number/one",
    }

    pushrod: str
    catalogue: str
    tolerance: str = ""
    window: str = ""
    target: str = ""
    travel: str = ""
    most: str = ""


BLOCK = KindBlock(
    name="judge",
    block=Block(
        Judge,
        {
            "pushrod": Field(Word(), needed=True, help="the length of the pushrods in hand"),
            "catalogue": Field(Word(), needed=True, help="the lengths that can be had"),
            "tolerance": Field(Word(), default="", help="the tolerance of new pushrods"),
            "window": Field(Word(), default="", help="the window they must bring every place into"),
            "target": Field(Word(), default="", help="the figure aimed for"),
            "travel": Field(Word(), default="", help="the lifter's whole travel"),
            "most": Field(Word(), default="", help="how many different lengths at the most"),
        },
    ),
)


def block_of(found: Occurrence) -> Judge:
    """Give the block of a judge step; TypeError of any other."""
    if not isinstance(found.step.block, Judge):
        raise TypeError(found.step.kind)
    return found.step.block


def readings_of(scene: Scene) -> Mapping[str, Reading]:
    """Give this round's readings by place, in firing order."""
    figure = getattr(scene.rounds.block, "figure", "") if scene.rounds else ""
    found = {r.address.place: r for r in scene.readings(figure, scene.round)}
    return {s.key: found[s.key] for s in valves(scene.plan.engine) if s.key in found}


def propose_for(scene: Scene, block: Judge, lengths: Catalogue | None = None) -> Order:
    """Work out what to order from this round's readings.

    FigureError, or Stop where a figure that it needs is not had.
    """
    measured = {
        p: r for p, r in readings_of(scene).items() if r.verdict in MEASURED and r.uncertainty
    }
    window = window_of(scene, block.window)
    catalogue = lengths or catalogue_of(scene.state.spec(block.catalogue))
    hand = {p: fitted(scene, p) for p in measured}
    if window is None or catalogue is None or any(h is None for h in hand.values()):
        stop(
            "no-figure",
            "Lengths cannot be worked out without the preload window, the pushrods' length and "
            "what lengths can be had; give them on the spec sheet, or accept with a reason.",
        )
    if not measured:
        stop("nothing-measured", "Nothing was measured in this round, so nothing can be ordered.")
    most = scene.length(block.most)
    return order(
        {p: r.value for p, r in measured.items()},
        window,
        uncertainty={p: r.uncertainty for p, r in measured.items() if r.uncertainty},
        fitted={p: h for p, h in hand.items() if h is not None},
        catalogue=catalogue,
        target=scene.length(block.target),
        tolerance=scene.length(block.tolerance) or Quantity(window[0].value * 0, window[0].unit),
        most=None if most is None else int(most.value),
        keep=True,
        travel=scene.length(block.travel),
    )


def missing_of(scene: Scene) -> list[str]:
    """Give the places not measured in this round, in firing order."""
    have = {p for p, r in readings_of(scene).items() if r.verdict in MEASURED}
    return [s.key for s in valves(scene.plan.engine) if s.key not in have]


def summary(scene: Scene) -> tuple[str, ...]:
    """Say how the round went: how many places, lowest, highest, and each verdict's places."""
    readings = readings_of(scene)
    if not readings:
        return ("No reading stands in this round.",)
    ranked = sorted(readings.values(), key=lambda r: r.value.in_("thou"))
    by_verdict: dict[str, list[str]] = {}
    for place, reading in readings.items():
        by_verdict.setdefault(reading.verdict, []).append(place)
    low, high = ranked[0], ranked[-1]
    span = (
        f"{counted(len(readings), 'place')}, lowest {low.address.place} {low.value}, "
        f"highest {high.address.place} {high.value}"
    )
    whole = len(readings)
    return (
        span,
        *(
            f"{Verdict(verdict).words}: {'all' if len(places) == whole else ', '.join(places)}"
            for verdict, places in by_verdict.items()
        ),
    )


def settled(scene: Scene) -> bool:
    """Tell whether every place was measured and lies inside its window."""
    readings = readings_of(scene)
    wanted = len(valves(scene.plan.engine))
    return len(readings) == wanted and all(
        r.verdict in ("in", "inside", "no-limit") and not r.provisional for r in readings.values()
    )
