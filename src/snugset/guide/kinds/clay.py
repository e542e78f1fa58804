"""clay: room that clay was pressed to, under the valve cover or over a piston, and the gasket."""

from collections.abc import Mapping
from decimal import Decimal
from typing import ClassVar, cast

from snugset.files.shapes import Amount, AmountWindow, Block, Choice, Field, Word
from snugset.files.steps import KindBlock
from snugset.guide.answer import Answer
from snugset.guide.kinds.clamp import share
from snugset.guide.kinds.kind import Kind
from snugset.guide.kinds.read import Measure, ask, doubt_of, limits, settle, taken
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.trade.cover import WANT, Under, cover
from snugset.trade.fault import FigureError
from snugset.units import Quantity, rounded
from snugset.values import dataclass, replace

STOOD: Mapping[str, str] = {
    "bare": "Pressed bare",
    "laid": "Laid on",
    "drawn": "Drawn down",
}
"""How the cover was put on over the clay."""
ALONE: Mapping[str, str] = {
    "bare": "a gasket only adds to it.",
    "laid": "a gasket drawn down leaves less!",
    "drawn": "good for a gasket like the old one.",
}
"""What the clay says where nothing is known of the gasket."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clay(Measure):
    """The block of a clay step: a reading, and the figures of the gaskets."""

    FIGURES: ClassVar[Mapping[str, str]] = {
        "at_least": "length/one",
        "doubt_figure": "length/one",
        "under": "choice",
        "gasket_old": "length/one",
        "gasket_new": "length/one",
        "crush": "number/one",
    }
    CHOICES: ClassVar[Mapping[str, tuple[str, ...]]] = {"under": ("bare", "laid", "drawn")}

    gasket_new: str
    under: str = ""
    """The figure that says how the cover stood; without one, the part lay on the old gasket."""
    crush: str = ""
    """The figure of the part that is lost; without one, the gaskets are measured compressed."""
    gasket_old: str = ""

    @property
    def gaskets(self) -> tuple[str, ...]:
        """The figures that the clearance is worked out from."""
        return self.under, self.gasket_old, self.gasket_new, self.crush


BLOCK = KindBlock(
    name="clay",
    block=Block(
        Clay,
        {
            "figure": Field(Word(), needed=True, help="the ledger it is written in"),
            "unit": Field(
                Choice("in", "thou", "mm"), needed=True, help="what a bare figure is taken in"
            ),
            "plausible": Field(AmountWindow("in"), default=None, help="for the unit guard only"),
            "at-least": Field(Word(), default="", help="the figure the clearance must reach"),
            "doubt": Field(Amount("in"), default=None, help="U of the clay"),
            "doubt-figure": Field(Word(), default="", help="U of the builder's own instrument"),
            "under": Field(Word(), default="", help="the figure: bare, laid or drawn"),
            "gasket-old": Field(Word(), default="", help="the old gasket, uncrushed"),
            "gasket-new": Field(Word(), needed=True, help="the new gasket, uncrushed"),
            "crush": Field(Word(), default="", help="the part of it that is lost drawn down"),
        },
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Gasket:
    """What is known of the gasket."""

    under: Under
    old: Quantity | None
    new: Quantity
    crush: Decimal

    @property
    def stood(self) -> str:
        """What the cover stood on, as it stands in the formula."""
        drawn = f"{self.old} × (1 − {self.crush})"
        return {"bare": "0", "laid": f"{self.old}", "drawn": drawn}[self.under]


def _block(found: Occurrence) -> Clay:
    if not isinstance(found.step.block, Clay):
        raise TypeError(found.step.kind)
    return found.step.block


def _under(scene: Scene, block: Clay) -> str:
    if not block.under:
        return "drawn"
    under = scene.state.spec(block.under)
    return under if isinstance(under, str) else "bare"


def _gasket(scene: Scene, block: Clay) -> _Gasket | None:
    """Give what the formula needs; None where a figure of it is not had."""
    under, old = _under(scene, block), scene.length(block.gasket_old)
    new, crush = scene.length(block.gasket_new), scene.length(block.crush)
    if under not in STOOD or new is None or (old is None and under != "bare"):
        return None
    if block.crush and crush is None:
        return None
    lost = share(crush) if crush else Decimal(0)
    return _Gasket(under=cast("Under", under), old=old, new=new, crush=lost)


def _ask(found: Occurrence) -> Prompt:
    block, scene = _block(found), found.scene
    plain, gasket, under = ask(found), _gasket(scene, block), _under(scene, block)
    if gasket is None:
        why = ALONE.get(under, f"“{under}” is not bare, laid or drawn.")
        return replace(plain, facts=(*plain.facts, f"The clay alone is judged; {why}"))
    if not block.crush:
        fact = f"Pressed on a gasket of {gasket.old}, the new one has {gasket.new}, both compressed"
        return replace(plain, facts=(*plain.facts, fact), calculator="", reading_key="")
    inputs = {
        "under": under,
        "gasket_old": str(gasket.old or ""),
        "gasket_new": str(gasket.new),
        "crush": str(gasket.crush),
        "want": str(limits(scene, block)[0] or ""),
        "uncertainty": str(doubt_of(scene, block) or ""),
    }
    lost = f"{(gasket.crush * 100).normalize():f} % crush"
    fact = f"{STOOD[under]}; new gasket {gasket.new}, {lost}"
    return replace(
        plain, facts=(*plain.facts, fact), calculator="cover", inputs=inputs, reading_key="clay"
    )


def decide(found: Occurrence, answer: Answer) -> Decision:
    """Take the clay and record the clearance; one too small names the gasket that would do."""
    block, scene = _block(found), found.scene
    ruling = Ruling(answer, found.address)
    clay, gasket = taken(block, answer, ruling), _gasket(scene, block)
    if gasket is None:
        return settle(found, block, ruling, clay)
    low = limits(scene, block)[0]
    doubt = doubt_of(scene, block) or Quantity(clay.value * 0, clay.unit)
    try:
        room = cover(
            clay,
            crush=gasket.crush,
            under=gasket.under,
            gasket_old=gasket.old,
            gasket_new=gasket.new,
            want=low or WANT,
            uncertainty=doubt,
        )
    except FigureError as error:
        stop("figure", str(error))
    value = rounded(room.clearance or clay)
    formula = "clearance = clay + new·(1 − crush) − under"
    sum_ = f"{clay} + {gasket.new} × (1 − {gasket.crush}) − {gasket.stood} = {value}"
    if not block.crush:
        formula = "room = clay + new gasket − old gasket, compressed"
        sum_ = f"{clay} + {gasket.new} − {gasket.old} = {value}"
    return settle(
        found,
        block,
        ruling,
        value,
        verdict=room.verdict if low else None,
        working=(f"{formula}: {sum_}",),
        advice=f"A gasket of {room.gasket} or thicker would do. ",
    )


KIND = Kind(name="clay", block=BLOCK, ask=_ask, decide=decide)
