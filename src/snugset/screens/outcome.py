"""What an answer came to, and what one that is being typed would come to."""

from collections.abc import Mapping
from decimal import Decimal

from textual.content import Content

from snugset.guide.answer import parse_answer
from snugset.guide.prompt import Large, Prompt
from snugset.guide.ruling import Decision, Refusal
from snugset.screens.words import text
from snugset.trade.verdict import Verdict
from snugset.units import Quantity, UnitError, read, read_takes, rounded, signed

Outcome = Decision | Refusal | None


def stopped(outcome: Outcome) -> bool:
    """Tell whether the prompt stays open: nothing was taken, or not as it was given."""
    return isinstance(outcome, Refusal) or bool(outcome and outcome.code)


def came(outcome: Outcome) -> list[Content]:
    """Give what an answer came to, with the way through where a rule stopped it."""
    if outcome is None:
        return []
    sign, style = ("✗", "bold $error") if stopped(outcome) else ("✓", "$success")
    if isinstance(outcome, Decision):
        return _signed(sign, outcome.said, style)
    return [*_signed(sign, [outcome.words], style), *_ways(outcome)]


def foreseen(asked: Prompt | None, typed: str, outcome: Outcome) -> list[Content]:
    """Give what an answer would come to, as it is typed: its verdict, then the working.

    Without a prompt the working is what the answer itself keeps.
    """
    if outcome is None:
        return []
    if isinstance(outcome, Refusal):
        if outcome.code == "photo-unread":  # only Enter reads a file
            return _signed("→", [outcome.words], "bold $accent")
        return refused(asked, typed, outcome, "$warning")
    found = working(asked, typed) if asked else []
    if not found:
        found = [w for event in outcome.events for w in event.body.get("working", ())]
    said = outcome.said or ("Enter keeps it.",)
    style = "bold $warning" if outcome.code else "bold $accent"
    return [
        *_signed("✗" if outcome.code else "→", said, style),
        *(text(line, "$secondary") for line in found if line not in said),
    ]


def live(asked: Prompt, typed: str, come: Outcome) -> Large | None:
    """Give the figure that is being typed, with the verdict that it would get."""
    for event in come.events if isinstance(come, Decision) else ():
        if event.kind == "reading":
            value = rounded(Quantity.from_json(event.body["value"]))
            verdict = Verdict(event.body["verdict"])
            words = "proved in" if verdict is Verdict.IN else verdict.words  # not the unit in
            return Large(does=words, value=signed(value.value), unit=value.unit)
    given = parse_answer(typed, address=asked.address, sequence=0, person="")
    if asked.asks != "figure" or not asked.unit or given.verb not in ("say", "again"):
        return None
    try:
        last = read_takes(given.text, unit=asked.unit, negative=True)[-1]
        sum_ = rounded(
            Quantity(sum((each.in_(asked.unit) for each in last), Decimal(0)), asked.unit)
        )
    except UnitError:
        return None
    return Large(does="typed", value=signed(sum_.value), unit=sum_.unit)


def refused(
    asked: Prompt | None, typed: str, refusal: Refusal, style: str = "bold $error"
) -> list[Content]:
    """Give why an answer is not taken, the way through, and the working of what was typed."""
    found = working(asked, typed) if asked else []
    shown = _signed("✗", [refusal.words], style)
    return [*shown, *_ways(refusal), *(text(line, "$secondary") for line in found)]


def working(asked: Prompt, typed: str) -> list[str]:
    """Give the formula of the prompt's calculator with the numbers put in, and its source.

    Nothing where the prompt has no calculator, or the text is no reading yet.
    """
    from snugset.trade.calculators import (  # noqa: PLC0415 - loaded with the first reading
        CALCULATORS,
        FigureError,
        figure,
    )

    given = parse_answer(typed, address=asked.address, sequence=0, person="")
    if not asked.reading_key or given.verb not in ("say", "again"):
        return []
    inputs = CALCULATORS[asked.calculator].inputs
    form = next(each.form for each in inputs if each.key == asked.reading_key)
    try:
        texts: Mapping[str, str] = {
            **asked.inputs,
            asked.reading_key: _with_unit(given.text, asked.unit, takes=form == "takes"),
        }
        result = figure(asked.calculator, texts)
    except (UnitError, FigureError):
        return []
    return [*result.working, f"Source: {result.source}"]


def _with_unit(typed: str, unit: str, *, takes: bool) -> str:
    """Write a reading with its units: the prompt's may not be the calculator's own."""
    if not takes:
        return str(read(typed, unit=unit, negative=True))
    stacks = read_takes(typed, unit=unit)
    return "; ".join("+".join(map(str, stack)) for stack in stacks)


def _signed(sign: str, said: tuple[str, ...] | list[str], style: str) -> list[Content]:
    return [
        text(f"{sign} {words}" if number == 0 else words, style)
        for number, words in enumerate(said)
    ]


def _ways(refusal: Refusal) -> list[Content]:
    offered = refusal.suggest if refusal.code != "choice" else ()  # its words list them
    ways = [text(f"Type: {suggestion}", "bold") for suggestion in offered]
    if refusal.overridable:
        ways.append(text("F6: go on all the same, because …", "bold"))
    return ways
