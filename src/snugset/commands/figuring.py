"""Working out a figure for the shell, and telling what a calculator asks for."""

from collections.abc import Mapping
from shlex import quote as shell_quote

from snugset.commands.declare import Given, UsageError
from snugset.commands.layout import columns, folded, paragraph
from snugset.commands.output import say, say_json
from snugset.commands.parse import quote
from snugset.commands.systems import in_system
from snugset.trade.calculator import Calculator, Figure, Form, Input
from snugset.trade.calculators import CALCULATORS, FigureError, figure, shown, to_json


def listing() -> None:
    """Name every calculator."""
    say(*columns((calculator.name, calculator.words) for calculator in CALCULATORS.values()))
    say("", "Keys, units and a worked example of one: snugset figure NAME --help")


def work_out(given: Given) -> None:
    """Show a figure with its working; UsageError names the key at fault and the fix."""
    name = given.one("NAME")
    texts = _pairs(given.many("KEY=VALUE"))
    try:
        result = figure(name, texts)
    except FigureError as error:
        raise UsageError(f"{error}; see: snugset figure {_known(name)}--help") from error
    result = in_system(result, given.one("--units"))
    if given.has("--json"):
        say_json(to_json(name, texts, result))
        return
    say(*columns((key, _value(one)) for key, one in result.outputs.items()))
    say("", *(f"  {line}" for line in result.working), "")
    say(*paragraph(f"Source: {result.source}"))


def explain(name: str) -> None:
    """Show what one calculator asks for and gives, and its worked example."""
    calculator = CALCULATORS.get(name)
    if calculator is None:
        try:
            figure(name, {})
        except FigureError as error:
            raise UsageError(f"{error}") from error
        return
    say(f"usage: snugset figure {name} KEY=VALUE… [--units inch|metric] [--json]", "")
    say(*paragraph(f"{calculator.words[:1].upper()}{calculator.words[1:]}."), "")
    say(*folded((f"  {one.key}", _asked(one), one.words) for one in calculator.inputs))
    say("", "It gives:")
    say(*folded((f"  {out.key}", out.unit, out.words) for out in calculator.outputs))
    say("", *(f"  {line}" for line in calculator.formula), "")
    say(*paragraph(f"Source: {calculator.source}"), "", "Worked example:", "")
    say(f"  {_typed(calculator)}")
    say(*(f"    {key} {value}" for key, value in calculator.example.outputs.items()))


def _typed(calculator: Calculator) -> str:
    """Give the worked example as it is typed."""
    pairs = (f"{key}={text}" for key, text in calculator.example.inputs.items())
    return " ".join(("snugset figure", calculator.name, *map(shell_quote, pairs)))


def _asked(one: Input) -> str:
    """Say in what form a key is typed, and what holds without it."""
    if one.choices:
        form = "|".join(one.choices)
    else:
        unit = f" ({one.unit})" if one.unit and one.form in _IN_UNITS else ""
        form = "a figure with its unit" if one.any_kind else f"{_FORMS[one.form]}{unit}"
    if one.default:
        return f"{form}, else {one.default}"
    return form if one.needed else f"{form}, or left out"


_IN_UNITS: Mapping[Form, str] = {
    "one": "a figure",
    "takes": "17+18; 18+18",
    "list": "figures with commas",
    "window": "low..high",
    "places": "1I=11 1E=14",
}
_FORMS: Mapping[Form, str] = {
    **_IN_UNITS,
    "banks": "left=1,3 right=2,4",
    "thread": "7/16-20 or M10x1.5",
    "share": "25 % or 0.25",
    "number": "a number",
    "whole": "a whole number",
    "choice": "a word",
}
"""How an input is typed, by its form."""


def _value(one: Figure) -> str:
    doubt = f" ± {one.uncertainty}" if one.uncertainty is not None else ""
    return f"{shown(one.value)}{doubt}"


def _pairs(words: tuple[str, ...]) -> dict[str, str]:
    texts: dict[str, str] = {}
    for word in words:
        key, equals, text = word.partition("=")
        if not equals:
            raise UsageError(
                f"{quote(word)} is no key=value; a value that holds a space goes in quotes: "
                f'"takes=17+18 thou"'
            )
        if key in texts:
            raise UsageError(f"{key}: there twice; leave one out")
        texts[key] = text
    return texts


def _known(name: str) -> str:
    return f"{name} " if name in CALCULATORS else ""
