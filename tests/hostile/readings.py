"""Holds the program's reading of a text against the second reader's."""

import random
import re
import time
from fractions import Fraction
from typing import NamedTuple

from snugset.units import UNITS, Quantity, UnitError, read, read_list, read_takes, read_window

from . import grammar, strings
from .grammar import Asked

_SIZES = {
    form: Fraction(1) if found is None else found[1]
    for form in UNITS
    if (found := grammar.unit(form)) or not form
}
FIELDS = tuple(form for form in UNITS if form in _SIZES)


class Tally(NamedTuple):
    """What came of many strings."""

    strings: int
    read: int
    refused: int
    slowest: float
    """Milliseconds of the processor."""


def _weight(quantity: Quantity) -> Fraction:
    return Fraction(quantity.value) * _SIZES[quantity.unit]


def _near(one: Fraction, other: Fraction) -> bool:
    """Whether two are the same but for the 28 digits that a third is kept with."""
    return abs(one - other) <= max(abs(one), abs(other)) / 10**24


def _among(found: tuple[Fraction, ...], meanings: list[tuple[Fraction, ...]]) -> bool:
    return any(len(each) == len(found) and all(map(_near, found, each)) for each in meanings)


def ask(text: str, unit: str, form: str, *, negative: bool) -> bool:
    """Read a text; whether it was read. AssertionError if the value is not what was written."""
    kind = UNITS[unit]
    asked = Asked(kind, (kind, _SIZES[unit]), negative)
    found: tuple[Fraction, ...]
    meanings: list[tuple[Fraction, ...]]
    try:
        match form:
            case "one":
                found = (_weight(read(text, unit=unit, negative=negative)),)
                meanings = [(each,) for each in grammar.one(text, asked)]
            case "takes":
                stacks = read_takes(text, unit=unit, negative=negative)
                found = tuple(_weight(term) for stack in stacks for term in stack)
                meanings = [
                    tuple(t for s in each for t in s) for each in grammar.takes(text, asked)
                ]
            case "list":
                listed = read_list(text, unit=unit, negative=negative)
                found = tuple(map(_weight, listed))
                meanings = list(grammar.listed(text, asked))
            case _:
                low, high = read_window(text, unit=unit, negative=negative)
                found = (_weight(low), _weight(high))
                meanings = list(grammar.window(text, asked))
    except UnitError as error:
        assert error.message.isprintable(), (text, error.message)
        assert all(map(str.isprintable, error.suggest)), (text, error.suggest)
        assert len(error.message) < 600, (text, error.message)
        return False
    assert _among(found, meanings), (form, unit, text, found, meanings)
    return True


def hold(seed: int, count: int) -> Tally:
    """Hold so many strings, well-formed and spoiled, against the second reader."""
    rng = random.Random(seed)
    taken = refused = 0
    slowest = 0.0
    for number in range(count):
        unit = rng.choice(FIELDS)
        kind = UNITS[unit]
        negative = rng.random() < 0.2
        form = rng.choice(["one", "one", "takes", "list", "window"])
        whole = number % 3 == 0 and kind != "number"
        if number % 7 == 6:
            text, whole = strings.noise(rng), False
        else:
            text, whole = _written(rng, kind, unit, form, whole=whole)
            if not whole:
                text = strings.spoiled(rng, text)
        started = time.process_time()
        got = ask(text, unit, form, negative=negative)
        slowest = max(slowest, time.process_time() - started)
        assert got or not whole, (form, unit, text)
        taken, refused = taken + got, refused + (not got)
    return Tally(count, taken, refused, slowest * 1000)


def _written(
    rng: random.Random, kind: str, unit: str, form: str, *, whole: bool
) -> tuple[str, bool]:
    """Write a text of this form; whether it must be read."""
    size = _SIZES[unit]
    kind = kind if kind in strings.KINDS else "length"
    text, values = strings.figure(rng, kind, size)
    if form == "one":
        return text, whole and len(text) <= grammar.LONGEST
    other, more = strings.figure(rng, kind, size)
    if form == "takes":
        text = f"{text}{rng.choice(['; ', ';'])}{other}"
    elif form == "list":
        text = f"{text}{rng.choice([', ', '; '])}{other}"
    else:
        cut = rng.choice([" .. ", " to ", " … ", "…" if text[-1:] != "." else " to "])
        text = f"{text}{cut}{other}"
        whole = whole and sum(values) < sum(more)
    # Bare beside a unit may be a guess, and is refused then: only the whole kind must be read.
    bare = any(c.isdigit() for c in text) and _mixed(text)
    return text, whole and not bare and len(text) <= grammar.LONGEST


def _mixed(text: str) -> bool:
    parts = re.split(r"\.\.| to |…|[;,+]", text)
    units = [bool(re.search(r"[^\W\d_]|[\"″”“°']", re.sub("[½¼⅓⅛]", "", part))) for part in parts]
    return any(units) and not all(units)
