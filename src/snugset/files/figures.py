"""A figure that a procedure asks for, and the one door that reads its value."""

from decimal import Decimal
from itertools import pairwise

from snugset.files.characters import forbidden, name
from snugset.files.conditions import CHANGES, NOTHING, Condition
from snugset.files.problems import Mark, did_you_mean, one_of
from snugset.files.values import (
    Camshaft,
    SpecValue,
    Step,
    Window,
    read_camshaft,
    show_value,
    value_from_json,
    value_to_json,
)
from snugset.trade.fault import FigureError
from snugset.trade.thread import read_thread
from snugset.units import Quantity, UnitError, check_band, read, read_list, read_window
from snugset.values import dataclass

__all__ = [
    "FORMS",
    "KINDS",
    "QUANTITIES",
    "Camshaft",
    "Figure",
    "SpecValue",
    "Step",
    "Window",
    "read_value",
    "show_value",
    "value_from_json",
    "value_to_json",
]

KINDS = (
    "torque", "length", "angle", "time", "number", "text", "choice", "camshaft", "thread",
    "changes",
)  # fmt: skip
"""What a figure can be; see `QUANTITIES`."""
FORMS = ("one", "window", "rising", "catalogue")
"""One value, a low and a high limit, a list that rises, the lengths that can be bought."""

_STEP = (Quantity(Decimal("0.001"), "in"), Quantity(Decimal("0.5"), "in"))
"""Steps between lengths in catalogues lie in it, and units mistaken do not. Common practice."""
QUANTITIES = KINDS[:5]
"""The kinds whose values carry a unit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One spec that the builder brings; no figure has a value of its own."""

    name: str
    kind: str
    """One of `KINDS`."""
    form: str = "one"
    """One of `FORMS`."""
    unit: str = ""
    """What a bare figure is taken in."""
    ask: str
    """The question, in the trade's words."""
    why: str = ""
    plausible: tuple[Quantity, Quantity] | None = None
    """Outside it, a value is asked about before it is taken."""
    choices: tuple[str, ...] = ()
    assumes: str = ""
    """What else must be asked, because the value holds only with it; empty if nothing."""
    same_assumes: str = ""
    """The name of a figure that must hold with the same: one lubricant, one way of measuring."""
    none: str = ""
    """What follows from not having the figure, said aloud; empty if it must be had."""
    none_value: str = ""
    """Read in place of a figure that is not had, marked common practice; empty if nothing is."""
    within: str = ""
    """The name of the window figure in which the value must lie."""
    wrench: str = ""
    """The name of the figure that is the wrench's range."""
    conditions: tuple[Condition, ...] = ()
    """What must be so for it to be asked; where it is not, it counts as not had."""
    mark: Mark

    @property
    def negative(self) -> bool:
        """Whether a value under zero can be right."""
        return self.plausible is not None and self.plausible[0].value < 0


def read_value(figure: Figure, text: str) -> SpecValue:
    """Read what was typed for a figure; UnitError says what is wrong and the likely fix."""
    match figure.kind:
        case "camshaft":
            return read_camshaft(text)
        case "changes":
            return _read_changes(text)
        case "choice" | "text" | "thread":
            return _read_words(figure, text)
    match figure.form:
        case "window":
            low, high = read_window(
                text, unit=figure.unit, kind=figure.kind, negative=figure.negative
            )
            _check(figure, low, high)
            return Window(low=low, high=high)
        case "rising":
            return _rising(figure, _read_list(figure, text))
        case "catalogue":
            return _read_catalogue(figure, text)
    return read(
        text,
        unit=figure.unit,
        kind=figure.kind,
        negative=figure.negative,
        band=figure.plausible,
    )


def _check(figure: Figure, *values: Quantity) -> None:
    if figure.plausible is not None:
        for value in values:
            check_band(value, figure.plausible)


def _read_list(figure: Figure, text: str) -> tuple[Quantity, ...]:
    values = read_list(text, unit=figure.unit, kind=figure.kind, negative=figure.negative)
    _check(figure, *values)
    return values


def _rising(figure: Figure, values: tuple[Quantity, ...]) -> tuple[Quantity, ...]:
    for before, after in pairwise(values):
        if after.in_(figure.unit) <= before.in_(figure.unit):
            raise UnitError(
                "rising",
                f"{after} comes after {before}; each figure must be above the one before it",
            )
    return values


def _read_catalogue(figure: Figure, text: str) -> SpecValue:
    word, _, rest = text.strip().partition(" ")
    if word.lower() == "step":
        step = read(rest, unit=figure.unit, kind=figure.kind)
        if step.value == 0:
            raise UnitError("empty", "a step of nothing leads nowhere; write it as “step 0.010 in”")
        check_band(step, _STEP)
        return Step(quantity=step)
    values = _read_list(figure, text)
    seen: set[object] = set()
    for value in values:
        if value.in_(figure.unit) in seen:
            raise UnitError("rising", f"{value} stands twice in the list; keep one of them")
        seen.add(value.in_(figure.unit))
    return values


def _read_words(figure: Figure, text: str) -> str:
    words = text.strip()
    if not words:
        raise UnitError("empty", "nothing was typed")
    if len(words) > 400:
        raise UnitError("too-long", f"this has {len(words)} characters; shorten it to 400")
    found = next(forbidden(words), None)
    if found:
        raise UnitError("not-a-number", f"{name(found[0])} stands in this text; take it out")
    if figure.kind == "choice":
        for choice in figure.choices:
            if choice.casefold() == words.casefold():
                return choice
        near = did_you_mean(words, figure.choices)
        raise UnitError(
            "choice",
            f"“{words[:40]}” is not {one_of(figure.choices)}{near}",
            suggest=figure.choices,
        )
    if figure.kind == "thread":
        try:
            read_thread(words)
        except FigureError as error:
            raise UnitError("thread", error.problem) from error
    return words


def _read_changes(text: str) -> str:
    """Read what was changed: some of `CHANGES` with commas between, or nothing."""
    words = [" ".join(part.split()).lower() for part in text.split(",")]
    if words == [NOTHING]:
        return NOTHING
    for word in words:
        if word not in CHANGES:
            near = did_you_mean(word, (*CHANGES, NOTHING))
            raise UnitError(
                "choice",
                f"“{word[:40]}” is not {one_of((*CHANGES, NOTHING))}{near}; commas between several",
                suggest=(NOTHING, *CHANGES),
            )
    return ", ".join(word for word in CHANGES if word in words)
