"""Help, made from the declarations."""

from collections.abc import Iterable

from snugset.commands import NAMES, load
from snugset.commands.declare import TOP, Argument, Command, Place
from snugset.commands.layout import WIDTH, folded, paragraph
from snugset.commands.output import say


def overview(place: Place) -> None:
    """Show what the program does, its commands, and where it keeps what it writes."""
    commands = [load(name) for name in NAMES]
    say("Snugset guides the assembly of a pushrod engine's top end, step by step.", "")
    say("usage: snugset [--data DIR] [COMMAND …]", "")
    for command in commands:
        say(*_usage("  ", command.name, command))
        say(*(f"      {line}" for line in paragraph(command.help, WIDTH - 6)))
    say("", "Without a command: list. More about one: snugset COMMAND --help", "")
    _options(TOP)
    say("")
    _files(place)


def command_help(command: Command, place: Place) -> None:
    """Show one command."""
    say(*_usage("usage: ", f"snugset {command.name}", command), "")
    say(*paragraph(f"{command.help[0].upper()}{command.help[1:]}."))
    for text in command.notes.split("\n"):
        say(*([text] if text.startswith(" ") else paragraph(text)))
    if command.arguments:
        say("")
        _options(command.arguments)
    for example in command.examples:
        say("", f"  {example}")
    say("", "Taken by every command:")
    _options(TOP)
    say("")
    _files(place)


def _usage(before: str, name: str, command: Command) -> list[str]:
    """Give the usage in lines, no argument parted from its value."""
    lines = [f"{before}{name}"]
    for argument in command.arguments:
        if len(lines[-1]) + 1 + len(argument.usage) > WIDTH:
            lines.append(" " * len(f"{before}{name}"))
        lines[-1] += f" {argument.usage}"
    return lines


def _options(arguments: Iterable[Argument]) -> None:
    say(*folded((f"  {argument.typed}", argument.help) for argument in arguments))


def _files(place: Place) -> None:
    say(f"Builds are kept in {place.data / 'builds'}")
    say(f"An unexpected fault is written down in {place.crash_log}")
    say("Exit: 0 done, 1 mistakes found or refused, 2 not understood.")
