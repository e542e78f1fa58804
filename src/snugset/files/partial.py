"""What is left of a file once its wrong parts are taken out, so that the rest is checked too.

A step or figure with a mistake in it is taken out whole; the steps inside such a step stay, in its
place. What was taken out is remembered by its words: a reference to one of them is no mistake.
"""

import re
from collections.abc import Callable, Collection, Iterator, Mapping

from snugset.files.problems import Mark, Problem, Problems
from snugset.files.tree import Fields, Items, Node, Scalar
from snugset.typed import TypeVar
from snugset.values import dataclass, field

T = TypeVar("T")
_WORD = re.compile(r"[A-Za-z0-9][A-Za-z0-9.-]*")
_TURNS = 12
"""How often a file is looked at again; each time something is taken out."""
HOLDERS = frozenset({"steps", "judge", "again", "after-first", "options"})
"""The fields of steps that hold steps."""
STAND_INS: Mapping[str, Mapping[str, str | tuple[str, ...]]] = {
    "engine": {
        "name": "an engine",
        "layout": "inline",
        "cylinders": "1",
        "firing-order": ("1",),
        "running": "clockwise",
        "rockers": "bridged",
        "lifters": "hydraulic",
        "ratio": "1.5",
    },
    "procedure": {"name": "a procedure"},
    "steps": {"name": "some steps"},
}
"""By sort of file: what is read for a needed field that is missing or wrong. Nothing that hangs on
such a field is told."""


@dataclass(slots=True)
class Left:
    """What was taken out of a file."""

    words: set[str] = field(default_factory=set)
    holders: bool = False
    """Whether a step that holds others was taken out: where those stand is not known."""

    def out(self, *nodes: Node) -> None:
        """Remember the words of what is taken out."""
        for node in nodes:
            for text in _texts(node):
                self.words.update(w.removeprefix("figure.") for w in _WORD.findall(text))

    def with_(self, other: "Left") -> "Left":
        """Give both together."""
        return Left(words=self.words | other.words, holders=self.holders or other.holders)

    def hides(self, problem: Problem) -> bool:
        """Tell whether a mistake may only come of what was taken out."""
        about = problem.about
        return about is None or bool(self.words & set(about)) or (self.holders and not about)


def second_look(  # noqa: PLR0917 -- a file, how it is read, and what is known of it
    node: Node,
    sort: str,
    marks: Collection[Mark],
    read: Callable[[Node, Problems], T | None],
    into: Problems,
    before: Left,
) -> tuple[T | None, Left]:
    """Read a file again without what stands at some marks, and tell the mistakes this shows.

    `read` gives None where there is still a mistake; those that hang on a name, and on none that
    was taken out of this file or `before` out of others, are added to `into`.
    """
    left = Left().with_(before)
    rest: Node | None = node
    wrong = set(marks)
    for _ in range(_TURNS):
        rest = _Pruner(sort, wrong, left).file(rest)
        if rest is None:
            break
        trial = Problems()
        found = read(rest, trial)
        tell(trial, left, into)
        if found is not None:
            return found, left
        wrong = {problem.mark for problem in trial.items}
    return None, left


def tell(trial: Problems, left: Left, into: Problems, *, whole: bool = False) -> None:
    """Add those mistakes that do not come of what was taken out.

    Of a `whole` file mistakes of the place itself are told too.
    """
    for problem in trial.items:
        if not left.hides(problem) or (whole and problem.about is None):
            into.add(problem.mark, problem.text)


def _texts(node: Node) -> Iterator[str]:
    match node:
        case Scalar():
            yield node.text
        case Items():
            for item in node.items:
                yield from _texts(item)
        case Fields():
            for key, value in node.fields.values():
                yield key.text
                yield from _texts(value)


def _reached(node: Node, wrong: Collection[Mark], into: set[int]) -> bool:
    """Tell whether something in a node stands at one of the marks; add whatever reaches down to it.

    A node is known by its identity: the file is held while this is asked.
    """
    hit = node.mark in wrong
    match node:
        case Items():
            for item in node.items:
                hit = _reached(item, wrong, into) or hit
        case Fields():
            for key, value in node.fields.values():
                hit = _reached(value, wrong, into) or key.mark in wrong or hit
    if hit:
        into.add(id(node))
    return hit


