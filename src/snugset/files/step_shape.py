"""Reads a step: the key that says its kind, the fields of every step, those of its kind."""

from collections.abc import Collection, Mapping

from snugset.files.problems import Mark, Problems, an, one_of, quote
from snugset.files.shape import misplaced
from snugset.files.shapes import ListOf, Schema, Shape, Text
from snugset.files.step_fields import COMMON, USE, USED, WORD
from snugset.files.steps import KindBlock, Step
from snugset.files.tree import Fields, Items, Node, Scalar

_OPTION = Text(120)


class StepShape(Shape[Step]):
    """A step of one of the kinds; remembers ids and needs of all it reads, for one file.

    `before` holds what other shapes of these kinds read of the same tree, by the identity of the
    node, and takes what this one reads: a file that is looked at again has thousands of steps with
    nothing wrong in them.
    """

    __slots__ = ("_before", "_beside", "_ids", "_kinds", "_needs", "_whole")

    def __init__(
        self, kinds: Mapping[str, KindBlock], before: dict[int, Step] | None = None
    ) -> None:
        for kind in kinds.values():
            taken = {kind.name, *COMMON.fields, *kind.children, kind.branches} & set(
                kind.block.fields
            )
            if taken:
                raise ValueError(f"kind {kind.name} has fields that every step has: {taken}")
            if USE in (kind.name, *kind.block.fields, *kind.children):
                raise ValueError(f"kind {kind.name} uses the word of shared groups")
        self._kinds = kinds
        self._before = {} if before is None else before
        self._beside = {
            kind.name: frozenset(
                (*COMMON.fields, kind.name, *kind.children, *filter(None, [kind.branches]))
            )
            for kind in kinds.values()
        }
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
        if id(node) in self._before:
            return self._again(self._before[id(node)], node, into)
        if USE in node.fields:
            return self._use(node, into)
        kind = self._kind(node, into)
        if kind is None:
            self._whole = False
            self._rest(node, into)
            return None
        found = into.found
        identity = self._identity(node.fields[kind.name][1], into)
        common = COMMON.read(node, into, beside=node.fields)
        block = kind.block.read(node, into, beside=self._beside[kind.name])
        children = {name: self._children(kind, name, node, into) for name in kind.children}
        if kind.branches:
            children |= self._branches(kind, node, into)
        if common is not None:
            self._needs.extend(common["needs"])
        if into.found > found or common is None or identity is None:
            return None
        needs, conditions = common.pop("needs"), common.pop("if")
        step = Step(
            kind=kind.name,
            id=identity,
            mark=node.mark,
            block=block,
            children=children,
            needs=tuple(word for word, _ in needs),
            need_marks=tuple(mark for _, mark in needs),
            conditions=conditions,
            source=node,
            **common,
        )
        if not children:
            self._before[id(node)] = step
        return step

    def _again(self, step: Step, node: Fields, into: Problems) -> Step | None:
        """Take a step that was read before and holds no others; its id may be taken by now."""
        found = into.found
        self._identity(node.fields[step.kind][1], into)
        self._needs.extend(zip(step.needs, step.need_marks, strict=True))
        return None if into.found > found else step

    def _use(self, node: Fields, into: Problems) -> Step | None:
        """Read an entry that stands for a shared group; it is put in its place later."""
        fields = USED.read(node, into)
        if fields is None:
            self._whole = False
            return None
        return Step(kind=USE, id=fields[USE], mark=node.mark, conditions=fields["if"])

    def _rest(self, node: Fields, into: Problems) -> None:
        """Read what can be read of a step without a kind, for its mistakes."""
        COMMON.read(node, into, beside=node.fields)
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
        known = dict.fromkeys((*self._ids, *others))
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
        if len(named) == 1:
            return self._kinds[named[0]]
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
            near = "" if name in COMMON.fields else into.near(name, self._kinds)
            if near:
                into.add(key.mark, f"{quote(name)} is no kind of step{near}")
                return None
        kinds = one_of(self._kinds)
        into.add(node.mark, f"this step has no kind; give it an id after {kinds}")
        return None

    def _identity(self, node: Node, into: Problems) -> str | None:
        identity = WORD.read(node, into)
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
        return {**COMMON.schema()["properties"], "step": {"oneOf": [*kinds, USED.schema()]}}

    def _kind_schema(self, kind: KindBlock) -> Schema:
        own = kind.block.schema()
        steps = {"type": "array", "items": self.schema(), "minItems": 1}
        listed = {"type": "array", "items": self.schema()}
        options = {"type": "object", "additionalProperties": listed, "minProperties": 2}
        return {
            "type": "object",
            "properties": {
                kind.name: WORD.schema(),
                **{name: {"$ref": f"#/$defs/{name}"} for name in COMMON.fields},
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
