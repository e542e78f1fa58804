"""What a builder types, in the one grammar of both front ends and of answers files."""

from dataclasses import dataclass
from typing import Literal

from snugset.guide.address import Address

Verb = Literal["say", "none", "skip", "back", "note", "again", "arrived", "stage"]
LONGEST = 2000


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One answer, to one prompt."""

    address: Address
    sequence: int
    """The prompt's; an answer to an older painting is refused."""
    verb: Verb = "say"
    text: str = ""
    """What was typed, without verb and reason."""
    reason: str = ""
    """Why to go on against the rule that stopped it; empty for none."""
    person: str = ""


def parse_answer(typed: str, *, address: Address, sequence: int, person: str) -> Answer:
    """Read `typed` as an answer; anything that is no verb is the text of a plain answer.

    ``skip``, ``note`` and ``again`` are followed by their text; a reason follows `` ! ``.
    """
    whole = typed.strip()
    word, _, rest = whole.partition(" ")
    lowered = word.lower()
    verb: Verb = "say"
    text = whole
    reason = ""
    if lowered in ("skip", "note"):
        verb, text = ("skip" if lowered == "skip" else "note"), rest.strip()
    else:
        if " ! " in f" {whole} ":
            before, _, after = f" {whole} ".partition(" ! ")
            text, reason = before.strip(), after.strip()
            word, _, rest = text.partition(" ")
            lowered = word.lower()
        if lowered == "again" and rest.strip():
            verb, text = "again", rest.strip()
        elif lowered in ("none", "back", "arrived", "stage") and not rest.strip():
            verb = {"none": "none", "back": "back", "arrived": "arrived", "stage": "stage"}[lowered]  # type: ignore[assignment]
            text = ""
    return Answer(
        address=address, sequence=sequence, verb=verb, text=text, reason=reason, person=person
    )
