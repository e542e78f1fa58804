"""What a command of the screens is."""

from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """One command on some screens."""

    name: str
    """The screen's method is ``action_`` and this name."""
    key: str
    shown: str
    """The key as the footer and the help show it."""
    footer: str
    palette: str
    """What the command palette calls it."""
    help: str
    screens: tuple[str, ...]
    footed: bool = True
    """Whether it stands in the footer; the others are in help and palette only."""
    priority: bool = False
    """Whether it comes before the field that is typed in."""


EVERYWHERE = (
    *("builds", "bench", "specs", "history", "new", "help", "order"),
    *("calculators", "figure", "working", "file", "copy", "follow"),
)
