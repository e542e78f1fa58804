"""What a node of a file may be: the base of every typed reader."""

from abc import ABC, abstractmethod

from snugset.files.problems import Mark, Problems, quote
from snugset.files.tree import Fields, Items, Node, Scalar
from snugset.typed import Any, Generic, TypeVar

T_co = TypeVar("T_co", covariant=True)
Schema = dict[str, Any]
"""A JSON Schema (draft 2020-12)."""


class Misfit(ValueError):  # noqa: N818 -- a misfit is what a file has, not a fault of the program
    """Fields that do not fit each other; raised by what a block makes, told at its place."""

    def __init__(self, text: str, field: str = "") -> None:
        super().__init__(text)
        self.text = text
        self.field = field
        """The field at fault, as the file spells it; empty for the block as a whole."""


class Shape(ABC, Generic[T_co]):
    """What a node of a file may be: reads it to a value, or tells what is wrong with it."""

    __slots__ = ()

    @abstractmethod
    def read(self, node: Node, into: Problems) -> T_co | None:
        """Return the value; None once a problem was added."""

    @abstractmethod
    def schema(self) -> Schema:
        """Return the JSON Schema of what `read` accepts."""

    @property
    @abstractmethod
    def wants(self) -> str:
        """What belongs here, in words: ``a whole number``."""


def misplaced(node: Node, wants: str, into: Problems) -> None:
    """Tell that a node of another sort stands where something else belongs."""
    match node:
        case Items():
            into.add(node.mark, f"a list stands where {wants} belongs")
        case Fields():
            names = ", ".join(list(node.fields)[:3])
            into.add(node.mark, f"a group of fields ({names}) stands where {wants} belongs")
        case Scalar(text=""):
            into.add(node.mark, f"nothing stands here; {wants} belongs here")
        case Scalar():
            into.add(node.mark, f"{quote(node.text)} stands where {wants} belongs")


class ScalarShape(Shape[T_co]):
    """A shape of one text."""

    __slots__ = ()

    def read(self, node: Node, into: Problems) -> T_co | None:
        """Return the value of a text that is not empty."""
        if not isinstance(node, Scalar) or not node.text.strip():
            misplaced(node, self.wants, into)
            return None
        return self.read_text(node.text, node.mark, into)

    @abstractmethod
    def read_text(self, text: str, mark: Mark, into: Problems) -> T_co | None:
        """Return the value of the text; None once a problem was added."""
