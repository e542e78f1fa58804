"""Paragraphs, lists and tables of Markdown that read as plain text in 100 columns."""

from collections.abc import Collection, Iterator, Sequence

from snugset.files.characters import cells
from snugset.sheet.inert import guarded

WIDTH = 100
MOST = 44
"""Columns of a table's cell; what is longer is cut, and said in full below the table."""


def width(text: str) -> int:
    """Count the columns that a text takes in a terminal."""
    return sum(map(cells, text))


def paragraph(text: str) -> list[str]:
    """Fold a text that is escaped already, and leave a blank line after it."""
    return [*_folded(text, "", ""), ""]


def items(texts: Sequence[str], *, indent: str = "") -> list[str]:
    """Make a list of texts that are escaped already, and leave a blank line after it."""
    lines = [line for text in texts for line in _folded(text, f"{indent}- ", f"{indent}  ")]
    return [*lines, ""] if lines else []


def _folded(text: str, first: str, rest: str) -> Iterator[str]:
    """Fold at spaces; a word longer than a line stays whole, or it would be another word."""
    start, line = first, ""
    for word in text.split(" "):
        longer = f"{line} {word}" if line else word
        if line and width(start) + width(longer) > WIDTH - 1:
            yield f"{start}{guarded(line)}"
            start, line = rest, word
        else:
            line = longer
    yield f"{start}{guarded(line)}"


def table(
    head: Sequence[str], rows: Sequence[Sequence[str]], *, shared: Collection[str] = ()
) -> list[str]:
    """Make a table, and a second one with the same first column where one is too wide.

    Cells are escaped already. A column without any text is left out; one of those named in
    `shared` that says the same in every row is said once below.
    """
    if not rows:
        return []
    filled = [n for n in range(len(head)) if n == 0 or any(row[n] for row in rows)]
    common = [
        n for n in filled if head[n] in shared and len(rows) > 1 and len({r[n] for r in rows}) == 1
    ]
    kept = [n for n in filled if n not in common]
    columns = [[head[n], *(_cut(row[n]) for row in rows)] for n in kept]
    wide = [max(map(width, column)) for column in columns]
    lines: list[str] = []
    for part in _parts(wide):
        lines += _one([columns[n] for n in part], [wide[n] for n in part])
    if common:
        lines += paragraph(f"In every row: {'; '.join(f'{head[n]} {rows[0][n]}' for n in common)}.")
    return lines


def _parts(wide: Sequence[int]) -> Iterator[list[int]]:
    """Share columns out among tables that fit; the first column stands in each."""
    part, used = [0], wide[0] + 4
    for number in range(1, len(wide)):
        if used + wide[number] + 3 > WIDTH and len(part) > 1:
            yield part
            part, used = [0], wide[0] + 4
        part.append(number)
        used += wide[number] + 3
    yield part


def _one(columns: Sequence[Sequence[str]], wide: Sequence[int]) -> list[str]:
    head, *rows = zip(*columns, strict=True)
    rule = "|".join("-" * (each + 2) for each in wide)
    return [_line(head, wide), f"|{rule}|", *(_line(row, wide) for row in rows), ""]


def _line(row: Sequence[str], wide: Sequence[int]) -> str:
    padded = [f"{cell}{' ' * (each - width(cell))}" for cell, each in zip(row, wide, strict=True)]
    return f"| {' | '.join(padded)} |"


def is_cut(cell: str) -> bool:
    """Tell whether a cell is too long for a table."""
    return width(cell) > MOST


def _cut(cell: str) -> str:
    """Cut a cell between characters, never within an escape."""
    if not is_cut(cell):
        return cell
    short = ""
    for character in cell:
        if width(short) + cells(character) > MOST - 1:
            break
        short += character
    dangling = (len(short) - len(short.rstrip("\\"))) % 2
    return f"{short[:-1] if dangling else short}…"
