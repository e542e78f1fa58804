"""What a command writes: lines to people, JSON to programs, one sentence for an error."""

import sys
from decimal import Decimal

from snugset.printable import printable, printable_json


def say(*lines: str) -> None:
    """Write lines to standard output; what is in them is shown, never obeyed."""
    for line in lines:
        sys.stdout.write(f"{printable(line)}\n")


def warn(*lines: str) -> None:
    """Write lines to standard error."""
    for line in lines:
        sys.stderr.write(f"{printable(line)}\n")


def say_json(value: object) -> None:
    """Write a value as JSON; a decimal becomes a number."""
    import json  # noqa: PLC0415 - for --json only

    say_json_text(json.dumps(value, ensure_ascii=False, indent=2, default=_number) + "\n")


def say_json_text(text: str) -> None:
    """Write JSON as it is; a letter that is not to be seen, or not to be had here, is escaped."""
    wide = "utf" in (sys.stdout.encoding or "").lower()
    sys.stdout.write(printable_json(text, wide=wide))


def say_bytes(text: str) -> None:
    """Write a whole file to standard output as it is, in UTF-8 whatever the terminal's own is."""
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode())
    sys.stdout.buffer.flush()


def say_text(text: str) -> None:
    """Write a text of several lines to standard output."""
    say(*text.removesuffix("\n").split("\n"))


def _number(value: object) -> int | float:
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() else float(value)
    raise TypeError(type(value).__name__)
