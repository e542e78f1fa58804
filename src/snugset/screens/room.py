"""How the lines of the bench's left half are shared out."""

from snugset.values import dataclass

WHOLE = (80, 24)
"""Cells and lines in which everything has its place."""

LOW, FLAT = 10, 8
"""Lines under which a terminal that is too small has no room for the title, and for the keys."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shares:
    """Lines for each part, from the top."""

    prompt: int
    large: int
    detail: int
    under: int


LEAST_DETAIL = 2
"""Lines that details keep: one of theirs, and one that says how to see the rest."""


def share(
    height: int,
    *,
    words: int,
    prompt: int,
    large: int,
    detail: int,
    under: int,
    firm: bool = False,
) -> Shares:
    """Share lines out between what would take so many; `words` of the prompt come first.

    Then the large figure, what was said, the rest of the prompt; what is left is for details. A
    figure that is not `firm` gives way to what was said, if that does not fit beside it.
    """
    least = min(words, max(1, height - 1))
    figure = large if height - least - large >= 1 else 0
    kept = min(detail, LEAST_DETAIL) if height - least - figure > 2 * LEAST_DETAIL else 0
    if not firm and under > height - least - figure - kept:
        figure = 0
    said = min(under, max(0, height - least - figure - kept))
    left = height - figure - said
    shown = min(prompt, max(least, left - kept))
    return Shares(prompt=shown, large=figure, detail=left - shown, under=said)


def small(width: int, height: int) -> bool:
    """Tell whether a terminal is too small for everything."""
    return width < WHOLE[0] or height < WHOLE[1]


def tiny(width: int, height: int) -> bool:
    """Tell whether there is room for the prompt alone, and no view beside it."""
    return width < 56 or height < 14


def footer_lines(width: int, height: int) -> int:
    """Give the lines that the keys may take: a narrow terminal that is high has room for two."""
    return 2 if width < WHOLE[0] and height >= WHOLE[1] - 4 else 1


def notice(width: int, height: int) -> str:
    """Say that a terminal is too small."""
    asked = "x".join(map(str, WHOLE))
    said = f"{width}x{height} is smaller than {asked}: not all is shown."
    return said if len(said) < width - 2 else f"{width}x{height} is smaller than {asked}."
