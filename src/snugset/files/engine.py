"""What an engine is, as far as its top end goes, and the reader of its file."""

from collections.abc import Mapping
from decimal import Decimal

from snugset.files.engine_checks import check
from snugset.files.engine_shape import DRAFT, FEATURES, Draft
from snugset.files.fasteners import Group, Place, words
from snugset.files.problems import Mark, Problems
from snugset.files.tree import Node
from snugset.files.values import Camshaft
from snugset.units import Quantity
from snugset.values import dataclass, replace

__all__ = ["FEATURES", "Engine", "Group", "Place", "read_engine", "words"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Engine:
    """One engine; the front is where the cylinders are counted from.

    Two engines are the same only if they are the same object, so that what is derived from one
    can be remembered.
    """

    name: str
    note: str
    layout: str
    """``inline`` or ``v``."""
    cylinders: int
    firing_order: tuple[int, ...]
    intervals: tuple[Decimal, ...]
    """Degrees of the crank from each firing to the next, in firing order; together 720."""
    running: str
    """``clockwise`` or ``anticlockwise``, seen from the front."""
    banks: Mapping[str, tuple[int, ...]]
    """Cylinders by bank; empty without banks."""
    marks: tuple[Decimal, ...]
    """Crank angles marked on the rim of the damper, degrees after number one's dead centre."""
    damper: Quantity | None
    """Diameter of the damper's rim."""
    rockers: str
    """``bridged``, ``pedestal``, ``shaft`` or ``stud``."""
    lifters: str
    """``hydraulic`` or ``solid``."""
    ratio: Decimal
    """Valve lift over lifter lift."""
    camshaft: Camshaft | None
    stroke: Quantity | None
    connecting_rod: Quantity | None
    """Length of the connecting rod between its centres."""
    valves: tuple[str, ...]
    """``E`` and ``I`` along the head from the front, two to a cylinder; empty if not given."""
    fasteners: Mapping[str, Group]

    @property
    def features(self) -> Mapping[str, str]:
        """What a procedure can expect of an engine, as its file spells it; keys are `FEATURES`."""
        return {
            "layout": self.layout,
            "cylinders": str(self.cylinders),
            "running": self.running,
            "rockers": self.rockers,
            "lifters": self.lifters,
        }


def read_engine(node: Node, into: Problems) -> Engine | None:
    """Return the engine; None once a problem was added.

    Beyond its fields: the firing order is a permutation, the intervals are one to a cylinder and
    make two turns, the banks hold each cylinder once, the order of a group holds each place once.
    """
    found = into.found
    draft = DRAFT.read(node, into)
    if draft is None:
        return None
    check(draft, into)
    if into.found > found:
        return None
    return Engine(
        name=draft.name,
        note=draft.note,
        layout=draft.layout,
        cylinders=draft.cylinders,
        firing_order=tuple(cylinder for cylinder, _ in draft.firing_order),
        intervals=_intervals(draft),
        running=draft.running,
        banks={
            name: tuple(cylinder for cylinder, _ in bank)
            for name, (bank, _) in (draft.banks or {}).items()
        },
        marks=tuple(angle for angle, _ in draft.marks),
        damper=_sized(draft.damper),
        rockers=draft.rockers,
        lifters=draft.lifters,
        ratio=draft.ratio,
        camshaft=draft.camshaft,
        stroke=_sized(draft.stroke),
        connecting_rod=_sized(draft.connecting_rod),
        valves=draft.valves[0] if draft.valves else (),
        fasteners={name: replace(group, name=name) for name, group in draft.fasteners.items()},
    )


def _sized(given: tuple[Quantity, Mark] | None) -> Quantity | None:
    return None if given is None else given[0]


def _intervals(draft: Draft) -> tuple[Decimal, ...]:
    """Return the intervals given, or even ones; the last takes what does not divide."""
    if draft.intervals is not None:
        return draft.intervals[0]
    even = (Decimal(720) / draft.cylinders).quantize(Decimal("0.0001")).normalize() + 0
    return (*[even] * (draft.cylinders - 1), 720 - even * (draft.cylinders - 1))
