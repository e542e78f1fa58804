"""What can be done on the screens: key, footer, palette and help all come from here."""

from collections.abc import Sequence

from textual.binding import Binding

from snugset.screens.declared import COMMANDS, Command

__all__ = ["COMMANDS", "Command", "bindings", "footer", "of"]

_LAST = ("help", "quit")
"""Always in the footer, at its end."""


def of(screen: str) -> tuple[Command, ...]:
    """Give the commands of a screen, in the order of the footer."""
    return tuple(command for command in COMMANDS if screen in command.screens)


def bindings(screen: str) -> list[Binding]:
    """Give a screen's bindings, as the screen library wants them."""
    return [
        Binding(
            command.key,
            command.name,
            command.footer,
            key_display=command.shown,
            show=command.footed,
            priority=command.priority,
        )
        for command in of(screen)
    ]


def footer(screen: str, width: int) -> str:
    """Give the footer's line: as many commands as fit, help and quit always."""
    shown = [c for c in of(screen) if c.footed]
    last = [c for c in shown if c.name in _LAST]
    rest = [c for c in shown if c.name not in _LAST]
    while rest and len(_line([*rest, *last], " ")) > width:
        rest.pop()
    wide = _line([*rest, *last], "   ")
    return wide if len(wide) <= width else _line([*rest, *last], " ")


def _line(shown: Sequence[Command], between: str) -> str:
    return between.join(f"{c.shown} {c.footer}" for c in shown)
