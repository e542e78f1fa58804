"""The order in which a stage goes over its fasteners: a word, or each place once."""

from snugset.files.problems import Problems
from snugset.files.shape import misplaced
from snugset.files.shapes import Choice, ListOf, Schema, Shape, Word
from snugset.files.tree import Items, Node, Scalar
from snugset.values import dataclass

PATTERNS = ("as-map", "reverse", "criss-cross", "spiral")
_WORDS = Choice(*PATTERNS)
_PLACES = ListOf(Word(), least=1)


@dataclass(frozen=True, slots=True)
class OrderShape(Shape[str | tuple[str, ...]]):
    """One of `PATTERNS`, or a list of places."""

    @property
    def wants(self) -> str:
        """In words."""
        return f"{_WORDS.wants}, or a list of the stage's places"

    def read(self, node: Node, into: Problems) -> str | tuple[str, ...] | None:
        """Return the word, or the places in their order."""
        match node:
            case Items():
                return _PLACES.read(node, into)
            case Scalar():
                return _WORDS.read(node, into)
        misplaced(node, self.wants, into)
        return None

    def schema(self) -> Schema:
        """As JSON Schema."""
        return {"anyOf": [_PLACES.schema(), _WORDS.schema()]}
