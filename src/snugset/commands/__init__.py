"""The commands, one module each; a module is loaded only when its command is used."""

from importlib import import_module

from snugset.commands.declare import Command

NAMES = (
    *("new", "resume", "list", "demo", "serve"),
    *("check", "crank", "figure"),
    *("order", "cards", "attach"),
    *("specs", "revise", "sheet", "verify", "backup", "restore", "replay"),
)
"""In the order in which help shows them; the module has the command's name."""


def load(name: str) -> Command:
    """Give the declaration of one of `NAMES`."""
    command = import_module(f"{__name__}.{name}").COMMAND
    if not isinstance(command, Command):
        raise TypeError(name)
    return command
