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
    """Write a value as JSON; a decimal becomes a number."""
    import json  # noqa: PLC0415 - for --json only

    say_json_text(json.dumps(value, ensure_ascii=False, indent=2, default=_number) + "\n")


def say_json_text(text: str) -> None:
    """Write JSON as it is; a letter that is not to be seen, or not to be had here, is escaped."""
    wide = "utf" in (sys.stdout.encoding or "").lower()
    sys.stdout.write(
        "".join(
            letter
            if letter == "\n" or (letter.isprintable() and (wide or letter.isascii()))
            else _escaped(letter)
            for letter in text
        )
    )


def say_text(text: str) -> None:
    """Write a text of several lines to standard output."""
    say(*text.removesuffix("\n").split("\n"))


def _number(value: object) -> int | float:
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() else float(value)
    raise TypeError(type(value).__name__)


def _escaped(letter: str) -> str:
    """Give a letter as JSON escapes it: outside the first 65,536 as two halves."""
    halves = letter.encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{halves[at : at + 2].hex()}" for at in range(0, len(halves), 2))
