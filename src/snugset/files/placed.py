"""Where the words of a step's own fields stand in its file."""

import re
from collections.abc import Mapping

from snugset.files.problems import Mark
from snugset.files.tree import Fields, Items, Scalar

BRACES = re.compile(r"\{([^{}]*)\}")


def word_marks(node: Fields, kind: str) -> Mapping[str, Mark]:
    """Find the place of each word that a field holds, and of ``{word}`` where it is in braces.

    The id, in the field called `kind`, counts only for a word that stands in no other.
    """
    found: dict[str, Mark] = {}
    for name in sorted(node.fields, key=lambda name: name == kind):
        value = node.fields[name][1]
        for item in value.items if isinstance(value, Items) else (value,):
            if isinstance(item, Scalar):
                found.setdefault(item.text, item.mark)
                for braced in BRACES.findall(item.text):
                    found.setdefault(f"{{{braced}}}", item.mark)
        if name == "order":
            found[name] = value.mark
    return found
