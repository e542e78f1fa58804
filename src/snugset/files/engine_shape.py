"""The fields of an engine file."""

from collections.abc import Mapping
from decimal import Decimal

from snugset.files.fasteners import Group
from snugset.files.groups import GroupShape
from snugset.files.problems import Mark
from snugset.files.shapes import (
    Amount,
    Block,
    CamshaftCard,
    Choice,
    Field,
    ListOf,
    Located,
    MapOf,
    Number,
    Text,
    Whole,
)
from snugset.files.values import Camshaft
from snugset.files.versions import Version
from snugset.units import Quantity
from snugset.values import dataclass

_CYLINDERS = Whole(1, 24)
_ANGLE = Number(Decimal(0), Decimal(720))

FEATURES = {
    "layout": Choice("inline", "v"),
    "cylinders": _CYLINDERS,
    "running": Choice("clockwise", "anticlockwise"),
    "rockers": Choice("bridged", "pedestal", "shaft", "stud"),
    "lifters": Choice("hydraulic", "solid"),
}
"""What a procedure can expect of an engine."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """An engine as written, before its numbers are held against each other."""

    snugset: str
    name: str
    note: str
    layout: str
    cylinders: int
    firing_order: tuple[tuple[int, Mark], ...]
    intervals: tuple[tuple[Decimal, ...], Mark] | None
    running: str
    banks: Mapping[str, tuple[tuple[tuple[int, Mark], ...], Mark]] | None
    marks: tuple[tuple[Decimal, Mark], ...]
    damper: tuple[Quantity, Mark] | None
    rockers: str
    lifters: str
    ratio: Decimal
    camshaft: Camshaft | None
    stroke: tuple[Quantity, Mark] | None
    connecting_rod: tuple[Quantity, Mark] | None
    valves: tuple[tuple[str, ...], Mark] | None
    fasteners: Mapping[str, Group]
    mark: Mark


DRAFT = Block(
    Draft,
    {
        "snugset": Field(Version("engine"), needed=True, help="The sort of file and its version."),
        "name": Field(Text(120), needed=True, help="What the engine is called."),
        "note": Field(Text(), default="", help="Anything worth knowing about the file."),
        "layout": Field(FEATURES["layout"], needed=True, help="One row of cylinders, or a vee."),
        "cylinders": Field(_CYLINDERS, needed=True, help="How many cylinders."),
        "firing-order": Field(
            ListOf(Located(_CYLINDERS), least=1), needed=True, help="Cylinders as they fire."
        ),
        "intervals": Field(
            Located(ListOf(_ANGLE)),
            help="Degrees from each firing to the next; left out, they are even.",
        ),
        "running": Field(
            FEATURES["running"], needed=True, help="The way the crank turns, seen from the front."
        ),
        "banks": Field(
            MapOf(Located(ListOf(Located(_CYLINDERS)))), help="Cylinders of each bank of a vee."
        ),
        "marks": Field(
            ListOf(Located(_ANGLE)),
            default=(),
            help="Crank angles marked on the damper's rim, degrees after number one's dead centre.",
        ),
        "damper": Field(Located(Amount("in")), help="Diameter of the damper's rim."),
        "rockers": Field(FEATURES["rockers"], needed=True, help="How the rockers are mounted."),
        "lifters": Field(FEATURES["lifters"], needed=True, help="The sort of lifters."),
        "ratio": Field(
            Number(Decimal(1), Decimal("2.5")), needed=True, help="Valve lift over lifter lift."
        ),
        "camshaft": Field(CamshaftCard(), help="The camshaft card, with its checking lift."),
        "stroke": Field(Located(Amount("in")), help="Stroke of the pistons."),
        "connecting-rod": Field(
            Located(Amount("in")), help="Length of the connecting rod between its centres."
        ),
        "valves": Field(
            Located(ListOf(Choice("E", "I"))),
            help="Exhaust and intake valves along the head from the front, two to a cylinder.",
        ),
        "fasteners": Field(MapOf(GroupShape()), default={}, help="Groups of studs or bolts."),
    },
    marked=True,
)
