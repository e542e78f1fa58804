"""The block of a preload reading, and what it finds in the state of the build."""

from collections.abc import Mapping
from decimal import Decimal
from typing import ClassVar

from snugset.files.figures import Window
from snugset.files.problems import Mark, Problems
from snugset.files.shapes import AmountWindow, Block, Choice, Field, Whole, Word
from snugset.files.steps import KindBlock
from snugset.guide.address import Address
from snugset.guide.lifters import BLEED
from snugset.guide.scene import Occurrence, Scene, age, when
from snugset.guide.state import Judged, Reading
from snugset.trade.preload import Lifter
from snugset.units import Quantity
from snugset.values import dataclass

LENGTHS = ("in", "thou", "mm")
"""What leaves are marked in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """The block of a preload reading: the figures of the spec sheet that it is judged by."""

    FIGURES: ClassVar[Mapping[str, str]] = {
        "window": "length/window",
        "target": "length/one",
        "travel": "length/one",
        "repeatability": "length/one",
        "leaf": "length/one",
        "leaves": "length/catalogue",
        "lifter": "choice",
        "bleed": "time/one",
    }
    CHOICES: ClassVar[Mapping[str, tuple[str, ...]]] = {"lifter": ("dry", "filled")}
    STEPS: ClassVar[tuple[str, ...]] = ("since", "line")

    UNITS: ClassVar[tuple[str, ...]] = LENGTHS

    figure: str
    unit: str
    plausible: tuple[Quantity, Quantity] | None = None
    takes: int = 2
    window: str = ""
    target: str = ""
    travel: str = ""
    repeatability: str = ""
    leaf: str = ""
    leaves: str = ""
    lifter: str = ""
    bleed: str = ""
    since: str = ""
    line: str = ""


class _AnyUnit(Choice):
    """One of some units; another word is the checker's to tell, for builds were begun with such."""

    def read_text(self, text: str, mark: Mark, into: Problems) -> str | None:
        """Return the word as it stands."""
        return Word().read_text(text, mark, into)


BLOCK = KindBlock(
    name="preload",
    block=Block(
        Gap,
        {
            "figure": Field(Word(), needed=True, help="the ledger it is written in"),
            "unit": Field(_AnyUnit(*LENGTHS), needed=True, help="what a bare figure is taken in"),
            "plausible": Field(AmountWindow("thou"), default=None, help="for the unit guard only"),
            "takes": Field(Whole(1, 3), default=2, help="how often it is measured"),
            "window": Field(Word(), default="", help="the figure that limits it"),
            "target": Field(Word(), default="", help="the figure aimed for"),
            "travel": Field(Word(), default="", help="the lifter's whole travel"),
            "repeatability": Field(
                Word(), default="", help="the doubt of scratch and straightedge"
            ),
            "leaf": Field(Word(), default="", help="the doubt of one feeler leaf"),
            "leaves": Field(Word(), default="", help="the leaves of the builder's feeler set"),
            "lifter": Field(Word(), default="", help="dry or filled"),
            "bleed": Field(Word(), default="", help="how long filled lifters take to bleed down"),
            "line": Field(Word(), default="", help="the step that scratched the line"),
            "since": Field(Word(), default="", help="the step from which the bleed-down counts"),
        },
    ),
)


def block_of(found: Occurrence) -> Gap:
    """Give the block of a preload step."""
    if not isinstance(found.step.block, Gap):
        raise TypeError(found.step.kind)
    return found.step.block


def window_of(scene: Scene, name: str) -> tuple[Quantity, Quantity] | None:
    """Give a window figure as a pair; None where it is not had."""
    found = scene.state.spec(name) if name else None
    return (found.low, found.high) if isinstance(found, Window) else None


def ordered(scene: Scene) -> Judged | None:
    """Give what was ordered at the end of the round before this one."""
    for judged in scene.state.judged.values():
        if judged.outcome == "order" and judged.address.round == scene.round - 1:
            return judged
    return None


def before(found: Occurrence) -> Reading | None:
    """Give the reading here in the round before."""
    address = Address(found.address.step, found.address.place, found.address.round - 1)
    return found.scene.state.readings.get(address)


def fitted(scene: Scene, place: str, figure: str = "") -> Quantity | None:
    """Give the pushrod that is in at a place: the one fitted last, else the set's length.

    `figure` is the set's length on the spec sheet; without it, the one that the rounds here name.
    """
    mark = scene.state.condition.mark("pushrod", place)
    if mark is None:
        judge = scene.rounds.children["judge"][0].block if scene.rounds else None
        return scene.length(figure or getattr(judge, "pushrod", ""))
    value, _, unit = mark.partition(" ")
    return Quantity(Decimal(value), unit)


def lifter_now(found: Occurrence) -> Lifter:
    """Tell whether the lifter here is dry, still filled, or had bled down when it was marked.

    What counts is the time from drawing the bridge down to scratching the line; where no step
    scratches, until now.
    """
    block, scene = block_of(found), found.scene
    if not block.lifter or scene.state.spec(block.lifter) != "filled":
        return "dry"
    bridge = str(scene.site.cylinder) if scene.site else ""
    begun = (
        scene.state.facts.get(Address(block.since, bridge, scene.round)) if block.since else None
    )
    marked = scene.state.facts.get(Address(block.line, bridge, scene.round)) if block.line else None
    if begun is None:
        return "filled"
    until = scene.now if marked is None else when(marked.at)
    needed = (scene.length(block.bleed) or BLEED).number("s")
    return "bled" if age(scene.state, begun.at, until) >= needed else "filled"
