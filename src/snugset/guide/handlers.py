"""What each kind of event sets in the state: outcomes are copied, nothing is judged."""

from collections.abc import Callable, Mapping
from decimal import Decimal

from snugset.files.figures import value_from_json
from snugset.guide.address import Address
from snugset.guide.draft import Draft
from snugset.guide.events import Body, Record
from snugset.guide.state import (
    Break,
    Fact,
    Hold,
    Judged,
    Mark,
    Note,
    Override,
    Photograph,
    Planned,
    PlannedPoint,
    Reading,
    SetAside,
    Spec,
)
from snugset.typed import Literal
from snugset.units import Quantity
from snugset.values import replace

Closed = Literal["done", "reading", "skipped", "judged"]


def _quantity(body: Body, key: str) -> Quantity | None:
    found = body[key]
    return None if found is None else Quantity.from_json(found)


def _address(body: Body) -> Address:
    return Address.parse(body["at"])


def _close(draft: Draft, record: Record, kind: Closed, value: str) -> None:
    address = _address(record.body)
    draft.facts[address] = Fact(
        kind=kind,
        value=value,
        at=record.at,
        person=record.person,
        sequence=record.sequence,
    )
    draft.holds.pop(address, None)


def _begun(draft: Draft, record: Record) -> None:
    draft.name = record.body["name"]
    draft.begun_at = record.at


def _spec(draft: Draft, record: Record) -> None:
    body = record.body
    draft.specs[body["name"]] = Spec(
        name=body["name"],
        value=value_from_json(body["value"]),
        typed=body["typed"],
        had=body["had"],
        source=body["source"],
        assumes=body["assumes"],
        at=record.at,
        person=record.person,
    )


def _spec_part(draft: Draft, record: Record) -> None:
    specs = draft.specs
    body = record.body
    specs[body["name"]] = replace(specs[body["name"]], **{body["part"]: body["text"]})


def _effects(draft: Draft, record: Record) -> None:
    for effect in record.body.get("effects", ()):
        if effect["set"] == "crank":
            draft.crank = None if effect["value"] is None else Decimal(effect["value"])
        elif effect["value"] is None:
            draft.marks.pop((effect["set"], effect["place"]), None)
        else:
            draft.marks[effect["set"], effect["place"]] = Mark(effect["value"], record.at)


def _done(draft: Draft, record: Record) -> None:
    _close(draft, record, "done", record.body["value"])
    _effects(draft, record)


def _reading(draft: Draft, record: Record) -> None:
    body = record.body
    address = _address(body)
    _close(draft, record, "reading", body["verdict"])
    draft.readings[address] = Reading(
        address=address,
        figure=body["figure"],
        value=Quantity.from_json(body["value"]),
        uncertainty=_quantity(body, "uncertainty"),
        typed=body["typed"],
        verdict=body["verdict"],
        low=_quantity(body, "low"),
        high=_quantity(body, "high"),
        flag=body["flag"],
        provisional=body["provisional"],
        reason=body["reason"],
        pushrod=_quantity(body, "pushrod"),
        predicted=_quantity(body, "predicted"),
        working=tuple(body["working"]),
        at=record.at,
        person=record.person,
    )
    _effects(draft, record)


def _rejudged(draft: Draft, record: Record) -> None:
    address = _address(record.body)
    found = draft.readings[address]
    draft.readings[address] = replace(
        found,
        verdict=record.body["verdict"],
        low=_quantity(record.body, "low"),
        high=_quantity(record.body, "high"),
    )


def _set_aside(draft: Draft, record: Record) -> None:
    body = record.body
    draft.set_aside.append(
        SetAside(
            address=_address(body),
            value=Quantity.from_json(body["value"]),
            uncertainty=_quantity(body, "uncertainty"),
            typed=body["typed"],
            code=body["code"],
            words=body["words"],
            at=record.at,
            person=record.person,
        )
    )


def _skipped(draft: Draft, record: Record) -> None:
    _close(draft, record, "skipped", record.body["reason"])
    _effects(draft, record)


