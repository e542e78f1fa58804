"""A calculator's inputs as typed text, read by their declarations."""

import re
from collections.abc import Callable, Mapping
from decimal import Decimal

from snugset.trade.calculator import Calculator, Input
from snugset.trade.card import read_camshaft
from snugset.trade.fault import FigureError
from snugset.trade.thread import read_thread
from snugset.units import (
    UNITS,
    Quantity,
    UnitError,
    check_band,
    read,
    read_list,
    read_takes,
    read_window,
)
from snugset.values import dataclass

_LONGEST = 2000
_ORDER = re.compile(r"[1-9]\d?(?:\s*[-, ]\s*[1-9]\d?){0,23}")
_PAIR = re.compile(r"(?P<name>[A-Za-z0-9][A-Za-z0-9.-]{0,15})\s*=\s*")
_WHOLE = re.compile(r"\d{1,4}")


def did_you_mean(word: str, words: tuple[str, ...]) -> str:
    """Name the nearest word, if one is near."""
    from difflib import get_close_matches  # noqa: PLC0415 - needed for a slip only

    near = get_close_matches(word, words, n=1)
    return f" (did you mean “{near[0]}”?)" if near else ""


Engines = Callable[[str], Mapping[str, str]]
"""What an engine knows, as texts by the key of the input that it serves, from how it is named."""


def read_inputs(
    calculator: Calculator, texts: Mapping[str, str], engines: Engines | None = None
) -> dict[str, object]:
    """Read typed texts by key; what is blank counts as not given.

    An engine named serves the inputs left blank. FigureError names the key and the fix; what
    ``engines`` raises passes through.
    """
    keys = tuple(asked.key for asked in calculator.inputs)
    for key in texts:
        if key not in keys:
            hint = did_you_mean(key, keys)
            raise FigureError(
                key, f"not asked for by {calculator.name}{hint}; it takes {', '.join(keys)}"
            )
    texts = _with_engine(calculator, texts, engines)
    values: dict[str, object] = {}
    for asked in calculator.inputs:
        text = texts.get(asked.key, "").strip() or asked.default
        if text:
            values[asked.key] = _read(asked, text, values)
        elif asked.needed:
            example = calculator.example.inputs.get(asked.key, "")
            raise FigureError(
                asked.key, f"needed: {asked.words}; write it as {asked.key}={example}"
            )
    return values


@dataclass(frozen=True, slots=True, kw_only=True)
class Fields:
    """What the fields of a form come to, each by itself."""

    values: Mapping[str, object]
    """What could be read, and what stands in for a blank."""
    faults: Mapping[str, str]
    """What is wrong and the fix, by key, without the key's name."""
    missing: tuple[str, ...]
    """Keys that are needed and blank."""


def read_fields(
    calculator: Calculator, texts: Mapping[str, str], engines: Engines | None = None
) -> Fields:
    """Read each field of a form by itself, so that every mistake is told beside its own field."""
    values: dict[str, object] = {}
    faults: dict[str, str] = {}
    try:
        texts = _with_engine(calculator, texts, engines)
    except FigureError as error:
        faults[error.key] = error.problem
    for asked in calculator.inputs:
        text = texts.get(asked.key, "").strip() or asked.default
        if text and asked.key not in faults:
            try:
                values[asked.key] = _read(asked, text, values)
            except FigureError as error:
                # What a shell would have typed again is no help in a field.
                why = error.__cause__
                faults[asked.key] = why.message if isinstance(why, UnitError) else error.problem
    blank = (a.key for a in calculator.inputs if a.needed and a.key not in values)
    missing = tuple(key for key in blank if key not in faults)
    return Fields(values=values, faults=faults, missing=missing)


def _with_engine(
    calculator: Calculator, texts: Mapping[str, str], engines: Engines | None
) -> Mapping[str, str]:
    """Put what a named engine knows in the place of what is blank."""
    for asked in calculator.inputs:
        named = texts.get(asked.key, "").strip()
        if asked.form != "engine" or not named:
            continue
        others = [other.key for other in calculator.inputs if other.form != "engine"]
        if engines is None:
            raise FigureError(
                asked.key, f"no engine can be looked up here; give {', '.join(others)} instead"
            )
        known = engines(named)
        filled = {key: texts.get(key, "").strip() or known.get(key, "") for key in others}
        return {asked.key: named, **filled}
    return texts


def _read(asked: Input, text: str, values: Mapping[str, object]) -> object:
    if len(text) > _LONGEST:
        raise FigureError(asked.key, f"longer than {_LONGEST} characters; shorten it")
    try:
        return _value(asked, text, _unit(asked, values))
    except UnitError as error:
        typed = " or ".join(f"{asked.key}={fit}" for fit in error.suggest)
        raise FigureError(asked.key, error.message + (f" ({typed})" if typed else "")) from error


def _unit(asked: Input, values: Mapping[str, object]) -> str:
    """Give the unit that a bare figure takes."""
    model = values.get(asked.like) if asked.like else None
    return model.unit if isinstance(model, Quantity) else asked.unit


