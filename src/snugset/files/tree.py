"""The located tree: a YAML file as text, lists and fields, each with its place.

Read from parse events, before any resolver: no scalar is guessed, ``NO``, ``1:30`` and ``0777``
stay what was typed until a shape reads them.
"""

from collections.abc import Callable, Mapping

import yaml

from snugset.files.characters import forbidden, name
from snugset.files.problems import Mark, Problems, quote
from snugset.typed import Any, TypeAlias
from snugset.values import dataclass

__all__ = ["Fields", "Items", "Mark", "Node", "Scalar", "decode", "parse"]

DEEPEST = 24
"""How deep lists and groups of fields may be nested."""
NESTED = f"this is nested more than {DEEPEST} deep; make it flatter"
_LARGEST = 2 * 1024 * 1024
_MOST_NODES = 50_000
"""The largest file that is shipped has 2,000."""
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True, slots=True)
class Scalar:
    """A single text."""

    text: str
    """As it was typed, quotes and their escapes undone."""
    mark: Mark
    plain: bool
    """Whether it was written without quotes, on the line of its mark."""


@dataclass(frozen=True, slots=True)
class Items:
    """A list."""

    items: tuple["Node", ...]
    mark: Mark


@dataclass(frozen=True, slots=True)
class Fields:
    """A mapping from names to nodes, in the order of the file."""

    fields: Mapping[str, tuple[Scalar, "Node"]]
    """By name: the name as a scalar with its place, and what it holds."""
    mark: Mark


Node: TypeAlias = Scalar | Items | Fields


class _StopError(Exception):
    """The rest of the file cannot be read."""


def parse(source: str | bytes, file: str, into: Problems) -> Node | None:
    """Read a file's text into a tree; None once the file as a whole is refused.

    Refused, each with its place: what is not UTF-8, a byte order mark, control characters, anchors,
    aliases, tags, a second document, a name given twice, nesting over 24, over 2 MiB, over 50,000
    entries, and what is no YAML.
    """
    if len(source) > _LARGEST:
        into.add(
            Mark(file, 1, 1), "the file is larger than 2 MiB; split it or take out what is no use"
        )
        return None
    text = decode(source, file, into) if isinstance(source, bytes) else source
    if text is None or not _clean(text, file, into):
        return None
    try:
        return _Builder(text, file, into).document()
    except _StopError:
        return None
    except yaml.YAMLError as error:
        from snugset.files.syntax import explain  # noqa: PLC0415 - for what is no YAML only

        into.add(*explain(error, text, file))
        return None


def decode(source: bytes, file: str, into: Problems) -> str | None:
    """Return the text of a file's bytes; None, with a problem, where they are not UTF-8."""
    try:
        return source.decode("utf-8")
    except UnicodeDecodeError as error:
        before = source[: error.start].decode("utf-8")
        into.add(_place(before, len(before), file), "this is not UTF-8; save the file as UTF-8")
        return None


def _clean(text: str, file: str, into: Problems) -> bool:
    if text.startswith("\ufeff"):
        into.add(
            Mark(file, 1, 1), "the file starts with a byte order mark; save it as UTF-8 without"
        )
        return False
    clean = True
    for found in forbidden(text, in_a_file=True):
        clean = False
        into.add(_place(text, found.start(), file), f"{name(found[0])} stands here; take it out")
        if into.full:
            break
    return clean


def _place(text: str, offset: int, file: str) -> Mark:
    line = text.count("\n", 0, offset) + 1
    return Mark(file, line, offset - text.rfind("\n", 0, offset))


class _Builder:
    """Builds the tree of one document from the parser's events."""

    def __init__(self, text: str, file: str, into: Problems) -> None:
        # Events of both parsers carry fields by their class, which the stubs do not tell apart.
        self._next: Callable[[], Any] = _LOADER(text).get_event
        self._file = file
        self._into = into
        self._count = 0

    def document(self) -> Node | None:
        self._next()
        if type(self._next()) is yaml.StreamEndEvent:
            self._into.add(Mark(self._file, 1, 1), "the file is empty; begin it with “snugset: …”")
            return None
        root = self._node(self._next(), 0)
        self._next()
        event = self._next()
        if type(event) is not yaml.StreamEndEvent:
            start = event.start_mark
            mark = Mark(self._file, start.line + 1, start.column + 1)
            self._into.add(mark, "a second document begins here; keep one to a file")
            return None
        return root

    def _node(self, event: Any, depth: int) -> Node:  # noqa: ANN401 -- as the parser gives it
        start = event.start_mark
        mark = Mark(self._file, start.line + 1, start.column + 1)
        self._count += 1
        if self._count > _MOST_NODES:
            self._into.add(mark, "the file holds more than 50,000 entries; split it")
            raise _StopError
        kind = type(event)
        if kind is yaml.AliasEvent:
            said = f"an alias ({quote('*' + event.anchor)}) is not read; write the value out"
            self._into.refuse(mark, said)
            return Scalar("", mark, plain=True)
        if event.anchor is not None:
            said = f"an anchor ({quote('&' + event.anchor)}) is not read; take it out"
            self._into.add(mark, said)
        if event.tag is not None:
            self._into.add(mark, f"a tag ({quote(event.tag)}) is not read; take it out")
        if kind is yaml.ScalarEvent:
            text = event.value
            if not text.isascii() or not text.isprintable():
                self._check(text, mark)
            return Scalar(text, mark, not event.style)
        if depth >= DEEPEST:
            self._into.add(mark, NESTED)
            raise _StopError
        build = self._items if kind is yaml.SequenceStartEvent else self._fields
        return build(mark, depth + 1)

    def _check(self, text: str, mark: Mark) -> None:
        found = next(forbidden(text), None)
        if found:
            self._into.refuse(mark, f"{name(found[0])} stands in this text; take it out")

    def _items(self, mark: Mark, depth: int) -> Items:
        items = []
        while type(event := self._next()) is not yaml.SequenceEndEvent:
            items.append(self._node(event, depth))
        return Items(tuple(items), mark)

    def _fields(self, mark: Mark, depth: int) -> Fields:
        fields: dict[str, tuple[Scalar, Node]] = {}
        while type(event := self._next()) is not yaml.MappingEndEvent:
            key = self._node(event, depth)
            value = self._node(self._next(), depth)
            if not isinstance(key, Scalar):
                self._into.add(
                    key.mark, "a name belongs here, before the “:”; write it as one text"
                )
            elif key.text in fields:
                line = fields[key.text][0].mark.line
                self._into.add(
                    key.mark, f"{quote(key.text)} is given twice, first in line {line}; keep one"
                )
            else:
                fields[key.text] = key, value
        return Fields(fields, mark)
