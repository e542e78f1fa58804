"""What a browser says on its line, read with nothing taken on trust."""

import json

from snugset.values import dataclass

LARGEST = 64 * 1024
"""Bytes of one message: a long paste fits."""
_SMALLEST_SIZE, _LARGEST_SIZE = 2, 400
_LONGEST_MARK = 64


@dataclass(frozen=True, slots=True)
class Keys:
    """Bytes as a terminal gives them."""

    data: bytes


@dataclass(frozen=True, slots=True)
class Size:
    """Columns and rows."""

    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Ping:
    """To be given back."""

    mark: str


@dataclass(frozen=True, slots=True)
class Nothing:
    """Understood, and nothing follows from it: where the browser's own attention is."""


Said = Keys | Size | Ping | Nothing


def read(message: str) -> Said:
    """Read one message; ValueError if it is none of ours."""
    try:
        said = json.loads(message)
    except RecursionError:
        raise ValueError("too deep") from None
    match said:
        case ["stdin", str(data)]:
            return Keys(data.encode())
        case ["resize", {"width": int(width), "height": int(height)}]:
            return Size(_within(width), _within(height))
        case ["ping", str(mark)] if len(mark) <= _LONGEST_MARK:
            return Ping(mark)
        case ["focus" | "blur"]:
            return Nothing()
        case _:
            raise ValueError("not understood")


def _within(number: int) -> int:
    return max(_SMALLEST_SIZE, min(number, _LARGEST_SIZE))
