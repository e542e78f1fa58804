"""Reading typed quantities: one, a sum, takes, a list, a window.

All take the same options. `unit` is the field's: a bare figure takes it and never changes it. It
may be empty, for a pure number, or with a `kind` for a field where the unit must be typed.
`negative` lets figures below zero in. `band` is what is plausible; see `check_band`.

A term is a decimal or a fraction with at most 12 digits in a row, and perhaps a unit. Where only
one unit is typed it holds for the bare figures before it; where that would be a guess the text is
refused. A text that cannot stand gets a UnitError and nothing else.
"""

from collections.abc import Sequence

from snugset.units.errors import UnitError, quoted
from snugset.units.factors import EXACT
from snugset.units.guard import check_band
from snugset.units.quantity import Band, Quantity
from snugset.units.scan import Term, terms
from snugset.units.spans import Span, cleaned, ends, figures, takes
from snugset.units.written import (
    EXAMPLES,
    UNITS,
    checked,
    expected,
    form_of,
    meant,
    with_article,
)

_LONGEST = 120
_TERMS = 12
_LONGEST_LIST = 600
_FIGURES = 60

Stack = tuple[Quantity, ...]


def read(
    text: str,
    *,
    unit: str,
    kind: str | None = None,
    negative: bool = False,
    band: Band | None = None,
) -> Quantity:
    """Read one quantity or a sum: ``38 thou``, ``1 1/2 in``, ``17+18``, ``22 ft-lb``.

    The result is in the unit typed, or in the field's when several were.
    """
    plain = cleaned(text, _LONGEST)
    (stack,) = _stacks(plain, [(0, len(plain))], unit, kind, negative=negative)
    return _total(stack, unit, band)


def read_terms(
    text: str,
    *,
    unit: str,
    kind: str | None = None,
    negative: bool = False,
    band: Band | None = None,
) -> Stack:
    """Read the terms of a sum, each by itself, as leaves of a stack; `band` is for the sum."""
    plain = cleaned(text, _LONGEST)
    (stack,) = _stacks(plain, [(0, len(plain))], unit, kind, negative=negative)
    _total(stack, unit, band)
    return stack


def read_takes(
    text: str,
    *,
    unit: str,
    kind: str | None = None,
    negative: bool = False,
    band: Band | None = None,
) -> tuple[Stack, ...]:
    """Read takes, each the terms of a sum: ``17+18; 18+18``; `band` is for each sum."""
    plain = cleaned(text, _LONGEST)
    stacks = _stacks(plain, takes(plain), unit, kind, negative=negative)
    for stack in stacks:
        _total(stack, unit, band)
    return stacks


def read_list(
    text: str,
    *,
    unit: str,
    kind: str | None = None,
    negative: bool = False,
    band: Band | None = None,
) -> tuple[Quantity, ...]:
    """Read up to 60 figures with commas between them: ``22, 45, 110 lbf·ft``."""
    plain = cleaned(text, _LONGEST_LIST)
    spans = figures(plain)
    if len(spans) > _FIGURES:
        raise UnitError("too-long", f"there are more than {_FIGURES} figures; write fewer")
    stacks = _stacks(plain, spans, unit, kind, negative=negative)
    return tuple(_total(stack, unit, band) for stack in stacks)


def read_window(
    text: str,
    *,
    unit: str,
    kind: str | None = None,
    negative: bool = False,
    band: Band | None = None,
) -> tuple[Quantity, Quantity]:
    """Read a low end and a higher one: ``0.020..0.060 in``, ``20 to 60 thou``, ``20-60 thou``.

    `band` is for both ends. UnitError ``window`` when there are not two, or they do not rise.
    """
    plain = cleaned(text, _LONGEST)
    spans = ends(plain)
    if spans is None:
        (stack,) = _stacks(plain, [(0, len(plain))], unit, kind, negative=negative)
        raise UnitError(
            "window",
            f"{quoted(text)} is one figure, and a low and a high end are asked; "
            f"write it like {stack[0].value:f} to {stack[0].value + 1:f} {stack[0].unit}".rstrip(),
        )
    low, high = (
        _total(stack, unit, band) for stack in _stacks(plain, spans, unit, kind, negative=negative)
    )
    if low.value >= high.in_(low.unit):
        raise UnitError(
            "window",
            f"{quoted(text)} does not rise; write the low end first, then the high end",
            suggest=(f"{high} to {low}",) if low.value > high.in_(low.unit) else (),
        )
    return low, high


