"""Every reading as a row of CSV (RFC 4180), for a table: docs/build-sheet.md names the columns."""

import csv
from collections.abc import Iterator

from snugset.sheet.contents import Sheet
from snugset.sheet.drawn import plain
from snugset.sheet.happened import Aside
from snugset.sheet.readings import ReadingRow
from snugset.units import Quantity

COLUMNS = (
    *("build", "stands", "address", "figure", "place", "where", "round"),
    *("value", "value_unit", "uncertainty", "uncertainty_unit"),
    *("low", "low_unit", "high", "high_unit", "verdict", "provisional"),
    *("predicted", "predicted_unit", "flag", "pushrod", "pushrod_unit"),
    *("typed", "instruments", "reason", "doubts", "at", "person"),
)
"""The header row; a column may be added at the end, none goes or changes its meaning."""
FIGURES = frozenset({"value", "uncertainty", "low", "high", "predicted", "pushrod"})
"""Columns of plain decimals, which may be under zero."""
_ACTS = ("=", "+", "-", "@", "\uff1d", "\uff0b", "\uff0d", "\uff20", "'")
"""What makes a spreadsheet take a text for a formula, wide forms too; and the mark against it."""


class _Lines(list[str]):
    """What the writer of the library writes to; the core opens no file."""

    write = list.append


def _inert(text: str) -> str:
    found = plain(text)
    return f"'{found}" if found.startswith(_ACTS) else found


def as_csv(sheet: Sheet) -> str:
    """Write the readings of a sheet: those that stand, then those that do not; lines end in CRLF.

    Figures are decimals, as in JSON, each beside its unit. A text that a spreadsheet would take
    for a formula gets an apostrophe before it; control characters are replaced.
    """
    lines = _Lines()
    writer = csv.DictWriter(lines, COLUMNS, restval="", lineterminator="\r\n")
    writer.writeheader()
    for row in rows(sheet):
        words = {"build": sheet.name, **row}
        writer.writerow({k: v if k in FIGURES else _inert(v) for k, v in words.items()})
    return "".join(lines)


def rows(sheet: Sheet) -> Iterator[dict[str, str]]:
    """Give a row for every reading; a column without a word is left out."""
    for each in (*(row for found in sheet.rounds for row in found.readings), *sheet.readings):
        yield _standing(each)
    for aside in sheet.asides:
        yield _aside(aside)


def _standing(row: ReadingRow) -> dict[str, str]:
    return {
        "stands": "yes",
        "address": row.address,
        "figure": row.figure,
        "place": row.place,
        "where": row.where,
        "round": str(row.round or ""),
        **_pair("value", row.value),
        **_pair("uncertainty", row.uncertainty),
        **_pair("low", row.low),
        **_pair("high", row.high),
        "verdict": row.verdict,
        "provisional": "yes" if row.provisional else "no",
        **_pair("predicted", row.predicted),
        "flag": row.flag,
        **_pair("pushrod", row.pushrod),
        "typed": row.typed,
        "instruments": " ".join(row.instruments),
        "reason": row.reason,
        "doubts": "; ".join(row.doubts),
        "at": row.at,
        "person": row.person,
    }


def _aside(row: Aside) -> dict[str, str]:
    return {
        "stands": row.how,
        "address": row.address,
        "where": row.where,
        **_pair("value", row.value),
        **_pair("uncertainty", row.uncertainty),
        "typed": row.typed,
        "reason": row.why,
        "at": row.at,
        "person": row.person,
    }


def _pair(name: str, value: Quantity | None) -> dict[str, str]:
    if value is None:
        return {}
    return {name: f"{value.value:f}", f"{name}_unit": value.unit}
