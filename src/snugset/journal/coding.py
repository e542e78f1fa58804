"""A record as the text that is kept, and the chain of digests over it."""

import json
from collections.abc import Iterable, Mapping, Sequence
from hashlib import sha256
from typing import NoReturn

from snugset.guide.events import Record
from snugset.typed import Any

Row = tuple[int, int, str, str, str, str, str]
"""Sequence, answer, at, person, kind, body as canonical JSON, digest."""

GENESIS = "0" * 64
"""The digest before the first record."""

MOST_RECORDS = 15_000
"""Records of one build: thirty times the largest that is known, and still read in a moment."""

MOST_PARTS = 1_000_000
"""Parts of all bodies of one build, commas in their texts among them; more would fill the memory.
A build of as many records as there can be has a fifth of it."""

_TYPES = (int, int, str, str, str, str, str)


class ChainError(ValueError):
    """A stored record is not the one that was written there."""


def _refuse(text: str) -> NoReturn:
    raise ValueError(f"{text} is a binary fraction")


_ENCODER = json.JSONEncoder(
    ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":")
)
_DECODER = json.JSONDecoder(parse_float=_refuse, parse_constant=_refuse)


def encode(records: Iterable[Record], *, after: int, digest: str) -> list[Row]:
    """Rows for records that follow on record `after`, whose digest is given.

    ValueError if a sequence does not follow on, TypeError if a body is not plain JSON,
    UnicodeEncodeError for half a character; all of them before anything is written.
    """
    rows: list[Row] = []
    for sequence, record in enumerate(records, start=after + 1):
        if record.sequence != sequence:
            raise ValueError(f"record {record.sequence} does not follow on; {sequence} is next")
        body = _ENCODER.encode(_plain(record.body))
        fields = (sequence, record.answer, record.at, record.person, record.kind, body)
        digest = _link(digest, fields)
        rows.append((*fields, digest))
    return rows


def parts_of(body: str) -> int:
    """Count what a body would be unfolded into, at most."""
    return sum(map(body.count, ",[{"))


def decode(row: Sequence[Any], *, after: int, digest: str, parts: int = 0) -> Record:
    """Read one stored row back, once it is proven to follow on record `after`.

    `parts` is how many the records before it have. ChainError says which record is missing, out of
    order, changed, unreadable or too many.
    """
    if tuple(map(type, row)) != _TYPES:
        raise ChainError(f"record {after + 1} is unreadable")
    sequence, answer, at, person, kind, body, found = row
    if sequence <= after:
        raise ChainError(f"record {sequence} is out of order")
    if sequence > after + 1:
        lost = (
            f"record {after + 1} is"
            if sequence == after + 2
            else f"records {after + 1} to {sequence - 1} are"
        )
        raise ChainError(f"{lost} missing")
    if found != _link(digest, (sequence, answer, at, person, kind, body)):
        raise ChainError(f"record {sequence} is not what was written")
    if parts + parts_of(body) > MOST_PARTS:
        raise ChainError(f"with record {sequence} there are more parts than a build can have")
    try:
        value = _DECODER.decode(body)
    except (ValueError, RecursionError) as fault:
        raise ChainError(f"record {sequence} is unreadable") from fault
    if not isinstance(value, dict):
        raise ChainError(f"record {sequence} is unreadable")
    return Record(sequence=sequence, answer=answer, at=at, person=person, kind=kind, body=value)


def _link(previous: str, fields: tuple[int, int, str, str, str, str]) -> str:
    """Digest, by SHA-256, the previous digest and the record's canonical JSON in UTF-8.

    The body is canonical JSON already, so the record is put together round it.
    """
    sequence, answer, at, person, kind, body = fields
    text = _ENCODER.encode
    canonical = (
        f'{previous}{{"answer":{answer},"at":{text(at)},"body":{body},"kind":{text(kind)},'
        f'"person":{text(person)},"sequence":{sequence}}}'
    )
    return sha256(canonical.encode()).hexdigest()


def _plain(value: object) -> object:
    """Return the value as lists, objects, texts and whole numbers; TypeError if it is none."""
    if value is None or isinstance(value, str | int):
        return value
    if isinstance(value, Mapping):
        for key in value:
            if not isinstance(key, str):
                raise TypeError(f"an event's body has the key {key!r}, which is no text")
        return {key: _plain(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(part) for part in value]
    raise TypeError(f"an event's body holds {value!r}, which is not plain JSON")
