"""A calculator's result in one line of text, as it is noted in a build."""

from collections.abc import Mapping

from snugset.trade.calculator import Calculator, Result
from snugset.trade.calculators import shown_with_doubt

_CUT = " … (the rest of the working is left out)"


def noted(calculator: Calculator, texts: Mapping[str, str], result: Result, *, longest: int) -> str:
    """Give inputs as typed, results with their U, working and source, in so many letters.

    Where it is longer the working is cut, and says so; inputs and results stand first.
    """
    given = "; ".join(
        f"{one.key} {texts[one.key]}" for one in calculator.inputs if texts.get(one.key)
    )
    gives = "; ".join(f"{key} {shown_with_doubt(one)}" for key, one in result.outputs.items())
    text = (
        f"{calculator.name}: from {given or 'nothing'} comes {gives}. "
        f"Working: {'; '.join(result.working)}. Source: {result.source}."
    )
    return text if len(text) <= longest else f"{text[: longest - len(_CUT)]}{_CUT}"
