"""How an input is typed, in a few words: for help and for the reference."""

from collections.abc import Mapping
from shlex import quote

from snugset.trade.calculator import Calculator, Form, Input

_FORMS: Mapping[Form, str] = {
    "one": "a figure",
    "takes": "17+18; 18+18",
    "list": "figures with commas",
    "window": "low..high",
    "places": "1I=11 1E=14",
    "banks": "left=1,3 right=2,4",
    "thread": "7/16-20 or M10x1.5",
    "share": "25 % or 0.25",
    "number": "a number",
    "whole": "a whole number",
    "choice": "a word",
    "order": "1-5-3-6-2-4",
    "camshaft": "IVO 12 IVC 48 EVO 52 EVC 10 at seat",
    "engine": "an engine file",
}
_IN_UNITS: tuple[Form, ...] = ("one", "takes", "list", "window", "places")


def asked(one: Input) -> str:
    """Say in what form a key is typed, and what holds without it: ``a figure (in), else 0.060 in``.

    The unit in brackets is the one that a bare figure takes.
    """
    if one.choices:
        form = "|".join(one.choices)
    elif one.any_kind:
        form = "a figure with its unit"
    else:
        unit = f" ({one.unit})" if one.unit and one.form in _IN_UNITS else ""
        form = f"{_FORMS[one.form]}{unit}"
    if one.default:
        return f"{form}, else {one.default}"
    return form if one.needed else f"{form}, or left out"


def as_typed(calculator: Calculator) -> tuple[str, ...]:
    """Give the worked example's inputs as words for a shell: ``'takes=17+18 thou'``."""
    return tuple(quote(f"{key}={text}") for key, text in calculator.example.inputs.items())
