"""Journals of strangers: records changed at will, their chain of digests worked out anew."""

import copy
import json
import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

from snugset.guide.events import Record
from snugset.journal.head import Head
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.values import replace

STRANGE: tuple[Any, ...] = (
    *(None, True, False, 0, -1, 10**30, "", "x", "-1", "1e9", "NaN", "9" * 60, "Infinity"),
    *(
        [],
        {},
        [[]],
        [None],
        {"": ""},
        {"value": "1", "unit": "furlong"},
        {"value": "35", "unit": "mm"},
    ),
    *(
        {"value": "-5", "unit": ""},
        {"value": "1", "unit": "d"},
        {"low": 1, "high": 2},
        {"list": []},
    ),
    *("\x1b]0;owned\x07", "\u202e", "[bold]", "<script>alert(1)</script>", "head-torque@9.9#3"),
    *("spec.nothing", "gap@1I#9999", "nowhere", "1 of 9", "x" * 5000, "2026-11-02T18:04:00Z"),
    *("0001-01-01T00:00:00Z", "9999-12-31T23:59:59Z", "accept", "in", "no-such-verdict"),
)
"""What a field of a body may be given instead."""


def _places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:  # noqa: ANN401
    """Give the way to every value inside, the containers too."""
    inner: list[tuple[Any, ...]] = []
    if isinstance(value, dict):
        inner = [way for key, each in value.items() for way in _places(each, (*path, key))]
    elif isinstance(value, list):
        inner = [way for key, each in enumerate(value) for way in _places(each, (*path, key))]
    return [path, *inner] if path else inner


def _put(body: dict[str, Any], path: tuple[Any, ...], value: Any) -> None:  # noqa: ANN401
    inside: Any = body
    for step in path[:-1]:
        inside = inside[step]
    inside[path[-1]] = value


def _strange_value(rng: random.Random, record: Record, _all: list[Record]) -> Record:
    body = json.loads(json.dumps(record.body))
    places = [way for way in _places(body) if way[-1] != "text" or record.kind != "begun"]
    if places:
        _put(body, rng.choice(places), copy.deepcopy(rng.choice(STRANGE)))
    return replace(record, body=body)


def _lost_field(rng: random.Random, record: Record, _all: list[Record]) -> Record:
    body = dict(record.body)
    if body:
        del body[rng.choice(sorted(body))]
    return replace(record, body=body)


def _other_kind(rng: random.Random, record: Record, every: list[Record]) -> Record:
    kind = rng.choice(
        [*sorted({each.kind for each in every}), "undone", "rejudged", "exploded", ""]
    )
    return replace(record, kind=kind)


def _other_body(rng: random.Random, record: Record, every: list[Record]) -> Record:
    """Give the body of another record of its kind, or one that names another place."""
    alike = [each for each in every if each.kind == record.kind]
    return replace(record, body=rng.choice(alike).body) if alike else record


def _other_figure(rng: random.Random, record: Record, every: list[Record]) -> Record:
    """Give a figure the value of another, of another kind."""
    values = [each.body["value"] for each in every if each.kind == "spec"]
    if "value" not in record.body:
        return record
    return replace(record, body={**record.body, "value": rng.choice(values)})


def _frame(rng: random.Random, record: Record, _all: list[Record]) -> Record:
    match rng.randrange(3):
        case 0:
            return replace(record, answer=rng.choice([0, -1, 7, 2**62]))
        case 1:
            return replace(record, at=rng.choice([s for s in STRANGE if isinstance(s, str)]))
    return replace(record, person=rng.choice([s for s in STRANGE if isinstance(s, str)]))


_CHANGES: tuple[Callable[[random.Random, Record, list[Record]], Record], ...] = (
    *(_strange_value, _strange_value, _strange_value, _lost_field),
    *(_other_kind, _other_body, _other_figure, _other_figure, _frame),
)


def mutant(rng: random.Random, records: list[Record]) -> list[Record]:
    """Change, drop, double or move one to four records, and number them anew."""
    found = list(records[: rng.randint(2, len(records))] if rng.random() < 0.6 else records)
    for _ in range(rng.randint(1, 4)):
        at = rng.randrange(len(found))
        if rng.random() < 0.4:  # the kinds that are rare are spoiled as often
            kind = rng.choice(sorted({each.kind for each in found}))
            at = rng.choice([n for n, each in enumerate(found) if each.kind == kind])
        match rng.randrange(8):
            case 0 if len(found) > 1:
                del found[at]
            case 1:
                found.insert(rng.randrange(len(found) + 1), found[at])
            case _:
                found[at] = rng.choice(_CHANGES)(rng, found[at], records)
    return [replace(each, sequence=number) for number, each in enumerate(found, 1)]


def forged(folder: Path, records: list[Record], *, name: str = "forged") -> Path:
    """Write records as a journal whose chain is whole."""
    head = Head(name=name, updated=records[-1].at)
    owner = Owner.here(person="Wren", since="2026-11-02T18:04:00Z")
    Journal.create(folder, owner=owner, records=records, head=head).close()
    return folder
