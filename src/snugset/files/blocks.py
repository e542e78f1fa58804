"""Shapes of groups: lists, mappings and blocks of named fields."""

from collections.abc import Callable, Collection, Mapping
from functools import cache

from snugset.files.problems import Mark, Problems, quote
from snugset.files.scalars import Word
from snugset.files.shape import Misfit, Schema, Shape, T_co, misplaced
from snugset.files.tree import Fields, Items, Node, Scalar
from snugset.typed import Generic
from snugset.values import dataclass, field

_WORD = Word()


@dataclass(frozen=True, slots=True)
class ListOf(Shape[tuple[T_co, ...]]):
    """A list of one shape."""

    shape: Shape[T_co]
    lone: bool = False
    """Whether one thing may stand without the list around it."""
    least: int = 0
    most: int | None = None
    """How many it may have; None for as many as a file can hold."""

    @property
    def wants(self) -> str:
        """In words."""
        return f"a list, each entry {self.shape.wants}"

    def read(self, node: Node, into: Problems) -> tuple[T_co, ...] | None:
        """Return all entries; None if one of them is wrong, after all are read."""
        if self.lone and not isinstance(node, Items):
            one = self.shape.read(node, into)
            return None if one is None else (one,)
        if not isinstance(node, Items):
            misplaced(node, self.wants, into)
            return None
        if len(node.items) < self.least:
            into.add(node.mark, _too_few(len(node.items), self.least))
            return None
        if self.most is not None and len(node.items) > self.most:
            into.add(node.mark, f"this list has {len(node.items)} entries; it can have {self.most}")
            return None
        values = []
        for item in node.items:
            value = self.shape.read(item, into)
            if value is not None:
                values.append(value)
        return tuple(values) if len(values) == len(node.items) else None

    def schema(self) -> Schema:
        """As JSON Schema."""
        own: Schema = {"type": "array", "items": self.shape.schema(), "minItems": self.least}
        if self.most is not None:
            own["maxItems"] = self.most
        return {"anyOf": [own, self.shape.schema()]} if self.lone else own


def _too_few(have: int, least: int) -> str:
    entries = "no entry" if not have else "1 entry" if have == 1 else f"{have} entries"
    return f"this list has {entries}; {least} {'is' if least == 1 else 'are'} needed"


@dataclass(frozen=True, slots=True)
class MapOf(Shape[Mapping[str, T_co]]):
    """Ids, each with a value of one shape."""

    shape: Shape[T_co]

    @property
    def wants(self) -> str:
        """In words."""
        return f"ids, each with {self.shape.wants}"

    def read(self, node: Node, into: Problems) -> Mapping[str, T_co] | None:
        """Return all entries by id; None if one of them is wrong, after all are read."""
        if not isinstance(node, Fields):
            misplaced(node, self.wants, into)
            return None
        values = {}
        for key, item in node.fields.values():
            word = _WORD.read(key, into)
            value = self.shape.read(item, into)
            if word is not None and value is not None:
                values[word] = value
        return values if len(values) == len(node.fields) else None

    def schema(self) -> Schema:
        """As JSON Schema."""
        return {"type": "object", "additionalProperties": self.shape.schema()}


@dataclass(frozen=True, slots=True)
class Located(Shape[tuple[T_co, Mark]]):
    """A value together with its place."""

    shape: Shape[T_co]

    @property
    def wants(self) -> str:
        """In words."""
        return self.shape.wants

    def read(self, node: Node, into: Problems) -> tuple[T_co, Mark] | None:
        """Return value and place."""
        value = self.shape.read(node, into)
        return None if value is None else (value, node.mark)

    def schema(self) -> Schema:
        """As JSON Schema."""
        return self.shape.schema()


@dataclass(frozen=True, slots=True)
class Field:
    """A field of a block."""

    shape: Shape[object]
    needed: bool = False
    default: object = None
    """What the block gets when the file has no such field."""
    help: str = ""
    """What the field is for, in one sentence; editors show it."""


