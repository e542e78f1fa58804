"""Reads a group of fasteners and proves its order."""

from collections.abc import Mapping
from decimal import Decimal

from snugset.files.fasteners import Group, Place, spots
from snugset.files.problems import Mark, Problems, all_of, quote
from snugset.files.shape import ScalarShape, misplaced
from snugset.files.shapes import (
    Amount,
    Block,
    Choice,
    Field,
    ListOf,
    Located,
    MapOf,
    Schema,
    Shape,
    Text,
    Word,
)
from snugset.files.tree import Items, Node, Scalar
from snugset.trade.sequence import centre_out, order_faults
from snugset.units import Quantity
from snugset.values import dataclass, replace

_MOST = 200


@dataclass(frozen=True, slots=True)
class _Hole(ScalarShape[tuple[bool | None, bool | None]]):
    """Two words on a hole."""

    @property
    def wants(self) -> str:
        return "two words on the hole, such as wet through"

    def read_text(
        self, text: str, mark: Mark, into: Problems
    ) -> tuple[bool | None, bool | None] | None:
        match text.split():
            case ["wet" | "dry" | "unknown" as first, "through" | "blind" | "unknown" as second]:
                wet = None if first == "unknown" else first == "wet"
                return wet, None if second == "unknown" else second == "blind"
        into.add(
            mark,
            f"{quote(text)} does not say what the hole is; write wet, dry or unknown, "
            "then through, blind or unknown",
        )
        return None

    def schema(self) -> Schema:
        return {"type": "string", "pattern": "^(wet|dry|unknown) +(through|blind|unknown)$"}


_Located = tuple[tuple[str, Mark], ...]
_MAKERS = ListOf(Located(Word()))
_PATTERNS = Choice("criss-cross", "spiral")


@dataclass(frozen=True, slots=True)
class _Order(Shape[_Located | str]):
    """The maker's order as a list, or the pattern of one that is generated, as a word."""

    @property
    def wants(self) -> str:
        return f"a list of the group's places, {_PATTERNS.wants}"

    def read(self, node: Node, into: Problems) -> _Located | str | None:
        match node:
            case Items():
                return _MAKERS.read(node, into)
            case Scalar(text="criss-cross" | "spiral" as pattern):
                return pattern
        misplaced(node, self.wants, into)
        return None

    def schema(self) -> Schema:
        return {"anyOf": [_MAKERS.schema(), _PATTERNS.schema()]}


def _place(
    *, x: Quantity, y: Quantity, hole: tuple[bool | None, bool | None], length: Quantity, mark: Mark
) -> Place:
    return Place(key="", x=x, y=y, wet=hole[0], blind=hole[1], length=length, mark=mark)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Draft:
    """A group as written, before its order is proven."""

    kind: str
    order: _Located | str
    rows: tuple[tuple[str, Mark], ...] | None
    places: Mapping[str, Place]
    mark: Mark


_PLACE = Block(
    _place,
    {
        "x": Field(Amount("in", negative=True), needed=True, help="Along, growing from the front."),
        "y": Field(Amount("in", negative=True), needed=True, help="Across, growing upwards."),
        "hole": Field(_Hole(), default=(None, None), help="Wet or dry, through or blind."),
        "length": Field(Amount("in"), help="Length of the stud or bolt."),
    },
    marked=True,
)
_GROUP = Block(
    _Draft,
    {
        "kind": Field(Choice("stud", "bolt"), needed=True, help="Stud or bolt."),
        "order": Field(
            _Order(),
            default="criss-cross",
            help="The maker's order of tightening; or criss-cross (as without this field) or "
            "spiral, for one generated centre-out.",
        ),
        "rows": Field(ListOf(Located(Text(40))), help="Names of the rows from the smallest y up."),
        "places": Field(MapOf(_PLACE), needed=True, help="The places by number."),
    },
    marked=True,
)


@dataclass(frozen=True, slots=True)
class GroupShape(Shape[Group]):
    """A group of fasteners; its order is a permutation of its places."""

    @property
    def wants(self) -> str:
        """In words."""
        return _GROUP.wants

    def read(self, node: Node, into: Problems) -> Group | None:
        """Return the group; its name is the reader's to give."""
        draft = _GROUP.read(node, into)
        if draft is None:
            return None
        found = into.found
        places = {key: replace(place, key=key) for key, place in draft.places.items()}
        _check_places(places, draft.mark, into)
        order = draft.order
        if not isinstance(order, str):
            _check_order(order, places, draft.mark, into)
        if draft.rows is not None:
            _check_rows(draft.rows, places, draft.mark, into)
        if into.found > found:
            return None
        return Group(
            name="",
            kind=draft.kind,
            order=centre_out(spots(places), "spiral" if order == "spiral" else "criss-cross")
            if isinstance(order, str)
            else tuple(key for key, _ in order),
            generated=isinstance(order, str),
            rows=tuple(name for name, _ in draft.rows or ()),
            places=places,
            mark=draft.mark,
        )

    def schema(self) -> Schema:
        """As JSON Schema."""
        return _GROUP.schema()


def _check_places(places: Mapping[str, Place], mark: Mark, into: Problems) -> None:
    if not 1 <= len(places) <= _MOST:
        into.add(mark, f"this group has {len(places)} places; it can have 1 to {_MOST}")
        return
    taken: dict[tuple[Decimal, Decimal], str] = {}
    for key, spot in spots(places).items():
        other = taken.setdefault(spot, key)
        if other != key:
            into.add(
                places[key].mark,
                f"places {other} and {key} lie at the same x and y; mend one of them",
            )


def _check_order(order: _Located, places: Mapping[str, Place], mark: Mark, into: Problems) -> None:
    faults = order_faults([key for key, _ in order], places)
    for key, at in (order[index] for index in faults.unknown):
        near = into.near(key, places) or "; the order names the group's places"
        into.add(at, f"there is no place {quote(key)} in this group{near}")
    for key, at in (order[index] for index in faults.repeated):
        into.add(at, f"place {key} stands twice in the order; each is tightened once")
    if missing := faults.missing:
        at = order[0][1] if order else mark
        said = f"places {all_of(missing)} are" if len(missing) > 1 else f"place {missing[0]} is"
        into.add(at, f"{said} missing from the order; each is tightened once")


def _check_rows(
    rows: tuple[tuple[str, Mark], ...], places: Mapping[str, Place], mark: Mark, into: Problems
) -> None:
    count = len({across for _, across in spots(places).values()})
    if len(rows) != count:
        at = rows[0][1] if rows else mark
        into.add(at, f"{len(rows)} rows are named, the places lie in {count}; name each row once")
