"""Text from files, people and libraries as content of the screen: shown, never obeyed."""

from collections.abc import Iterable, Sequence

from textual.content import Content

from snugset.printable import printable


def text(words: str, style: str = "") -> Content:
    """Give a text as content: square brackets stay brackets, nothing unseen goes to the terminal.

    It may hold several lines.
    """
    return Content.styled("\n".join(map(printable, words.split("\n"))), style)


def lines(words: Iterable[str], style: str = "") -> Content:
    """Give several lines as content."""
    return Content("\n").join([text(each, style) for each in words])


def joined(parts: Iterable[Content]) -> Content:
    """Give contents one under the other."""
    return Content("\n").join(list(parts))


def wrapped(parts: Sequence[Content], width: int) -> list[Content]:
    """Break contents into lines of so many cells; words stay whole where they can."""
    return [line for part in parts for line in part.wrap(max(1, width))]


def short(words: str, cells: int) -> str:
    """Cut a text to so many cells, with an ellipsis for what is left out."""
    return text(words).truncate(max(1, cells), ellipsis=True).plain


def around(every: Sequence[Content], at: int, height: int) -> list[Content]:
    """Give as many lines as fit about the one that matters; arrows say that there are more."""
    if len(every) <= height:
        return list(every)
    if height < 3:
        return list(every[at : at + max(1, height)])
    first = max(0, min(at - height // 3, len(every) - height))
    shown = list(every[first : first + height])
    above, below = first, len(every) - first - height
    if above:
        shown[0] = Content.styled(f"▲ {above + 1} more above", "dim")
    if below:
        shown[-1] = Content.styled(f"▼ {below + 1} more below", "dim")
    return shown
