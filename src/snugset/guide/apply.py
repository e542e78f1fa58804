"""Folding records into state. Rules ran in `decide`; here outcomes are only copied."""

from collections.abc import Iterable

from snugset.guide.draft import Draft
from snugset.guide.events import Record
from snugset.guide.handlers import HANDLERS
from snugset.guide.state import Given, State
from snugset.values import replace

KINDS = frozenset(HANDLERS)
"""Every kind of event, a closed set."""


def apply(state: State, record: Record) -> State:
    """Give the state after one more record."""
    return fold((record,), state)


def fold(records: Iterable[Record], state: State | None = None) -> State:
    """Give the state after records, in sequence; answers undone among them are left out."""
    records = tuple(records)
    undone = {r.body["answer"] for r in records if r.kind == "undone"}
    if undone and state is not None and state.sequence:
        raise ValueError("an undo is folded from the first record")
    draft = Draft.of(state or State())
    for record in records:
        if record.answer == 0 or record.answer not in undone:
            HANDLERS[record.kind](draft, record)
            _count(draft, record)
            draft.last_at = record.at
            draft.last_person = record.person
        if record.person not in draft.people:
            draft.people.append(record.person)
        draft.sequence = record.sequence
        draft.answer = max(draft.answer, record.answer)
    return draft.freeze()


def _count(draft: Draft, record: Record) -> None:
    """Keep the answers that stand; an undo or a handover is no answer that could be undone."""
    if not record.answer or record.kind in ("undone", "handover"):
        return
    turned = any(effect["set"] == "crank" for effect in record.body.get("effects", ()))
    if draft.given and draft.given[-1].number == record.answer:
        last = draft.given[-1]
        more = last.more + (record.kind == "done" and record.body["at"] != last.what)
        draft.given[-1] = replace(last, turned=last.turned or turned, more=more)
    else:
        what = record.body.get("at") or f"spec.{record.body['name']}"
        draft.given.append(Given(record.answer, what, turned))
