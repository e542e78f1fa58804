"""A file that is to be used, not only checked: read whole, or not at all."""

from collections.abc import Callable

from snugset.files.problems import Problems
from snugset.files.tree import Node, parse
from snugset.typed import TypeVar

T = TypeVar("T")


def read_whole(
    text: str, file: str, read: Callable[[Node, Problems], T | None], into: Problems
) -> T | None:
    """Return what a file's text says; None once a mistake was found in it.

    What the tree told of and read on after, such as a hidden character, is a mistake too.
    """
    found = into.found
    node = parse(text, file, into)
    value = None if node is None else read(node, into)
    return None if into.found > found else value
