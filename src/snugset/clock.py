"""The moment now, and how it is written."""

from collections.abc import Callable
from datetime import UTC, datetime

Clock = Callable[[], datetime]
"""Gives the moment now, with its zone; injected, so that the same answers give the same bytes."""


def now() -> datetime:
    """Give the moment by this machine's clock."""
    return datetime.now(UTC)


def utc(moment: datetime) -> str:
    """Write a moment as records keep it: RFC 3339, UTC, whole seconds."""
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
