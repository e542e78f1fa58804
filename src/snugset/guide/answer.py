"""What a builder types, in the one grammar of both front ends and of answers files."""

from collections.abc import Mapping

from snugset.guide.address import Address
from snugset.typed import Literal
from snugset.values import dataclass

Verb = Literal[
    "say", "none", "skip", "back", "note", "again", "arrived", "stage", "person", "photo"
]
LONGEST = 2000
_WITH_TEXT: Mapping[str, Verb] = {
    "skip": "skip",
    "note": "note",
    "person": "person",
    "photo": "photo",
}
_ALONE: Mapping[str, Verb] = {
    "none": "none",
    "back": "back",
    "arrived": "arrived",
    "stage": "stage",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A photograph as the shell read it; its bytes are kept before the answer is."""

    name: str
    digest: str
    media: str
    size: int
    caption: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One answer, to one prompt."""

    address: Address
    sequence: int
    """The prompt's; an answer to an older painting is refused."""
    verb: Verb = "say"
    text: str = ""
    """What was typed, without verb and reason."""
    reasons: tuple[str, ...] = ()
    """Why to go on against the rules that stopped it, one reason a rule, in order."""
    person: str = ""
    photo: Photo | None = None
    """What ``photo`` names, once it was read."""


def parse_answer(typed: str, *, address: Address, sequence: int, person: str) -> Answer:
    """Read `typed` as an answer; anything that is no verb is the text of a plain answer.

    ``skip``, ``note``, ``person``, ``photo`` and ``again`` are followed by their text, ``stage`` by
    a count or nothing; a reason follows `` ! ``, and each further one another `` ! ``.
    """
    whole = typed.strip()
    word, _, rest = whole.partition(" ")
    reasons: tuple[str, ...] = ()
    if word.lower() in _WITH_TEXT:
        verb, text = _WITH_TEXT[word.lower()], rest.strip()
    else:
        bare, *after = (part.strip() for part in f" {whole} ".split(" ! "))
        reasons = tuple(filter(None, after))
        verb, text = _verb(bare)
    return Answer(
        address=address, sequence=sequence, verb=verb, text=text, reasons=reasons, person=person
    )


def _verb(bare: str) -> tuple[Verb, str]:
    word, _, rest = bare.partition(" ")
    if word.lower() == "again":
        return "again", rest.strip()
    if word.lower() == "stage" and len(rest.split()) == 1:
        return "stage", rest.strip()
    alone = _ALONE.get(bare.lower())
    return ("say", bare) if alone is None else (alone, "")
