"""Reads a step: the key that says its kind, the fields of every step, those of its kind."""

from collections.abc import Collection, Mapping
from typing import Any

from snugset.files.conditions import MOST, ConditionShape
from snugset.files.problems import Mark, Problems, an, one_of, quote
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
_OPTION = Text(120)
_LINES = ListOf(Text(400), lone=True)
_COMMON: Block[Mapping[str, Any]] = Block(
    dict,
    {
        "say": Field(Text(), default="", help="What to do, in the trade's words."),
        "why": Field(Text(), default="", help="What it is for."),
        "caution": Field(_LINES, default=(), help="What can go wrong here."),
        "tools": Field(_LINES, default=(), help="What must be at hand."),
        "people": Field(Whole(1, 6), default=1, help="How many persons it takes."),
        "second-look": Field(
            Flag(), default=False, help="Whether another person must confirm that it is done."
        ),
        "needs": Field(
            ListOf(Located(_WORD), lone=True), default=(), help="Steps that must be done before."
        ),
        "meanwhile": Field(Flag(), default=False, help="Whether it fits while something waits."),
        "view": Field(Choice(*VIEWS), default="", help="What is shown beside it."),
        "if": Field(
            ListOf(ConditionShape(), lone=True, most=MOST), default=(), help="When it is done."
        ),
    },
)
USE = "use"
"""The field of an entry that stands for a shared group of steps."""
_USE: Block[Mapping[str, Any]] = Block(
    dict,
    {
        USE: Field(_WORD, needed=True, help="The shared group whose steps stand here."),
        "if": _COMMON.fields["if"],
    },
)


class StepShape(Shape[Step]):
    """A step of one of the kinds; remembers ids and needs of all it reads, for one file."""

    __slots__ = ("_ids", "_kinds", "_needs", "_whole")

    def __init__(self, kinds: Mapping[str, KindBlock]) -> None:
        for kind in kinds.values():
            taken = {kind.name, *_COMMON.fields, *kind.children, kind.branches} & set(
                kind.block.fields
            )
            if taken:
                raise ValueError(f"kind {kind.name} has fields that every step has: {taken}")
            if USE in (kind.name, *kind.block.fields, *kind.children):
                raise ValueError(f"kind {kind.name} uses the word of shared groups")
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
        if USE in node.fields:
            return self._use(node, into)
        kind = self._kind(node, into)
        if kind is None:
            self._whole = False
            self._rest(node, into)
            return None
        found = into.found
        identity = self._identity(node.fields[kind.name][1], into)
        own = [kind.name, *kind.children, *filter(None, [kind.branches])]
        common = _COMMON.read(node, into, beside=list(node.fields))
        block = kind.block.read(node, into, beside=[*_COMMON.fields, *own])
        children = {name: self._children(kind, name, node, into) for name in kind.children}
        if kind.branches:
            children |= self._branches(kind, node, into)
        if common is not None:
            self._needs.extend(common["needs"])
        if into.found > found or common is None or identity is None:
            return None
        own_fields = {name: common[name] for name in common if name not in ("if", "needs")}
        return Step(
            kind=kind.name,
            id=identity,
            mark=node.mark,
            block=block,
            children=children,
            needs=tuple(word for word, _ in common["needs"]),
            need_marks=tuple(mark for _, mark in common["needs"]),
            conditions=common["if"],
            source=node,
            **own_fields,
        )

    def _use(self, node: Fields, into: Problems) -> Step | None:
        """Read an entry that stands for a shared group; it is put in its place later."""
        fields = _USE.read(node, into)
        if fields is None:
            self._whole = False
            return None
        return Step(kind=USE, id=fields[USE], mark=node.mark, conditions=fields["if"])

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

    def _branches(
        self, kind: KindBlock, node: Fields, into: Problems
    ) -> Mapping[str, tuple[Step, ...]]:
        """Read lists of steps by the words of an answer; a list may be empty."""
        name = kind.branches
        if name not in node.fields:
            into.add(node.mark, f"{quote(name)} is missing; it takes words with lists of steps")
            return {}
        found = node.fields[name][1]
        if not isinstance(found, Fields):
            misplaced(found, "words, each with a list of steps", into)
            return {}
        children = {}
        for key, value in found.fields.values():
            word = _OPTION.read(key, into)
            steps = ListOf(self).read(value, into)
            if word is not None:
                children[word] = steps or ()
        if len(found.fields) < 2:
            into.add(found.mark, f"{quote(name)} has {len(found.fields)} of them; two are needed")
        return children

    @property
    def ids(self) -> Mapping[str, Mark]:
        """The ids read so far, each with its place."""
        return self._ids

    @property
    def whole(self) -> bool:
        """Whether the id of every step could be read."""
        return self._whole

    def check_needs(self, into: Problems, others: Collection[str] = ()) -> None:
        """Add a problem for every need that is no step of the file nor one of the others.

        Says nothing where the id of a step could not be read: it may be the one that is needed.
        """
        if not self._whole:
            return
        known = {*self._ids, *others}
        for word, mark in self._needs:
            if word not in known:
                near = into.near(word, known) or "; name a step of this file"
                into.add(mark, f"there is no step {quote(word)}{near}", (word,))

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
                or other in (*self._kinds[name].children, self._kinds[name].branches)
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
                misplaced(value, f"the id of {an(name)} step", into)
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

    def definitions(self) -> Schema:
        """Return the schemas of a step, one of the kinds or a shared group, and of its fields."""
        kinds = [self._kind_schema(kind) for kind in self._kinds.values()]
        return {**_COMMON.schema()["properties"], "step": {"oneOf": [*kinds, _USE.schema()]}}

    def _kind_schema(self, kind: KindBlock) -> Schema:
        own = kind.block.schema()
        steps = {"type": "array", "items": self.schema(), "minItems": 1}
        listed = {"type": "array", "items": self.schema()}
        options = {"type": "object", "additionalProperties": listed, "minProperties": 2}
        return {
            "type": "object",
            "properties": {
                kind.name: _WORD.schema(),
                **{name: {"$ref": f"#/$defs/{name}"} for name in _COMMON.fields},
                **own["properties"],
                **dict.fromkeys(kind.children, steps),
                **({kind.branches: options} if kind.branches else {}),
            },
            "required": [
                kind.name,
                *own["required"],
                *(name for name in kind.children if name not in kind.optional),
                *filter(None, [kind.branches]),
            ],
            "additionalProperties": False,
        }
