"""A reading that cannot stand: it is kept on the record, and its address stays open."""

from snugset.guide.answer import Answer
from snugset.guide.ruling import Decision, Ruling
from snugset.guide.scene import Occurrence
from snugset.units import Quantity


def set_aside(  # noqa: PLR0917 - what was read, and why it cannot stand
    found: Occurrence,
    answer: Answer,
    value: Quantity,
    uncertainty: Quantity | None,
    code: str,
    words: str,
) -> Decision:
    """Record a reading that does not stand; `uncertainty` is None for a bound."""
    ruling = Ruling(answer, found.address)
    ruling.add(
        "set-aside",
        {
            "at": str(found.address),
            "value": value.to_json(),
            "uncertainty": None if uncertainty is None else uncertainty.to_json(),
            "typed": answer.text,
            "code": code,
            "words": words,
        },
    )
    ruling.said.append(words)
    return ruling.decision(code)
