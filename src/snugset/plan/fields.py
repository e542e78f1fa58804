"""The names that may stand in braces in a step's words."""

import re

FIELDS = frozenset({"place", "key", "cylinder", "length", "hole", "companion", "order"})
COUNTS = frozenset({"wet", "dry", "blind", "through", "all"})
"""Holes of a group: count.wet …"""
BRACES = re.compile(r"\{([^{}]*)\}")


def unknown(text: str, figures: frozenset[str]) -> list[str]:
    """Give the names in braces that nothing fills, in order."""
    found = BRACES.findall(text)
    return [name for name in found if not _known(name, figures)]


def figures_in(text: str) -> list[str]:
    """Give the names of the figures that a text shows."""
    return [n.removeprefix("figure.") for n in BRACES.findall(text) if n.startswith("figure.")]


def _known(name: str, figures: frozenset[str]) -> bool:
    if name.startswith("figure."):
        return name.removeprefix("figure.") in figures
    if name.startswith("count."):
        return name.removeprefix("count.") in COUNTS
    return name in FIELDS