def _stacks(
    text: str, spans: Sequence[Span], unit: str, kind: str | None, *, negative: bool
) -> tuple[Stack, ...]:
    """Read each span as a sum and give every term its unit."""
    kind = _kind(unit, kind)
    stacks = [list(terms(text, span, most=_TERMS, example=EXAMPLES[kind])) for span in spans]
    flat = [term for stack in stacks for term in stack]
    for term in flat:
        if term.value < 0 and not negative:
            raise UnitError(
                "negative",
                f"{quoted(term.number)} is below zero, which this cannot be; leave the minus out",
                column=term.column,
            )
    forms = [_form(term, kind) for term in flat]
    bare = _for_bare(flat, forms, unit, kind)
    found = (
        Quantity(term.value, bare if form is None else form)
        for term, form in zip(flat, forms, strict=True)
    )
    return tuple(tuple(next(found) for _ in stack) for stack in stacks)


def _kind(unit: str, kind: str | None) -> str:
    """Give the kind that is asked; UnitError when the field contradicts itself."""
    of_unit = UNITS[checked(unit)]
    if kind is None or kind == of_unit:
        return of_unit
    if unit or kind not in EXAMPLES:
        raise UnitError("kind", f"a field in {unit or 'no unit'} cannot ask for {kind}")
    return kind


def _form(term: Term, kind: str) -> str | None:
    """Give the written form of a term's unit, None for a bare one."""
    if not term.word:
        return None
    form = form_of(term.word)
    if form is not None and UNITS[form] == kind:
        return form
    suggest = tuple(f"{term.number} {fit}".rstrip() for fit in meant(term.word, kind))
    if form is None:
        raise UnitError(
            "unit",
            f"{quoted(term.word)} is not a unit known here; {expected(kind)}",
            column=term.word_column,
            suggest=suggest,
        )
    raise UnitError(
        "kind",
        f"{quoted(f'{term.number} {term.word}')} is {with_article(UNITS[form])}, "
        f"and {with_article(kind)} is asked; {expected(kind)}",
        column=term.word_column,
        suggest=suggest,
    )


def _for_bare(flat: Sequence[Term], forms: Sequence[str | None], unit: str, kind: str) -> str:
    """Give the unit that holds for bare terms; UnitError ``unit`` when it would be a guess."""
    typed = {form for form in forms if form is not None}
    bare = [term for term in flat if not term.word]
    if typed and bare and (len(typed) > 1 or (forms[-1] is None and typed != {unit})):
        raise UnitError(
            "unit",
            f"{quoted(bare[-1].number)} has no unit beside figures that have one; "
            "write the unit of each",
            column=bare[-1].column,
        )
    if typed:
        return typed.pop()
    if UNITS[unit] != kind:
        raise UnitError(
            "unit",
            f"{quoted(bare[-1].number)} has no unit; {expected(kind)} after it",
            column=bare[-1].word_column,
        )
    return unit


def _total(stack: Stack, unit: str, band: Band | None) -> Quantity:
    """Add up in the unit typed, or in the field's when several were."""
    units = {term.unit for term in stack}
    common = units.pop() if len(units) == 1 else unit or stack[-1].unit
    value = stack[0].in_(common)
    for term in stack[1:]:
        value = EXACT.add(value, term.in_(common))
    total = Quantity(value, common)
    if band is not None:
        check_band(total, band)
    return total