@dataclass(frozen=True, slots=True)
class Block(Shape[T_co], Generic[T_co]):
    """Named fields, made into one value: a ``-`` in a name becomes ``_``."""

    make: Callable[..., T_co]
    """Called with every field by keyword; may raise Misfit."""
    fields: Mapping[str, Field]
    marked: bool = False
    """Whether `make` also gets ``mark``, the place of the block."""
    _blank: dict[str, object] = field(default_factory=dict, compare=False, repr=False)
    """What `make` gets of fields that the file has not; worked out once, a file may hold thousands
    of blocks."""

    @property
    def wants(self) -> str:
        """In words."""
        needed = [name for name, own in self.fields.items() if own.needed]
        return f"a group of fields ({', '.join(needed or list(self.fields)[:4])})"

    def read(self, node: Node, into: Problems, *, beside: Collection[str] = ()) -> T_co | None:
        """Return what is made of the fields; None if one is wrong, after all are read.

        `beside` names fields of the same mapping that are another reader's.
        """
        if not isinstance(node, Fields):
            misplaced(node, self.wants, into)
            return None
        whole = True
        spelled = []
        values = dict(self._blank or self._defaults())
        for name, (key, item) in node.fields.items():
            own = self.fields.get(name)
            if own is not None:
                value = own.shape.read(item, into)
                whole = whole and value is not None
                values[_attribute(name)] = value
            elif name not in beside:
                whole = False
                spelled.append(self._unknown(key, item, beside, into))
        missing: list[tuple[str, str]] = []
        for name, own in self.fields.items():
            if own.needed and name not in node.fields:
                whole = False
                if not any(quote(name) in near for near in spelled):
                    missing.append((name, own.shape.wants))
        if missing:
            into.add(node.mark, _missing(missing))
        if not whole:
            return None
        if self.marked:
            values["mark"] = node.mark
        try:
            return self.make(**values)
        except Misfit as misfit:
            at = node.fields[misfit.field][1] if misfit.field in node.fields else node
            into.add(at.mark, misfit.text)
            return None

    def _defaults(self) -> dict[str, object]:
        self._blank.update({_attribute(name): own.default for name, own in self.fields.items()})
        return self._blank

    def _unknown(self, key: Scalar, item: Node, beside: Collection[str], into: Problems) -> str:
        """Tell of a field that is not known; return what it may be meant for, in words."""
        near = into.near(key.text, (*self.fields, *beside))
        hint = near or f"; known here are {', '.join(self.fields)}"
        if _cut_off(key, item):
            hint = (
                ": a comma inside braces ends the field before it; write a decimal with a point, "
                "and put a text with a comma in quotes"
            )
        into.add(key.mark, f"{quote(key.text)} is no field here{hint}")
        return near

    def schema(self) -> Schema:
        """As JSON Schema."""
        properties: Schema = {}
        for name, own in self.fields.items():
            said = own.shape.schema()
            properties[name] = {**said, "description": own.help} if own.help else said
        return {
            "type": "object",
            "properties": properties,
            "required": [name for name, own in self.fields.items() if own.needed],
            "additionalProperties": False,
        }


@cache
def _attribute(name: str) -> str:
    """Give the keyword by which `make` takes a field."""
    return name.replace("-", "_")


def _missing(fields: list[tuple[str, str]]) -> str:
    """Say which fields are missing from one group, each with what it takes."""
    if len(fields) == 1:
        ((name, wants),) = fields
        return f"{quote(name)} is missing here; it takes {wants}"
    return f"missing here are {'; '.join(f'{quote(name)}, {wants}' for name, wants in fields)}"


def _cut_off(key: Scalar, item: Node) -> bool:
    """Tell whether a name has no colon after it: the rest of a value that a comma cut."""
    return (
        isinstance(item, Scalar)
        and not item.text
        and item.mark.line == key.mark.line
        and item.mark.column <= key.mark.column + len(key.text)
    )