@dataclass(frozen=True, slots=True)
class _Pruner:
    """Takes out what stands at some marks."""

    sort: str
    wrong: Collection[Mark]
    left: Left
    hits: set[int] = field(default_factory=set)
    """The nodes in which one of the marks stands."""

    def file(self, node: Node | None) -> Node | None:
        if not isinstance(node, Fields):
            return None
        _reached(node, self.wrong, self.hits)
        needed = STAND_INS.get(self.sort, {})
        kept: dict[str, tuple[Scalar, Node]] = {}
        for name, (key, value) in node.fields.items():
            pruned = self._field(name, value)
            if key.mark in self.wrong or pruned is None:
                self.left.out(key, value)
            else:
                kept[name] = key, pruned
        for name in [name for name in needed if name not in kept]:
            kept[name] = _stand_in(name, needed[name], node.mark)
            self.left.words.add(name)
        if self.wrong and kept == dict(node.fields):
            return None
        return Fields(kept, node.mark)

    def _field(self, name: str, value: Node) -> Node | None:
        """Give what is left of a field of the file; None for nothing."""
        if name in ("figures", "fasteners", "groups") and isinstance(value, Fields):
            return self._each(value, steps=name == "groups")
        if name == "phases" and isinstance(value, Items):
            return Items(tuple(filter(None, map(self._phase, value.items))), value.mark)
        return None if self._hit(value) else value

    def _hit(self, node: Node) -> bool:
        return id(node) in self.hits

    def _each(self, node: Fields, *, steps: bool) -> Fields:
        kept: dict[str, tuple[Scalar, Node]] = {}
        for name, (key, value) in node.fields.items():
            if steps and isinstance(value, Items) and key.mark not in self.wrong:
                kept[name] = key, Items(tuple(self._steps(value)), value.mark)
            elif key.mark in self.wrong or self._hit(value):
                self.left.out(key, value)
            else:
                kept[name] = key, value
        return Fields(kept, node.mark)

    def _phase(self, node: Node) -> Node | None:
        if not isinstance(node, Fields):
            return None if self._hit(node) else node
        kept: dict[str, tuple[Scalar, Node]] = {}
        for name, (key, value) in node.fields.items():
            if name == "steps" and isinstance(value, Items):
                steps = tuple(self._steps(value))
                if not steps:
                    self.left.out(node)
                    return None
                kept[name] = key, Items(steps, value.mark)
            elif key.mark in self.wrong or self._hit(value):
                self.left.out(key, value)
            else:
                kept[name] = key, value
        if "steps" not in kept:
            return None
        kept.setdefault("title", _stand_in("title", "a phase", node.mark))
        return Fields(kept, node.mark)

    def _steps(self, node: Items) -> Iterator[Node]:
        for found in node.items:
            if not self._hit(found):
                yield found
                continue
            if not isinstance(found, Fields):
                continue
            item = self._fewer_needs(found)
            own, inner = self._own(item)
            if item.mark in self.wrong or any(_reached(part, self.wrong, set()) for part in own):
                self.left.out(*own)
                self.left.holders = self.left.holders or bool(inner)
                for _, held in inner:
                    yield from self._steps(held)
            else:
                yield self._kept(item)

    def _fewer_needs(self, item: Fields) -> Fields:
        """Take out needs that are wrong, and nothing else of the step."""
        if "needs" not in item.fields:
            return item
        key, value = item.fields["needs"]
        many = value.items if isinstance(value, Items) else (value,)
        wrong = [each for each in many if isinstance(each, Scalar) and each.mark in self.wrong]
        if not wrong or (isinstance(value, Items) and value.mark in self.wrong):
            return item
        left = tuple(each for each in many if each not in wrong)
        fields = {name: pair for name, pair in item.fields.items() if name != "needs"}
        if left:
            fields["needs"] = key, Items(left, value.mark)
        return Fields(fields, item.mark)

    def _own(self, item: Fields) -> tuple[list[Node], list[tuple[str, Items]]]:
        """Part a step's own fields from the lists of steps that it holds."""
        own: list[Node] = []
        inner: list[tuple[str, Items]] = []
        for name, (key, value) in item.fields.items():
            own.append(key)
            if name in HOLDERS and isinstance(value, Items):
                inner.append((name, value))
                own.append(Scalar("", value.mark, plain=True))
            elif name in HOLDERS and isinstance(value, Fields):
                own.append(Scalar("", value.mark, plain=True))
                for word, (spelled, held) in value.fields.items():
                    own.append(spelled)
                    if isinstance(held, Items):
                        inner.append((word, held))
            else:
                own.append(value)
        return own, inner

    def _kept(self, item: Fields) -> Fields:
        kept: dict[str, tuple[Scalar, Node]] = {}
        for name, (key, value) in item.fields.items():
            if name in HOLDERS and isinstance(value, Items):
                kept[name] = key, Items(tuple(self._steps(value)), value.mark)
            elif name in HOLDERS and isinstance(value, Fields):
                kept[name] = (
                    key,
                    Fields(
                        {
                            word: (
                                spelled,
                                Items(tuple(self._steps(held)), held.mark)
                                if isinstance(held, Items)
                                else held,
                            )
                            for word, (spelled, held) in value.fields.items()
                        },
                        value.mark,
                    ),
                )
            else:
                kept[name] = key, value
        return Fields(kept, item.mark)


def _stand_in(name: str, value: str | tuple[str, ...], mark: Mark) -> tuple[Scalar, Node]:
    key = Scalar(name, mark, plain=True)
    if isinstance(value, str):
        return key, Scalar(value, mark, plain=True)
    return key, Items(tuple(Scalar(each, mark, plain=True) for each in value), mark)
