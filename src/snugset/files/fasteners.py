"""Fasteners on their map: groups of places, the order of tightening, each place in words."""

from collections.abc import Mapping
from decimal import Decimal

from snugset.files.problems import Mark
from snugset.units import Quantity
from snugset.values import dataclass

_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth")


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A fastener's place and its hole."""

    key: str
    x: Quantity
    """Along the engine, growing from the front."""
    y: Quantity
    """Across, growing from the lower row on the map to the upper."""
    wet: bool | None
    """Whether the hole reaches coolant or oil; None where that is not known."""
    blind: bool | None
    """Whether the hole has a bottom; None where that is not known."""
    length: Quantity | None
    """The length of the stud or bolt that belongs here."""
    mark: Mark


def spots(places: Mapping[str, Place]) -> dict[str, tuple[Decimal, Decimal]]:
    """Give where each place is, x and y in one unit: the first one's."""
    unit = next(iter(places.values())).x.unit if places else ""
    return {key: (place.x.in_(unit), place.y.in_(unit)) for key, place in places.items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Fasteners that are tightened together."""

    name: str
    kind: str
    """``stud`` or ``bolt``."""
    order: tuple[str, ...]
    """The keys of all places in the order of tightening."""
    generated: bool
    """Whether the order was made centre-out, because the file gives none."""
    rows: tuple[str, ...]
    """Names of the rows from the smallest y up; empty where the file gives none."""
    places: Mapping[str, Place]
    mark: Mark


def row_names(group: Group) -> dict[Decimal, str]:
    """Name each row by its place across, the lowest first; nothing where there is one row only."""
    levels = sorted({across for _, across in spots(group.places).values()})
    if len(levels) == 1:
        return {}
    return {y: _row(group.rows, number, len(levels)) for number, y in enumerate(levels)}


def words(group: Group, key: str) -> str:
    """Say where a fastener is: ``upper row, third from the front``."""
    known = spots(group.places)
    rows = row_names(group)
    x, y = known[key]
    row = sorted(along for along, across in known.values() if across == y)
    nth = f"{_ordinal(row.index(x) + 1)} from the front" if len(row) > 1 else "the only one"
    return f"{rows[y]}, {nth}" if rows else nth


def _row(names: tuple[str, ...], level: int, count: int) -> str:
    if names:
        name = names[level]
        return name if " " in name else f"{name} row"
    if count <= 3:
        return ("lower row", "upper row" if count == 2 else "middle row", "upper row")[level]
    return f"{_ordinal(level + 1)} row from below"


def _ordinal(number: int) -> str:
    if number <= len(_ORDINALS):
        return _ORDINALS[number - 1]
    tail = (
        "th" if number % 100 in {11, 12, 13} else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    )
    return f"{number}{tail}"
