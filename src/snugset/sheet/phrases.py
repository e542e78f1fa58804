"""Small phrases that every part of the sheet in Markdown is put together from."""

import re
from collections.abc import Iterable
from decimal import Decimal

from snugset.guide.scene import when
from snugset.sheet.entries import Entry
from snugset.sheet.inert import inert
from snugset.sheet.readings import ReadingRow
from snugset.units import Quantity, signed

_PLAIN = re.compile(r"[A-Za-z0-9@#./-]+")
TURN = Decimal(360)


def clock(moment: str) -> str:
    """Write a record's time for reading, in UTC: ``2026-03-07 08:41``."""
    return when(moment).strftime("%Y-%m-%d %H:%M") if moment else ""


def spread(first: str, last: str) -> str:
    """Write from when to when; one time if they are the same minute, the day once."""
    begin, end = clock(first), clock(last)
    if begin == end:
        return begin
    day, _, hour = end.partition(" ")
    return f"{begin} to {hour if begin.startswith(day) else end}"


def code(word: str) -> str:
    """Set a step's id, an address or a digest as code; what could leave it, as inert text."""
    return f"`{word}`" if _PLAIN.fullmatch(word) else inert(word)


def at(address: str, where: str = "") -> str:
    """Name a place: its address, and in words."""
    return f"{code(address)}{f' ({inert(where)})' if where else ''}"


def crank(angle: Decimal) -> str:
    """Say where the crank stands from number one's mark: ``58°``, ``178° of the second turn``."""
    second = " of the second turn" if angle >= TURN else ""
    return f"{(angle % TURN).normalize():f}°{second}"


def listed(texts: Iterable[str]) -> str:
    """Join texts as ``a, b and c``."""
    *most, last = list(texts) or [""]
    return f"{', '.join(most)} and {last}" if most else last


def limits(low: Quantity | None, high: Quantity | None) -> str:
    """Write limits in few columns: ``0.020 to 0.060 in``, ``at most 0.005 in``."""
    if low is not None and high is not None:
        return f"{signed(low.value)} to {high}" if low.unit == high.unit else f"{low} to {high}"
    if low is not None:
        return f"at least {low}"
    return "" if high is None else f"at most {high}"


def measured(row: ReadingRow) -> str:
    """Write a reading with its doubt, as it was read: ``38.5 ± 3.3 thou``."""
    text = row.shown.partition(" = ")[0]
    if row.uncertainty is None:
        return text
    same = row.uncertainty.unit == row.value.unit
    return f"{text.partition(' ')[0] if same else text} ± {row.uncertainty}"


def verdict(row: ReadingRow) -> str:
    """Write a verdict in words, and whether it is provisional."""
    return f"{row.verdict_words}{', provisional' if row.provisional else ''}"


def done(entry: Entry | None) -> str:
    """Write when a leaf was closed, or that it was skipped."""
    if entry is None:
        return ""
    return "skipped" if entry.outcome == "skipped" else clock(entry.at)


def rule_words(words: str) -> str:
    """Give what a rule said without what it told the builder to type next."""
    told = re.split(r"(?<=[.;])\s+", words)
    kept = [part for part in told if "! " not in part and "person NAME" not in part]
    return " ".join(kept).rstrip(".;") or words
