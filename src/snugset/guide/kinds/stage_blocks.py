"""The blocks of the stages container and of the stages in it."""

from collections.abc import Mapping
from typing import ClassVar

from snugset.files.orders import OrderShape
from snugset.files.shapes import Block, Field, Flag, ListOf, Word
from snugset.files.steps import KindBlock
from snugset.plan.stages import Stage
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Stages:
    """The block of a container of stages."""

    FIGURES: ClassVar[Mapping[str, str]] = {
        "wrench": "torque/window",
        "yield_": "choice",
        "thread": "thread",
        "nut_factor": "number/one",
        "scatter": "number/one",
    }
    GROUPS: ClassVar[tuple[str, ...]] = ("group",)
    STEPS: ClassVar[tuple[str, ...]] = ("gasket", "renewed")

    group: str
    wrench: str = ""
    yield_: str = ""
    """The choice that says whether the fasteners are torque-to-yield."""
    gasket: tuple[str, ...] = ()
    """Steps that open again with a new gasket."""
    renewed: tuple[str, ...] = ()
    """Steps that open again when its fasteners go in anew, besides those done at each of them."""
    thread: str = ""
    nut_factor: str = ""
    scatter: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueTo(Stage):
    """The block of a torque stage."""

    FIGURES: ClassVar[Mapping[str, str]] = {"figure": "torque/one", "wrench": "torque/window"}

    figure: str
    wrench: str = ""
    falls: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Angle(Stage):
    """The block of an angle stage."""

    FIGURES: ClassVar[Mapping[str, str]] = {"figure": "angle/one", "tolerance": "angle/one"}

    figure: str
    tolerance: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Loosen(Stage):
    """The block of a loosening stage."""

    FIGURES: ClassVar[Mapping[str, str]] = {"turns": "number/one or angle/one"}

    turns: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Verify(Stage):
    """The block of a stage that gives the same torque again."""

    FIGURES: ClassVar[Mapping[str, str]] = {"figure": "torque/one", "wrench": "torque/window"}

    figure: str
    wrench: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Accept(Stage):
    """The block of a stage that each fastener must pass."""

    FIGURES: ClassVar[Mapping[str, str]] = {"figure": "torque/one", "wrench": "torque/window"}

    figure: str
    wrench: str = ""


def _fields(order: str = "as-map") -> dict[str, Field]:
    return {
        "group": Field(Word(), default="", help="which fasteners, where not the container's"),
        "only": Field(ListOf(Word(), least=1), default=(), help="some places of the group"),
        "order": Field(OrderShape(), default=order, help="in which order it goes over them"),
    }


_WRENCH = Field(Word(), default="", help="the figure that is the wrench's range")
_TORQUE = Field(Word(), needed=True, help="the figure that is the torque")


def _stages(**fields: object) -> Stages:
    return Stages(yield_=fields.pop("yield"), **fields)  # type: ignore[arg-type]


STAGES = KindBlock(
    name="stages",
    block=Block(
        _stages,
        {
            "group": Field(Word(), needed=True, help="the fasteners its stages go over"),
            "wrench": Field(Word(), default="", help="the wrench of stages that name none"),
            "yield": Field(
                Word(), default="", help="the choice of yes and no: are they torque-to-yield"
            ),
            "gasket": Field(
                ListOf(Word(), lone=True), default=(), help="steps done again with a new gasket"
            ),
            "renewed": Field(
                ListOf(Word(), lone=True), default=(), help="steps done again with new fasteners"
            ),
            "thread": Field(Word(), default="", help="the nut's thread, for the clamp load"),
            "nut-factor": Field(Word(), default="", help="K of the nut as lubricated"),
            "scatter": Field(Word(), default="", help="the scatter of the load, a share"),
        },
    ),
    children=("steps",),
)
TORQUE_TO = KindBlock(
    name="torque-to",
    block=Block(
        TorqueTo,
        {
            "figure": _TORQUE,
            "wrench": _WRENCH,
            "falls": Field(Flag(), default=False, help="it need not be above the one before"),
            **_fields(),
        },
    ),
)
ANGLE = KindBlock(
    name="angle",
    block=Block(
        Angle,
        {
            "figure": Field(Word(), needed=True, help="the figure that is the angle"),
            "tolerance": Field(Word(), default="", help="how far above it may go"),
            **_fields(),
        },
    ),
)
LOOSEN = KindBlock(
    name="loosen",
    block=Block(
        Loosen,
        {
            "turns": Field(Word(), needed=True, help="how far each is loosened"),
            **_fields("reverse"),
        },
    ),
)
VERIFY = KindBlock(
    name="verify",
    block=Block(Verify, {"figure": _TORQUE, "wrench": _WRENCH, **_fields()}),
)
ACCEPT = KindBlock(
    name="accept",
    block=Block(Accept, {"figure": _TORQUE, "wrench": _WRENCH, **_fields()}),
)
