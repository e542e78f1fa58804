"""Reads a step: the key that says its kind, the fields of every step, those of its kind."""

from collections.abc import Mapping
from typing import Any

from snugset.files.problems import Mark, Problems, one_of, quote
from snugset.files.shape import misplaced
from snugset.files.shapes import (
    Block,
    Choice,
    Field,
    Flag,
    ListOf,
    Located,
    Schema,
    Shape,
    Text,
    Whole,
    Word,
)
from snugset.files.steps import VIEWS, KindBlock, Step
from snugset.files.tree import Fields, Items, Node, Scalar

_WORD = Word()
_LINES = ListOf(Text(400), lone=True)
_COMMON: Block[Mapping[str, Any]] = Block(
    dict,
    {
        "say": Field(Text(), default="", help="What to do, in the trade's words."),
        "why": Field(Text(), default="", help="What it is for."),
        "caution": Field(_LINES, default=(), help="What can go wrong here."),
        "tools": Field(_LINES, default=(), help="What must be at hand."),
        "people": Field(Whole(1, 6), default=1, help="How many persons it takes."),
        "needs": Field(
            ListOf(Located(_WORD), lone=True), default=(), help="Steps that must be done before."
        ),
        "meanwhile": Field(Flag(), default=False, help="Whether it fits while something waits."),
        "view": Field(Choice(*VIEWS), default="", help="What is shown beside it."),
    },
)


class StepShape(Shape[Step]):
    """A step of one of the kinds; remembers ids and needs of all it reads, for one file."""

    __slots__ = ("_ids", "_kinds", "_needs", "_whole")

    def __init__(self, kinds: Mapping[str, KindBlock]) -> None:
        for kind in kinds.values():
            taken = {kind.name, *_COMMON.fields, *kind.children} & set(kind.block.fields)
            if taken:
                raise ValueError(f"kind {kind.name} has fields that every step has: {taken}")
        self._kinds = kinds
        self._ids: dict[str, Mark] = {}
        self._needs: list[tuple[str, Mark]] = []
        self._whole = True

    @property
    def wants(self) -> str:
        """In words."""
        return f"a step ({', '.join([*self._kinds][:4])}, …)"

    def read(self, node: Node, into: Problems) -> Step | None:
        """Return the step with all the steps inside it; None if something in it is wrong."""
        if not isinstance(node, Fields):
            misplaced(node, self.wants, into)
            return None
        kind = self._kind(node, into)
        if kind is None:
            self._whole = False
            self._rest(node, into)
            return None
        found = into.found
        identity = self._identity(node.fields[kind.name][1], into)
        own = [kind.name, *kind.children]
        common = _COMMON.read(node, into, beside=list(node.fields))
        block = kind.block.read(node, into, beside=[*_COMMON.fields, *own])
        children = {name: self._children(kind, name, node, into) for name in kind.children}
        if common is not None:
            self._needs.extend(common["needs"])
        if into.found > found or common is None or identity is None:
            return None
        needs = tuple(word for word, _ in common["needs"])
        return Step(
            kind=kind.name,
            id=identity,
            mark=node.mark,
            block=block,
            children=children,
            **{**common, "needs": needs},
        )

    def _rest(self, node: Fields, into: Problems) -> None:
        """Read what can be read of a step without a kind, for its mistakes."""
        _COMMON.read(node, into, beside=list(node.fields))
        for name in {name for kind in self._kinds.values() for name in kind.children}:
            if name in node.fields and isinstance(node.fields[name][1], Items):
                ListOf(self).read(node.fields[name][1], into)

    def _children(
        self, kind: KindBlock, name: str, node: Fields, into: Problems
    ) -> tuple[Step, ...]:
        if name in node.fields:
            return ListOf(self, least=1).read(node.fields[name][1], into) or ()
        if name not in kind.optional:
            into.add(node.mark, f"{quote(name)} is missing here; it takes a list of steps")
        return ()

    def check_needs(self, into: Problems) -> None:
        """Add a problem for every need that is no step of the file.

        Says nothing where the id of a step could not be read: it may be the one that is needed.
        """
        if not self._whole:
            return
        for word, mark in self._needs:
            if word not in self._ids:
                near = into.near(word, self._ids) or "; name a step of this file"
                into.add(mark, f"there is no step {quote(word)}{near}")

    def _kind(self, node: Fields, into: Problems) -> KindBlock | None:
        """Find the one key that is a kind and belongs to no other kind's fields."""
        named = [
            name
            for name, (_, value) in node.fields.items()
            if name in self._kinds and isinstance(value, Scalar)
        ]
        owners = [
            name
            for name in named
            if all(
                other == name
                or other in self._kinds[name].block.fields
                or other in self._kinds[name].children
                for other in named
            )
        ]
        if len(owners) == 1:
            return self._kinds[owners[0]]
        if named:
            both = " and ".join(map(quote, named[:2]))
            second = node.fields[named[1]][0].mark
            into.add(second, f"{both} are both kinds; a step has one, and its id stands after it")
            return None
        for name, (key, value) in node.fields.items():
            if name in self._kinds:
                misplaced(value, f"the id of a {name} step", into)
                return None
            near = "" if name in _COMMON.fields else into.near(name, self._kinds)
            if near:
                into.add(key.mark, f"{quote(name)} is no kind of step{near}")
                return None
        kinds = one_of(self._kinds)
        into.add(node.mark, f"this step has no kind; give it an id after {kinds}")
        return None

    def _identity(self, node: Node, into: Problems) -> str | None:
        identity = _WORD.read(node, into)
        if identity is None:
            self._whole = False
            return None
        if identity in self._ids:
            line = self._ids[identity].line
            into.add(
                node.mark,
                f"the id {quote(identity)} is given twice, first in line {line}; "
                "each step has its own",
            )
        elif identity == "return" or identity.startswith("spec."):
            into.add(
                node.mark, f"the id {quote(identity)} is kept for the guide itself; take another"
            )
        else:
            self._ids[identity] = node.mark
        return identity

    def schema(self) -> Schema:
        """As JSON Schema; the definition itself stands beside the file's."""
        return {"$ref": "#/$defs/step"}

    def definition(self) -> Schema:
        """Return the schema of a step: one of the kinds."""
        return {"oneOf": [self._kind_schema(kind) for kind in self._kinds.values()]}

    def _kind_schema(self, kind: KindBlock) -> Schema:
        common, own = _COMMON.schema(), kind.block.schema()
        steps = {"type": "array", "items": self.schema(), "minItems": 1}
        return {
            "type": "object",
            "properties": {
                kind.name: _WORD.schema(),
                **common["properties"],
                **own["properties"],
                **dict.fromkeys(kind.children, steps),
            },
            "required": [
                kind.name,
                *own["required"],
                *(name for name in kind.children if name not in kind.optional),
            ],
            "additionalProperties": False,
        }
