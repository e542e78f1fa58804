"""The order list as plain text, to be pasted into a message."""

import json
import textwrap
from collections.abc import Iterator, Mapping

from snugset.sheet.as_json import plain
from snugset.sheet.inert import flat
from snugset.sheet.order import Line, OrderList, PushrodOrder, Renewal
from snugset.sheet.phrases import clock
from snugset.units import Quantity

WIDTH = 72
VERSION = "order-list/1"
_ASCII: Mapping[str, str] = {
    "×": "x", "·": "-", "±": "+/-", "°": " deg", "–": "-", "—": "-", "−": "-", "…": "...",
    "“": '"', "”": '"', "‘": "'", "’": "'", "²": "2", "³": "3", "½": "1/2", "¼": "1/4",
    "¾": "3/4", "\u00a0": " ",
}  # fmt: skip
"""Signs that a message may not carry over; letters of any language stay."""
_STATUS = {
    "to-order": "To be ordered, decided",
    "waited-for": "Ordered and waited for since",
    "arrived": "Arrived",
    "fitted": "All fitted by",
}


def order_text(found: OrderList) -> str:
    """Write an order list in lines of 72 columns at most, a new line at the end."""
    lines = [f"Order list: {found.build}", f"Engine: {found.engine}"]
    lines.append(f"As of {clock(found.as_of)} UTC")
    if found.pushrods is not None:
        lines += ["", *_pushrods(found.pushrods)]
    for each in found.renewals:
        lines += ["", *_renewal(each)]
    for sentence in found.none:
        lines += ["", sentence]
    if found.pushrods is None and not found.renewals:
        lines += ["", "Nothing is to be ordered."]
    return "\n".join(folded for line in lines for folded in _fold(line)) + "\n"


def order_json(found: OrderList) -> str:
    """Write an order list as one JSON object, a new line at the end."""
    whole = {"snugset": VERSION, **plain(found)}
    return json.dumps(whole, ensure_ascii=False, allow_nan=False, indent=2) + "\n"


def _pushrods(found: PushrodOrder) -> Iterator[str]:
    by = f" by {found.person}" if found.status == "to-order" else ""
    yield f"PUSHRODS. {_STATUS[found.status]} {clock(found.since)} UTC{by}"
    for line in found.lines:
        yield from _line(line)
    how = found.convention or "not said; ask before you order"
    yield f"Length convention: {how}"
    yield "Order by the difference: lengths measured another way are not these."
    source = f" ({found.source})" if found.source else ""
    yield f"Pushrods in hand: as measured{source}"
    tolerance = "none given" if found.tolerance is None else f"{found.tolerance} either way"
    yield f"Tolerance: {tolerance}"
    if found.catalogue:
        yield f"To be had: {found.catalogue}"
    window = f", wanted {_span(found.window)}" if found.window else ""
    yield f"Why: {found.figure}, round {found.round}{window}"
    proved = "proved at every place" if found.proved else "NOT proved at every place"
    yield f"Predicted with them: {proved}"
    if not by:
        yield f"Decided {clock(found.at)} UTC by {found.person}"


def _line(line: Line) -> Iterator[str]:
    yield f"  {line.count} x {line.shown}"
    if line.measured is not None and line.change is not None:
        amount = Quantity(abs(line.change.value), line.change.unit)
        way = "longer" if line.change.value > 0 else "shorter"
        yield f"      {amount} {way} than the measured one of {line.measured}"
    else:
        yield "      in place of one whose length is not known"
    yield f"      for {', '.join(line.places)}"
    if line.read is not None:
        then = f", then {_span(line.predicted)}" if line.predicted is not None else ""
        yield f"      read {_span(line.read)}{then}"


def _span(span: tuple[Quantity, Quantity]) -> str:
    low, high = span
    if low == high:
        return str(low)
    return f"{low.value:f} to {high}" if low.unit == high.unit else f"{low} to {high}"


def _renewal(each: Renewal) -> Iterator[str]:
    count = f"{each.count} x " if each.count else ""
    yield f"RENEW: {count}{each.what}"
    yield from (f"  {text}" for text in each.detail)
    yield f"  Why: {each.why} ({each.address})"


def _fold(line: str) -> list[str]:
    """Fold a line below its own beginning; what cannot be seen is marked, signs made plain."""
    body = line.lstrip(" ")
    indent = " " * (len(line) - len(body))
    shown = "".join(_ASCII.get(letter, letter) for letter in flat(body))
    return textwrap.wrap(
        shown,
        WIDTH,
        initial_indent=indent,
        subsequent_indent=f"{indent}  ",
        break_on_hyphens=False,
    ) or [""]
