"""Sizes that no engine has: a point or a unit is wrong."""

from snugset.files.engine import Engine
from snugset.files.problems import Mark, Problems
from snugset.files.tree import Fields, Node
from snugset.units import Quantity

_MOST = {"damper": 80, "stroke": 80, "connecting-rod": 200}
"""Inches; several times what the largest engines worked on by hand have. Common sense."""
_ALONG = 1000
_LONG = 80


def check_sizes(engine: Engine, node: Node, into: Problems) -> None:
    """Add each length of an engine that is larger than any engine's."""
    fields = node.fields if isinstance(node, Fields) else {}
    for name, most in _MOST.items():
        size: Quantity | None = getattr(engine, name.replace("-", "_"))
        if size is not None and name in fields:
            _check(size, most, f"a {name} of", fields[name][1].mark, into)
    for group in engine.fasteners.values():
        for key, place in group.places.items():
            _check(place.x, _ALONG, f"place {key}: x", place.mark, into)
            _check(place.y, _ALONG, f"place {key}: y", place.mark, into)
            if place.length is not None:
                _check(place.length, _LONG, f"place {key}: a length of", place.mark, into)


def _check(size: Quantity, most: int, what: str, mark: Mark, into: Problems) -> None:
    if abs(size.in_("in")) > most:
        into.add(
            mark,
            f"{what} {size} is more than any engine has ({most} in); mend its point or its unit",
        )
