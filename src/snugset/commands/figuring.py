"""Working out a figure for the shell, and telling what a calculator asks for."""

from collections.abc import Mapping

from snugset.commands.declare import CommandError, Given, UsageError
from snugset.commands.layout import columns, folded, paragraph
from snugset.commands.output import say, say_json
from snugset.commands.parse import quote
from snugset.commands.systems import in_system
from snugset.trade.asked import as_typed, asked
from snugset.trade.calculators import (
    CALCULATORS,
    FigureError,
    figure,
    shown_with_doubt,
    to_json,
)


def listing() -> None:
    """Name every calculator."""
    say(*columns((calculator.name, calculator.words) for calculator in CALCULATORS.values()))
    say("", "Keys, units and a worked example of one: snugset figure NAME --help")


def work_out(given: Given) -> None:
    """Show a figure with its working; UsageError names the key at fault and the fix."""
    name = given.one("NAME")
    texts = _pairs(given.many("KEY=VALUE"))
    try:
        result = figure(name, texts, engines=engine)
    except FigureError as error:
        raise UsageError(f"{error}; see: snugset figure {_known(name)}--help") from error
    result = in_system(result, given.one("--units"))
    if given.has("--json"):
        say_json(to_json(name, texts, result))
        return
    say(*columns((key, shown_with_doubt(one)) for key, one in result.outputs.items()))
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
    say(*folded((f"  {one.key}", asked(one), one.words) for one in calculator.inputs))
    say("", "It gives:")
    say(*folded((f"  {out.key}", out.unit, out.words) for out in calculator.outputs))
    say("", *(f"  {line}" for line in calculator.formula), "")
    say(*paragraph(f"Source: {calculator.source}"), "", "Worked example:", "")
    say(f"  snugset figure {name} {' '.join(as_typed(calculator))}")
    say(*(f"    {key} {value}" for key, value in calculator.example.outputs.items()))


def engine(text: str) -> Mapping[str, str]:
    """Look up an engine as it is named, and give what it knows of a calculator's keys.

    UsageError names the key where there is no such engine, or its file holds mistakes.
    """
    from snugset.commands.cranking import engine_at  # noqa: PLC0415 - for an engine only
    from snugset.files.known import known  # noqa: PLC0415

    try:
        return known(engine_at(text))
    except CommandError as error:
        raise UsageError(f"engine: {error}") from error


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
