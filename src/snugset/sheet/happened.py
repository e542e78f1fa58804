"""What did not go straight: set aside, gone against, skipped, remarked, taken back."""

from collections.abc import Iterator, Mapping

from snugset.guide.events import Record
from snugset.sheet.entries import View
from snugset.sheet.phrases import rule_words
from snugset.typed import Any, Literal
from snugset.units import Quantity
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Aside:
    """A reading that was taken and does not stand."""

    address: str
    where: str
    how: Literal["set-aside", "replaced", "voided"]
    """Never stood; read again later; its step was opened again."""
    code: str
    """The rule that it was set aside by; empty otherwise."""
    value: Quantity
    uncertainty: Quantity | None
    typed: str
    """As it was typed; empty for one that was set aside: its record keeps the value only."""
    why: str
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Overridden:
    """Going on against a rule."""

    address: str
    where: str
    code: str
    rule: str
    """The rule, in words."""
    reason: str
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """A step passed over, with why; or a note, where it was made."""

    address: str
    where: str
    phase: str
    text: str
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Closing:
    """One time that a leaf was closed."""

    value: str
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeated:
    """A leaf that was closed more than once: number one proven again, a stage begun anew."""

    address: str
    where: str
    times: tuple[Closing, ...]
    """Every time, the oldest first; the last one stands, unless it was opened again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenBack:
    """An answer that was undone: the record was corrected, not the engine."""

    answer: int
    address: str
    was: tuple[str, ...]
    """What it had put on record."""
    answered_at: str
    answered_by: str
    at: str
    person: str


def asides(view: View) -> tuple[Aside, ...]:
    """Give every reading that does not stand, in the order in which they were taken."""
    lost: list[tuple[int, Aside]] = []
    standing: dict[str, Record] = {}
    for record in view.standing:
        body = record.body
        if record.kind == "set-aside":
            lost.append((record.sequence, _aside(view, record, "set-aside", body["words"])))
        elif record.kind == "reading":
            before = standing.get(body["at"])
            if before is not None:
                lost.append((before.sequence, _aside(view, before, "replaced", "read again")))
            standing[body["at"]] = record
        elif record.kind == "voided":
            for address in body["addresses"]:
                gone = standing.pop(address, None)
                if gone is not None:
                    lost.append((gone.sequence, _aside(view, gone, "voided", body["reason"])))
    return tuple(aside for _, aside in sorted(lost, key=lambda pair: pair[0]))


def _aside(
    view: View, record: Record, how: Literal["set-aside", "replaced", "voided"], why: str
) -> Aside:
    body = record.body
    doubt = body.get("uncertainty")
    return Aside(
        address=body["at"],
        where=_where(view, body["at"]),
        how=how,
        code=body.get("code", ""),
        value=Quantity.from_json(body["value"]),
        uncertainty=None if doubt is None else Quantity.from_json(doubt),
        typed=body.get("typed", ""),
        why=why,
        at=record.at,
        person=record.person,
    )


def overrides(view: View) -> tuple[Overridden, ...]:
    """Give every override, in order."""
    return tuple(
        Overridden(
            address=str(each.address),
            where=view.where(each.address.step, each.address.place),
            code=each.code,
            rule=rule_words(each.words),
            reason=each.reason,
            at=each.at,
            person=each.person,
        )
        for each in view.state.overrides
    )


def skips(view: View) -> tuple[Remark, ...]:
    """Give every step that was passed over and still is, in order."""
    return tuple(
        _remark(view, entry.address, entry.value, entry.at, entry.person)
        for entry in view.entries
        if entry.outcome == "skipped"
    )


def notes(view: View) -> tuple[Remark, ...]:
    """Give every note, in order."""
    return tuple(
        _remark(view, str(note.address), note.text, note.at, note.person)
        for note in view.state.notes
    )


def _remark(view: View, address: str, text: str, at: str, person: str) -> Remark:
    return Remark(
        address=address,
        where=_where(view, address),
        phase=view.phase(address),
        text=text,
        at=at,
        person=person,
    )


def _where(view: View, address: str) -> str:
    step, _, place = address.partition("#")[0].partition("@")
    return view.where(step, place)


def repeated(view: View) -> tuple[Repeated, ...]:
    """Give every leaf that was closed more than once, in order; readings are among the asides."""
    times: dict[str, list[Closing]] = {}
    for record in view.standing:
        body = record.body
        if record.kind in ("done", "skipped", "judged"):
            value = body.get("value") or body.get("reason") or body.get("outcome") or ""
            closing = Closing(value=value, at=record.at, person=record.person)
            times.setdefault(body["at"], []).append(closing)
    return tuple(
        Repeated(address=address, where=_where(view, address), times=tuple(closings))
        for address, closings in times.items()
        if len(closings) > 1
    )


def taken_back(view: View) -> tuple[TakenBack, ...]:
    """Give every answer that was undone, in the order in which they were."""
    by_answer: dict[int, list[Record]] = {}
    for record in view.records:
        by_answer.setdefault(record.answer, []).append(record)
    return tuple(
        TakenBack(
            answer=undo.body["answer"],
            address=undo.body["at"],
            was=tuple(_was(by_answer[undo.body["answer"]])),
            answered_at=by_answer[undo.body["answer"]][0].at,
            answered_by=by_answer[undo.body["answer"]][0].person,
            at=undo.at,
            person=undo.person,
        )
        for undo in view.records
        if undo.kind == "undone"
    )


def _was(records: list[Record]) -> Iterator[str]:
    for record in records:
        yield f"{record.kind} {_said(record.body)}".strip()


def _said(body: Mapping[str, Any]) -> str:
    """Give what an event of an answer says, in a few words."""
    if body.get("typed"):
        return str(body["typed"])
    for key in ("reason", "text", "what", "outcome", "words", "method"):
        if body.get(key):
            return str(body[key])
    value = body.get("value")
    return str(Quantity.from_json(value)) if isinstance(value, Mapping) else str(value or "")
