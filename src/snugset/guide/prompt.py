"""The one thing asked now; derived, never stored."""

from collections.abc import Mapping

from snugset.guide.address import Address
from snugset.typed import Literal
from snugset.values import dataclass, field

Asks = Literal["tick", "count", "figure", "choice", "text", "wait"]
View = Literal["", "map", "crank", "ledger", "list"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Large:
    """A figure that is read from arm's length: what it does, its digits, its unit."""

    does: str
    """``set to``, ``between``, ``aim for`` …; of a reading its verdict."""
    value: str
    unit: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Prompt:
    """What a front end shows and what it may be answered with."""

    address: Address
    sequence: int
    phase: str
    words: str
    asks: Asks
    place: str = ""
    """Where, in words."""
    facts: tuple[str, ...] = ()
    """Figures that belong to it: the setting in both units, the prediction, the window."""
    large: Large | None = None
    """The one figure that matters here, to be shown large."""
    unit: str = ""
    """A bare figure takes it."""
    proposal: str = ""
    """What Enter takes, where Enter takes something other than a tick."""
    choices: tuple[str, ...] = ()
    calculator: str = ""
    inputs: Mapping[str, str] = field(default_factory=dict)
    """The calculator's inputs bound so far, as text."""
    reading_key: str = ""
    """The calculator's input that is being typed."""
    view: View = ""
    why: str = ""
    caution: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    people: int = 1
    waiting: tuple[str, ...] = ()
    """What waits meanwhile, in words."""