def _value(asked: Input, text: str, unit: str) -> object:
    key, negative = asked.key, asked.negative
    match asked.form:
        case "one":
            return _plausible(asked, _any(key, text, unit) if asked.any_kind else read(
                text, unit=unit, negative=negative
            ))  # fmt: skip
        case "takes":
            stacks = read_takes(text, unit=unit)
            for stack in stacks:
                for leaf in stack:
                    _plausible(asked, leaf)
            return stacks
        case "list":
            return tuple(_plausible(asked, one) for one in read_list(text, unit=unit))
        case "window":
            low, high = read_window(text, unit=unit, negative=negative)
            return _plausible(asked, low), _plausible(asked, high)
        case "places":
            return {place: _plausible(asked, one) for place, one in _places(asked, text, unit)}
        case "banks":
            return _banks(key, text)
        case "thread":
            return read_thread(text, key)
        case "share":
            return _share(key, text)
        case "number":
            return read(text, unit="", negative=negative).value
        case "whole":
            if not _WHOLE.fullmatch(text):
                raise FigureError(key, f"“{text[:20]}” is no count; write a whole number")
            return int(text)
        case "order":
            return _order(key, text)
        case "camshaft":
            return read_camshaft(text).events
        case "engine":
            return text
        case "choice":
            text = asked.also.get(text, text)
            if text not in asked.choices:
                hint = did_you_mean(text, asked.choices)
                raise FigureError(key, f"“{text[:20]}” is none of {', '.join(asked.choices)}{hint}")
            return text


def _plausible(asked: Input, quantity: Quantity) -> Quantity:
    if asked.band is not None and not (asked.zero and quantity.value == 0):
        size = Quantity(abs(quantity.value), quantity.unit) if asked.negative else quantity
        check_band(size, asked.band)
    return quantity


def _any(key: str, text: str, unit: str) -> Quantity:
    """Read a quantity whose unit tells its kind; a bare one takes the unit, if there is one."""
    if unit:
        try:
            return read(text, unit=unit, negative=True)
        except UnitError as error:
            if error.code != "kind":
                raise
    for kind in dict.fromkeys(kind for unit, kind in UNITS.items() if unit):
        try:
            return read(text, unit="", kind=kind, negative=True)
        except UnitError as error:
            if error.code not in {"kind", "unit"}:
                raise
    raise FigureError(
        key, f"“{text[:40]}” has no unit known here; write one, such as 35 thou or 22 lbf·ft"
    )


def _places(asked: Input, text: str, unit: str) -> list[tuple[str, Quantity]]:
    """Read ``1I=11 1E=14 thou``: the last one's unit holds for the bare ones before it."""
    key = asked.key
    found = list(_PAIR.finditer(text))
    if not found:
        return [("", read(text, unit=unit, negative=asked.negative))]
    if text[: found[0].start()].strip():
        raise FigureError(
            key, f"“{text[:20]}” does not begin with a place; write it as 1I=11 1E=14 thou"
        )
    ends = [match.start() for match in found[1:]] + [len(text)]
    parts = [
        (match["name"], text[match.end() : end].strip().rstrip(",;").rstrip())
        for match, end in zip(found, ends, strict=True)
    ]
    holds = read(parts[-1][1], unit=unit, negative=asked.negative).unit
    seen: dict[str, Quantity] = {}
    for place, part in parts:
        if place in seen:
            raise FigureError(key, f"{place} is there twice; leave one out")
        seen[place] = read(part, unit=holds, negative=asked.negative)
    if parts[-1][1][-1:].isdigit() and {one.unit for one in seen.values()} != {holds}:
        raise FigureError(key, "some have a unit and the last has none; write the unit of each")
    return list(seen.items())


def _banks(key: str, text: str) -> dict[str, tuple[int, ...]]:
    found = {
        match["name"]: tuple(int(number) for number in match["numbers"].split(","))
        for match in re.finditer(
            r"(?P<name>[a-z]+)\s*=\s*(?P<numbers>\d{1,2}(?:\s*,\s*\d{1,2})*)", text
        )
    }
    if len(found) < 2:
        raise FigureError(
            key, "write each bank's cylinders from the front, as left=1,3,5,7 right=2,4,6,8"
        )
    return found


def _order(key: str, text: str) -> tuple[int, ...]:
    order = tuple(map(int, re.findall(r"\d+", text))) if _ORDER.fullmatch(text) else ()
    if sorted(order) != list(range(1, len(order) + 1)) or not order:
        raise FigureError(
            key, f"“{text[:40]}” does not name each cylinder from 1 on once; write 1-5-3-6-2-4"
        )
    return order


def _share(key: str, text: str) -> Decimal:
    """Read a part of the whole: 25 % or 0.25."""
    bare = text.removesuffix("%").strip()
    number = read(bare, unit="").value
    share = number / 100 if text.endswith("%") else number
    if not 0 <= share < 1:
        raise FigureError(key, f"{text} is not a part of the whole; write 25 % or 0.25")
    return share
