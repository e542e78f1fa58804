"""What can be done on the screens: key, footer, palette and help all come from here."""

from collections.abc import Collection, Sequence

from textual.binding import Binding

from snugset.screens.declared import COMMANDS, Command

__all__ = ["COMMANDS", "Command", "bindings", "footer", "of"]

_LAST = ("leave", "help", "quit")
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


def footer(screen: str, width: int, lines: int = 1, without: Collection[str] = ()) -> list[str]:
    """Give the footer in so many lines or fewer: the commands that fit; back, help, quit always.

    Where some are left out, an ellipsis before these says so: help names them. `without` are those
    that have nothing to act on now.
    """
    shown = [c for c in of(screen) if c.footed and c.name not in without]
    least = sorted((c for c in shown if c.name in _LAST), key=lambda c: _LAST.index(c.name))
    last = [f"{c.shown} {c.footer}" for c in least]
    rest = [f"{c.shown} {c.footer}" for c in shown if c.name not in _LAST]
    wide = "   ".join([*rest, *last])
    if len(wide) <= width:
        return [wide]
    found = _broken([*rest, *last], width)
    while rest and len(found) > lines:
        rest.pop()
        found = _broken([*rest, "…", *last], width)
    return found[:lines]


def _broken(parts: Sequence[str], width: int) -> list[str]:
    """Set commands one after the other; none of them is broken over two lines."""
    found: list[str] = []
    for part in parts:
        if found and len(found[-1]) + 1 + len(part) <= width:
            found[-1] += f" {part}"
        else:
            found.append(part)
    return found
