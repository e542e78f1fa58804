"""The program: reads the command line, runs the one command that is meant, and ends quietly."""

import gc
import io
import os
import sys
from collections.abc import Sequence
from contextlib import suppress

from snugset import __version__
from snugset.commands import NAMES, load
from snugset.commands.declare import Command, Given, Place
from snugset.commands.output import say
from snugset.commands.parse import command_word, parse
from snugset.values import replace

_INTERRUPTED = 130
_BROKEN_PIPE = 141


def main(argv: Sequence[str] | None = None) -> int:
    """Run the program with these arguments, or with the process's own; the exit code.

    0 done, 1 mistakes found, refused or a fault, 2 not understood; 130 and up ended from outside.
    """
    whole = argv is None
    if whole:
        # What a command loads stays to its end, and looking for refuse in it takes a tenth of the
        # time. Who stays longer, at a build, lets it be looked for again.
        gc.disable()
    _prepare_streams()
    place = Place(os.environ)
    try:
        word, rest = command_word(sys.argv[1:] if argv is None else argv, NAMES)
        command = load(word or ("home" if sys.stdin.isatty() and sys.stdout.isatty() else "list"))
        given = parse(command, rest)
        if given.has("--data"):
            from pathlib import Path  # noqa: PLC0415 - loads for long, and a check needs none

            place = replace(place, moved=Path(given.one("--data")))
        code = _run(command, given, place, named=bool(word))
        sys.stdout.flush()
    except KeyboardInterrupt:
        if sys.stdout.isatty():
            say("")
        return _INTERRUPTED
    except BrokenPipeError:
        _discard_output()
        return _BROKEN_PIPE
    except Exception as error:  # noqa: BLE001 - the terminal gets a sentence, never a traceback
        from snugset.commands.failing import told  # noqa: PLC0415 - only on failure

        code = told(error, place)
        if isinstance(error, OSError):
            _discard_output()
    if whole:
        gc.freeze()
    return code


def _run(command: Command, given: Given, place: Place, *, named: bool) -> int:
    if given.has("--version"):
        say(f"snugset {__version__}")
        return 0
    if not given.has("--help"):
        return command.run(given, place)
    from snugset.commands.helping import command_help, overview  # noqa: PLC0415 - only for help

    if not named:
        overview(place)
    elif command.helps is None or not command.helps(given):
        command_help(command, place)
    return 0


def _prepare_streams() -> None:
    """Let no letter stop the program: one that a terminal has not is shown as a question mark.

    Bytes that are no text come in as halves of characters, which every reader here refuses. A
    stream that was closed before we came reads and writes nothing; left closed, the next file to be
    opened would be taken for it.
    """
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: PTH123, SIM115
    for stream, errors in (
        (sys.stdin, "surrogateescape"),
        (sys.stdout, "replace"),
        (sys.stderr, "replace"),
    ):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors=errors)


def _discard_output() -> None:
    """Send what is left to nowhere: whoever read it has gone."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    with suppress(OSError):  # a stream without a file, as in tests
        os.dup2(nowhere, sys.stdout.fileno())
    os.close(nowhere)
