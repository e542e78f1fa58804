"""What the body of a stored event holds: held against a journal before anything in it is believed.

A journal may come from a stranger, its chain of digests worked out anew. What an event means is
never changed here; a field that is not known stays.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from decimal import Decimal

from snugset.files.values import value_from_json
from snugset.guide.address import Address
from snugset.guide.events import Record
from snugset.units import Quantity

_Check = Callable[[object], bool]

_DECIMAL = re.compile(r"-?[0-9]{1,41}(?:\.[0-9]{1,400})?")
_MOMENT = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(?:\.[0-9]{1,6})?Z")
_LONGEST = 100_000
"""Letters of one text, but for a pinned file; what can be typed is a fiftieth of it at the most."""
_LARGEST = 10**12
"""Seconds and answers are counted far below it; years of four digits end before."""


class RecordError(ValueError):
    """A record that says nothing that Snugset wrote; its words name it."""


def _reads(read: Callable[[str], object]) -> _Check:
    def check(value: object) -> bool:
        try:
            return isinstance(value, str) and read(value) is not None
        except ValueError:
            return False

    return check


def _file(value: object) -> bool:
    return isinstance(value, str)


def _text(value: object) -> bool:
    return isinstance(value, str) and len(value) <= _LONGEST


def _flag(value: object) -> bool:
    return isinstance(value, bool)


def _count(value: object) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and 0 <= value < _LARGEST


def _decimal(value: object) -> bool:
    return isinstance(value, str) and bool(_DECIMAL.fullmatch(value))


def _angle(value: object) -> bool:
    return _decimal(value) and abs(Decimal(str(value))) < _LARGEST


def _moment(value: object) -> bool:
    if not isinstance(value, str) or not _MOMENT.fullmatch(value):
        return False
    try:
        # A day within the calendar's ends: a time zone or a wait may move it.
        return 1 < datetime.fromisoformat(value).year < 9999
    except ValueError:
        return False


def _quantity(value: object) -> bool:
    try:
        return isinstance(value, Mapping) and Quantity.from_json(value) is not None
    except ValueError:
        return False


def _figure(value: object) -> bool:
    try:
        value_from_json(value)
    except ValueError:
        return False
    return True


def _maybe(check: _Check) -> _Check:
    return lambda value: value is None or check(value)


def _matches(pattern: str) -> _Check:
    form = re.compile(pattern)
    return lambda value: isinstance(value, str) and form.fullmatch(value) is not None


def _many(check: _Check) -> _Check:
    return lambda value: isinstance(value, list | tuple) and all(map(check, value))


def _named(check: _Check) -> _Check:
    return lambda value: isinstance(value, Mapping) and all(map(check, value.values()))


def _fields(**checks: _Check) -> _Check:
    def check(value: object) -> bool:
        return isinstance(value, Mapping) and _wrong(value, checks) is None

    return check


def _wrong(body: Mapping[str, object], checks: Mapping[str, _Check]) -> str | None:
    """Give the first field that is missing or is not what it must be."""
    return next((n for n, check in checks.items() if n not in body or not check(body[n])), None)


_address = _reads(Address.parse)
_pinned = _fields(file=_text, text=_file)
_effect = _fields(set=_text, place=_text, value=_maybe(_text))
_effects = _many(_effect)
_point = _fields(
    key=_text,
    places=_many(_text),
    low=_angle,
    high=_angle,
    aim=_angle,
    margin=_maybe(_angle),
    marked=_flag,
)

_BODIES: Mapping[str, Mapping[str, _Check]] = {
    "begun": {"name": _text, "procedure": _pinned, "engine": _pinned},
    "spec": {
        "at": _address,
        "name": _text,
        "value": _figure,
        "typed": _text,
        "had": _flag,
        "source": _maybe(_text),
        "assumes": _maybe(_text),
    },
    "spec-part": {
        "at": _address,
        "name": _text,
        "text": _text,
        "part": lambda value: value in ("source", "assumes"),
    },
    "done": {"at": _address, "value": _text, "effects": _effects},
    "reading": {
        "at": _address,
        "figure": _text,
        "value": _quantity,
        "uncertainty": _maybe(_quantity),
        "typed": _text,
        "verdict": _text,
        "flag": _text,
        "provisional": _flag,
        "reason": _text,
        "low": _maybe(_quantity),
        "high": _maybe(_quantity),
        "pushrod": _maybe(_quantity),
        "predicted": _maybe(_quantity),
        "working": _many(_text),
    },
    "rejudged": {
        "at": _address,
        "verdict": _text,
        "low": _maybe(_quantity),
        "high": _maybe(_quantity),
    },
    "set-aside": {
        "at": _address,
        "value": _quantity,
        "uncertainty": _maybe(_quantity),
        "typed": _text,
        "code": _text,
        "words": _text,
    },
    "skipped": {"at": _address, "reason": _text},
    "override": {"at": _address, "code": _text, "words": _text, "reason": _text},
    "note": {"at": _address, "text": _text},
    "photograph": {
        "at": _address,
        "caption": _text,
        "size": _count,
        # No way out of the build's folder: the copy's name is its digest.
        "name": _matches(r"[0-9a-f]{64}\.[a-z]{3,4}"),
        "digest": _matches(r"[0-9a-f]{64}"),
        "media": _matches(r"image/[a-z]{3,4}"),
    },
    "handover": {"at": _address, "from": _text, "to": _text},
    "planned": {"step": _text, "method": _text, "why": _text, "points": _many(_point)},
    "judged": {
        "at": _address,
        "outcome": lambda value: value in ("accept", "order"),
        "lengths": _named(_quantity),
        "predicted": _named(_quantity),
        "proved": _flag,
        "words": _many(_text),
    },
    "waiting": {"at": _address, "what": _text},
    "voided": {"addresses": _many(_address), "reason": _text},
    "revised": {
        "addresses": _many(_address),
        "figures": _many(_text),
        "plans": _many(_text),
        "reason": _text,
        "procedure": _pinned,
        "engine": _pinned,
    },
    "came-back": {
        "gap": _count,
        "before": _moment,
        "last_person": _text,
        "stood": _text,
        "crank": _maybe(_angle),
        "voided": _many(_text),
        "loose": _many(_text),
        "advice": _many(_text),
    },
    "returned": {"at": _address},
    "undone": {"answer": _count},
}
"""What must be there, by the kind of event."""
_MAY: Mapping[str, _Check] = {"effects": _effects, "shared": _named(_pinned)}
"""What may be there in any."""


def check_records(records: Iterable[Record]) -> None:
    """Hold records against what they must hold; RecordError at the first that is none of ours."""
    for record in records:
        checks = _BODIES.get(record.kind)
        if checks is None:
            raise RecordError(f"record {record.sequence} is of a kind that is not known here")
        if not _text(record.person) or not _moment(record.at) or not _count(record.answer):
            raise RecordError(
                f"record {record.sequence} has no person, no time or no answer as Snugset does"
            )
        may = {name: check for name, check in _MAY.items() if name in record.body}
        name = _wrong(record.body, checks) or _wrong(record.body, may)
        if name is not None:
            raise RecordError(
                f"record {record.sequence} ({record.kind}) does not say its {name} as Snugset does"
            )
