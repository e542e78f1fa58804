"""The names that may stand in braces in a step's words."""

from collections.abc import Collection

from snugset.files.naming import BRACES

FIELDS = frozenset({"place", "key", "cylinder", "length", "hole", "companion", "order"})
COUNTS = frozenset({"wet", "dry", "blind", "through", "all"})
"""Holes of a group: count.wet …"""


def unknown(text: str, figures: Collection[str]) -> list[str]:
    """Give the names in braces that nothing fills, in order."""
    found = BRACES.findall(text)
    return [name for name in found if not _known(name, figures)]


def _known(name: str, figures: Collection[str]) -> bool:
    if name.startswith("figure."):
        return name.removeprefix("figure.") in figures
    if name.startswith("count."):
        return name.removeprefix("count.") in COUNTS
    return name in FIELDS
