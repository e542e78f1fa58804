"""What a command writes: lines to people, JSON to programs, one sentence for an error."""

import sys
from decimal import Decimal

from snugset.printable import printable


def say(*lines: str) -> None:
    """Write lines to standard output; what is in them is shown, never obeyed."""
    for line in lines:
        sys.stdout.write(f"{printable(line)}\n")


def warn(*lines: str) -> None:
    """Write lines to standard error."""
    for line in lines:
        sys.stderr.write(f"{printable(line)}\n")


def say_json(value: object) -> None:
    """Write a value as JSON, in ASCII alone; a decimal becomes a number."""
    import json  # noqa: PLC0415 - for --json only

    text = json.dumps(value, indent=2, default=_number)
    sys.stdout.write(text.replace("\x7f", "\\u007f") + "\n")


def say_text(text: str) -> None:
    """Write a text of several lines to standard output."""
    say(*text.removesuffix("\n").split("\n"))


def _number(value: object) -> int | float:
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() else float(value)
    raise TypeError(type(value).__name__)
