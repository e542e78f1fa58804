"""An address names one occurrence of a step."""

import re

from snugset.typed import Self
from snugset.values import dataclass

_FORM = re.compile(
    r"(?P<step>[a-z0-9][a-z0-9.-]*)(?:@(?P<place>[A-Za-z0-9.-]+))?(?:#(?P<round>\d{1,4}))?"
)


class AddressError(ValueError):
    """A text that is no address."""


@dataclass(frozen=True, slots=True, order=True)
class Address:
    """One occurrence of a step: ``gap@1I#2`` is step gap, place 1I, second round."""

    step: str
    """Its id in the procedure; ``spec.NAME`` for a figure, ``return`` after a break."""
    place: str = ""
    """A key: ``1I``, ``4``, ``2.7`` (stage 2, fastener 7), ``P1``; empty without a place."""
    round: int = 0
    """The round of measuring, from 1; 0 outside rounds."""

    def __str__(self) -> str:
        place = f"@{self.place}" if self.place else ""
        return f"{self.step}{place}" + (f"#{self.round}" if self.round else "")

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read an address as it is written; AddressError if it is none."""
        found = _FORM.fullmatch(text.strip())
        if found is None:
            raise AddressError(
                f"“{text.strip()[:60]}” is no address; write step, step@place or step@place#round"
            )
        return cls(found["step"], found["place"] or "", int(found["round"] or 0))


def addressed(typed: str) -> tuple[Address | None, str]:
    """Split ``@gap@1I#1 again 35`` into its address and the rest; AddressError if it is none."""
    if not typed.startswith("@"):
        return None, typed
    where, _, rest = typed[1:].partition(" ")
    return Address.parse(where), rest
