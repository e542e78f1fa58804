"""The first field of every file: which sort it is, and the version of its form."""

from snugset.files.problems import Mark, Problems, one_of, quote
from snugset.files.shape import ScalarShape, Schema, misplaced
from snugset.files.tree import Fields, Node, Scalar
from snugset.values import dataclass

FORMS = {
    "engine": "engine/1",
    "procedure": "procedure/1",
    "steps": "steps/1",
    "specs": "specs/1",
    "answers": "answers/1",
}
"""By sort of file, what ``snugset:`` says in it."""


@dataclass(frozen=True, slots=True)
class Version(ScalarShape[str]):
    """The word after ``snugset:``."""

    sort: str

    @property
    def wants(self) -> str:
        """In words."""
        return FORMS[self.sort]

    def read_text(self, text: str, mark: Mark, into: Problems) -> str | None:
        """Return the word."""
        if text == self.wants:
            return text
        into.add(mark, f"this file says it is {quote(text)}; {self.wants} is read here")
        return None

    def schema(self) -> Schema:
        """As JSON Schema."""
        return {"const": self.wants}


def sort_of(node: Node, into: Problems) -> str | None:
    """Return the sort of a file, a key of `FORMS`; None once a problem was added."""
    if not isinstance(node, Fields):
        misplaced(node, f"a file that begins with “snugset: {one_of(FORMS.values())}”", into)
        return None
    if "snugset" not in node.fields:
        into.add(node.mark, f"“snugset” is missing here; it says {one_of(FORMS.values())}")
        return None
    value = node.fields["snugset"][1]
    if isinstance(value, Scalar):
        for sort, form in FORMS.items():
            if value.text == form:
                return sort
        near = into.near(value.text, FORMS.values())
        into.add(value.mark, f"{quote(value.text)} is not {one_of(FORMS.values())}{near}")
        return None
    misplaced(value, one_of(FORMS.values()), into)
    return None
