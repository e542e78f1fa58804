"""What happened, as it is kept for ever."""

from collections.abc import Mapping

from snugset.typed import Any
from snugset.values import dataclass

Body = Mapping[str, Any]
"""Plain JSON values only: text, whole numbers, true and false, null, lists, objects.

No binary fractions: a figure is kept as the decimal text that it was, beside its unit.
"""


@dataclass(frozen=True, slots=True)
class Event:
    """Something that `decide` found to have happened; it carries outcomes, never rules."""

    kind: str
    body: Body


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """An event in its place in the journal."""

    sequence: int
    """1, 2, 3 … without a gap; order is by sequence, never by the clock."""
    answer: int
    """All events of one answer share its number, from 1; 0 for what no answer made."""
    at: str
    """When, RFC 3339 in UTC, ``2026-11-02T18:04:00Z``."""
    person: str
    """Who answered."""
    kind: str
    body: Body