def _override(draft: Draft, record: Record) -> None:
    body = record.body
    draft.overrides.append(
        Override(
            address=_address(body),
            code=body["code"],
            words=body["words"],
            reason=body["reason"],
            at=record.at,
            person=record.person,
        )
    )


def _note(draft: Draft, record: Record) -> None:
    body = record.body
    draft.notes.append(
        Note(address=_address(body), text=body["text"], at=record.at, person=record.person)
    )


def _photograph(draft: Draft, record: Record) -> None:
    body = record.body
    draft.photographs.append(
        Photograph(
            address=_address(body),
            name=body["name"],
            digest=body["digest"],
            media=body["media"],
            size=body["size"],
            caption=body["caption"],
            at=record.at,
            person=record.person,
        )
    )


def _handover(_draft: Draft, _record: Record) -> None:
    """Nothing of the build changes: the record's own person is who answers from here on."""


def _planned(draft: Draft, record: Record) -> None:
    body = record.body
    points = tuple(
        PlannedPoint(
            key=p["key"],
            places=tuple(p["places"]),
            low=Decimal(p["low"]),
            high=Decimal(p["high"]),
            aim=Decimal(p["aim"]),
            margin=None if p["margin"] is None else Decimal(p["margin"]),
            marked=p["marked"],
        )
        for p in body["points"]
    )
    draft.planned[body["step"]] = Planned(points=points, method=body["method"], why=body["why"])


def _judged(draft: Draft, record: Record) -> None:
    body = record.body
    address = _address(body)
    _close(draft, record, "judged", body["outcome"])
    draft.judged[address] = Judged(
        address=address,
        outcome=body["outcome"],
        lengths={place: Quantity.from_json(q) for place, q in body["lengths"].items()},
        predicted={place: Quantity.from_json(q) for place, q in body["predicted"].items()},
        proved=body["proved"],
        words=tuple(body["words"]),
        at=record.at,
        person=record.person,
    )


def _waiting(draft: Draft, record: Record) -> None:
    address = _address(record.body)
    draft.holds[address] = Hold(address=address, what=record.body["what"], since=record.at)


def _voided(draft: Draft, record: Record) -> None:
    for text in record.body["addresses"]:
        address = Address.parse(text)
        draft.facts.pop(address, None)
        draft.readings.pop(address, None)
        draft.judged.pop(address, None)
        draft.holds.pop(address, None)
        draft.planned.pop(address.step.removesuffix(".plan"), None)
    _effects(draft, record)


def _revised(draft: Draft, record: Record) -> None:
    _voided(draft, record)
    for name in record.body["figures"]:
        draft.specs.pop(name, None)
    for step in record.body["plans"]:
        draft.planned.pop(step, None)


def _came_back(draft: Draft, record: Record) -> None:
    body = record.body
    if draft.returning:  # not read yet: the same break, grown longer
        draft.breaks.pop()
    draft.breaks.append(
        Break(
            gap=body["gap"],
            before=body["before"],
            at=record.at,
            last_person=body["last_person"],
            person=record.person,
            stood=body["stood"],
            crank=None if body["crank"] is None else Decimal(body["crank"]),
            voided=tuple(body["voided"]),
            loose=tuple(body["loose"]),
            advice=tuple(body["advice"]),
        )
    )
    draft.returning = True
    _effects(draft, record)


def _returned(draft: Draft, record: Record) -> None:
    draft.returning = False
    _effects(draft, record)


HANDLERS: Mapping[str, Callable[[Draft, Record], None]] = {
    "begun": _begun,
    "spec": _spec,
    "spec-part": _spec_part,
    "done": _done,
    "reading": _reading,
    "rejudged": _rejudged,
    "set-aside": _set_aside,
    "skipped": _skipped,
    "override": _override,
    "note": _note,
    "photograph": _photograph,
    "handover": _handover,
    "planned": _planned,
    "judged": _judged,
    "waiting": _waiting,
    "voided": _voided,
    "revised": _revised,
    "came-back": _came_back,
    "returned": _returned,
    "undone": _effects,  # the fold has left the answer out; only the crank is changed
}
