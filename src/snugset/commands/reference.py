"""The reference page of the calculators, made from their declarations.

``python -m snugset.commands.reference > docs/calculators.md``
"""

import sys
from collections.abc import Iterable, Iterator

from snugset.commands.layout import columns
from snugset.trade.asked import as_typed, asked
from snugset.trade.calculator import Calculator
from snugset.trade.calculators import CALCULATORS, figure, shown_with_doubt

_WIDEST = 90
_HEAD = """\
# Calculators

Made by `python -m snugset.commands.reference > docs/calculators.md` from the declarations in
`src/snugset/trade/declared/`; a test keeps it so.

    snugset figure                                  all of them
    snugset figure NAME --help                      what one asks for
    snugset figure NAME KEY=VALUE… [--json] [--units inch|metric]

**How figures are typed.** A bare figure takes the unit in brackets and never changes it; any other
unit of its kind may be written after it: `35`, `.035 in`, `38 thou`, `0.97 mm`, `22 ft-lb`. A sum
is added up: `17+18`. In a list, a window or a row of places the last unit holds for the bare
figures before it. A comma is never a decimal point. A figure that is plausible only after a slip of
unit is refused, and both readings are said.

**U** is the half-width at about 95 % (k = 2). Verdicts are `in` (proved inside), `inside` (not
proved), `outside` (not proved), `low`, `high`, `no-limit`, and `loose` or `bottomed`, which are no
measurements.

**For programs.** `--json` prints one object: `figure`, its name; `inputs`, each key's text;
`outputs`, each key's `value`, `unit` and `uncertainty` (a number, or null); `working`, a list of
lines; `source`. Several values are a list, a value for each place is an object. Outputs that do not
apply are left out. Exit 2 for what cannot be worked out.

**Sources.** “From memory” is a published value quoted without the book at hand; “common practice”
has no published source; “derived here” follows from the formula shown. No figure here is an
engine's specification: those are the builder's to bring.
"""


def page() -> str:
    """Give the whole page, in Markdown."""
    return "\n".join(_lines())


def _lines() -> Iterator[str]:
    yield _HEAD
    every = CALCULATORS.values()
    yield from _table(
        ("calculator", "what it works out"),
        ((f"[{one.name}](#{one.name})", one.words) for one in every),
    )
    for calculator in every:
        yield from _one(calculator)


def _one(calculator: Calculator) -> Iterator[str]:
    yield f"\n## {calculator.name}\n"
    yield f"{calculator.words[0].upper()}{calculator.words[1:]}.\n"
    yield from _table(
        ("key", "typed as", "what it is"),
        ((f"`{one.key}`", asked(one), one.words) for one in calculator.inputs),
    )
    yield ""
    yield from _table(
        ("gives", "unit", "what it is"),
        ((f"`{out.key}`", out.unit, out.words) for out in calculator.outputs),
    )
    yield "\nFormula:\n"
    yield from (f"    {line}" for line in calculator.formula)
    yield f"\nSource: {calculator.source}.\n\nWorked example:\n"
    result = figure(calculator.name, calculator.example.inputs)
    yield from (f"    {line}" for line in _typed(calculator))
    yield ""
    told = columns((key, shown_with_doubt(one)) for key, one in result.outputs.items())
    yield from (f"    {line}" if line else "" for line in (*told, "", *result.working))


def _typed(calculator: Calculator) -> Iterator[str]:
    """Give the example as it is typed, continued on the next line where it is long."""
    line = f"snugset figure {calculator.name}"
    for pair in as_typed(calculator):
        if len(line) + len(pair) > _WIDEST:
            yield f"{line} \\"
            line = "   "
        line += f" {pair}"
    yield line


def _table(head: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> Iterator[str]:
    for cells in (head, ("---",) * len(head), *rows):
        yield f"| {' | '.join(map(_cell, cells))} |"


def _cell(text: str) -> str:
    """Keep a bar in a text from ending its cell."""
    return text.replace("|", r"\|")


if __name__ == "__main__":
    sys.stdout.write(f"{page()}\n")
