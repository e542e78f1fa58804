"""Rows lined up in columns, and texts folded to the narrowest terminal."""

from collections.abc import Iterable, Iterator

from snugset.printable import printable

WIDTH = 79
_NARROWEST = 24


def columns(rows: Iterable[tuple[str, ...]]) -> Iterator[str]:
    """Give rows with all columns but the last one lined up."""
    for before, last in _lined_up(rows):
        yield f"{before}{last}".rstrip()


def folded(rows: Iterable[tuple[str, ...]]) -> Iterator[str]:
    """Give rows lined up, the last column folded below itself where it is too long."""
    for before, last in _lined_up(rows):
        width = max(WIDTH - len(before), _NARROWEST)
        lines = paragraph(last, width) or [""]
        yield f"{before}{lines[0]}".rstrip()
        yield from (f"{' ' * len(before)}{line}" for line in lines[1:])


def paragraph(text: str, width: int = WIDTH) -> list[str]:
    """Give a text in lines."""
    from textwrap import wrap  # noqa: PLC0415 - the list of builds folds nothing

    return wrap(text, width, break_on_hyphens=False)


def _lined_up(rows: Iterable[tuple[str, ...]]) -> Iterator[tuple[str, str]]:
    """Give of each row all but the last cell as one text, and the last."""
    table = [tuple(map(printable, row)) for row in rows]
    widths = [max(map(len, column)) for column in zip(*table, strict=True)]
    for *cells, last in table:
        padded = (cell.ljust(width + 2) for cell, width in zip(cells, widths, strict=False))
        yield "".join(padded), last
