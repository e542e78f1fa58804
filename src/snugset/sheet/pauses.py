"""Where the work stood still: waits, interruptions, and what had to be opened again."""

from collections.abc import Mapping

from snugset.guide.events import Record
from snugset.guide.scene import when
from snugset.guide.words import took
from snugset.sheet.entries import View
from snugset.units import Quantity
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait:
    """A hold."""

    address: str
    what: str
    since: str
    until: str
    """When it was over; empty while it still waits."""
    seconds: int
    """How long; for one that still waits, up to the last record."""
    lasted: str
    """The same in words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BreakRow:
    """An interruption."""

    seconds: int
    gap: str
    """How long, in words."""
    before: str
    at: str
    last_person: str
    person: str
    stood: str
    """The address that was open."""
    crank: Quantity | None
    """Where the crank was believed to be; None if it was not known before the break."""
    crank_kept: bool
    """Whether it was said on return that the crank was untouched."""
    voided: tuple[str, ...]
    """Addresses that had to be done again."""
    loose: tuple[str, ...]
    advice: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reopened:
    """Finished work that was opened again."""

    addresses: tuple[str, ...]
    reason: str
    at: str
    person: str


def waits(view: View) -> tuple[Wait, ...]:
    """Give every wait, over or not, in order."""
    begun: dict[str, Record] = {}
    found: list[tuple[int, Wait]] = []
    for record in view.standing:
        if record.kind == "waiting":
            begun[record.body["at"]] = record
        elif record.kind == "voided":
            over = [a for a in record.body["addresses"] if a in begun]
            found += (_wait(view, begun.pop(address), record.at) for address in over)
        elif record.kind in ("done", "skipped") and record.body["at"] in begun:
            found.append(_wait(view, begun.pop(record.body["at"]), record.at))
    found += (_wait(view, record, "") for record in begun.values())
    return tuple(wait for _, wait in sorted(found, key=lambda each: each[0]))


def _wait(view: View, record: Record, until: str) -> tuple[int, Wait]:
    """Give a wait with its place in the order of work, which no clock can change."""
    end = when(until) if until else view.now
    seconds = max(0, int((end - when(record.at)).total_seconds()))
    return record.sequence, Wait(
        address=record.body["at"],
        what=record.body["what"],
        since=record.at,
        until=until,
        seconds=seconds,
        lasted=took(seconds),
    )


def breaks(view: View) -> tuple[BreakRow, ...]:
    """Give every interruption, in order."""
    kept = _crank_kept(view)
    return tuple(
        BreakRow(
            seconds=each.gap,
            gap=took(each.gap),
            before=each.before,
            at=each.at,
            last_person=each.last_person,
            person=each.person,
            stood=each.stood,
            crank=None if each.crank is None else Quantity(each.crank, "deg"),
            crank_kept=kept.get(number, False),
            voided=each.voided,
            loose=each.loose,
            advice=each.advice,
        )
        for number, each in enumerate(view.state.breaks)
    )


def _crank_kept(view: View) -> Mapping[int, bool]:
    """Tell, by the number of the break, whether the crank was said to be untouched."""
    kept: dict[int, bool] = {}
    number = -1
    for record in view.standing:
        if record.kind == "came-back":
            number += 1
        elif record.kind == "returned":
            effects = record.body["effects"]
            kept[number] = any(e["set"] == "crank" and e["value"] is not None for e in effects)
    return kept


def reopened(view: View) -> tuple[Reopened, ...]:
    """Give all work that was opened again, by a break or by the builder, in order."""
    return tuple(
        Reopened(
            addresses=tuple(record.body["addresses"]),
            reason=record.body["reason"],
            at=record.at,
            person=record.person,
        )
        for record in view.standing
        if record.kind == "voided"
    )
