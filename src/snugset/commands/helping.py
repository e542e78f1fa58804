"""Help, made from the declarations."""

from collections.abc import Iterable

from snugset.commands import NAMES, load
from snugset.commands.declare import TOP, Argument, Command, Place
from snugset.commands.layout import folded, paragraph
from snugset.commands.output import say


def overview(place: Place) -> None:
    """Show what the program does, its commands, and where it keeps what it writes."""
    commands = [load(name) for name in NAMES]
    say("Snugset guides the assembly of a pushrod engine's top end, step by step.", "")
    say("usage: snugset [--data DIR] [COMMAND …]", "")
    for command in commands:
        say(f"  {command.usage.removeprefix('snugset ')}")
        say(f"      {command.help}")
    say("", "Without a command: list. More about one: snugset COMMAND --help", "")
    _options(TOP)
    say("")
    _files(place)


def command_help(command: Command, place: Place) -> None:
    """Show one command."""
    say(f"usage: {command.usage}", "")
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


def _options(arguments: Iterable[Argument]) -> None:
    rows = [(f"  {a.name} {'|'.join(a.choices) or a.value}".rstrip(), a.help) for a in arguments]
    say(*folded(rows))


def _files(place: Place) -> None:
    say(f"Builds are kept in {place.data / 'builds'}")
    say(f"An unexpected fault is written down in {place.crash_log}")
    say("Exit: 0 done, 1 mistakes found or refused, 2 not understood.")
