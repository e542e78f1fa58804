"""Counting a stage: one fastener, so many of it so far, or all that is left."""

from collections.abc import Sequence

from snugset.guide.address import Address
from snugset.guide.answer import Answer
from snugset.guide.ruling import stop

_DIGITS = 4


def closing(
    answer: Answer, here: Address, rest: Sequence[Address], whole: int
) -> Sequence[Address]:
    """Give what an answer closes of the rest of a stage of `whole` fasteners, in its order.

    ``stage`` closes all that is left; ``stage 5`` says that five of the stage are done so far.
    """
    if answer.verb != "stage":
        return (here,)
    if not answer.text:
        return rest
    done, typed = whole - len(rest), answer.text
    plain = typed.isascii() and typed.isdigit() and len(typed) <= _DIGITS
    if not plain or not done < int(typed) <= whole:
        stop(
            "count",
            f"stage {typed}: {done} of the {whole} in this stage are done already; count from its "
            f"first fastener, {done + 1} to {whole}.",
            "stage",
        )
    return rest[: int(typed) - done]
