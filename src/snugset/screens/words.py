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


def hung(words: str, width: int, style: str = "") -> Content:
    """Break a text into lines, those after the first set in under it."""
    body = words.lstrip(" ")
    lead = len(words) - len(body)
    first, *rest = wrapped([text(body)], width - lead) or [text("")]
    under = wrapped([text(" ".join(each.plain for each in rest))], width - lead - 4) if rest else []
    shown = [f"{' ' * lead}{first.plain}", *(f"{' ' * (lead + 4)}{each.plain}" for each in under)]
    return lines(shown, style)


def flowed(parts: Iterable[str], width: int) -> list[Content]:
    """Set short texts one after the other; none of them is broken over two lines."""
    found: list[str] = []
    for part in parts:
        if found and len(found[-1]) + 2 + len(part) <= width:
            found[-1] += f"  {part}"
        else:
            found.append(part)
    return [text(short(line, width)) for line in found]


def short(words: str, cells: int) -> str:
    """Cut a text to so many cells, with an ellipsis for what is left out."""
    return text(words).truncate(max(1, cells), ellipsis=True).plain


def window(count: int, at: int, height: int) -> range:
    """Give the lines that are shown of so many, the one that matters among them."""
    height = min(max(1, height), count)
    lead = height // 3 if height >= 3 else 0
    first = max(0, min(at - lead, count - height))
    return range(first, first + height)


def around(every: Sequence[Content], at: int, height: int) -> list[Content]:
    """Give as many lines as fit about the one that matters; arrows say that there are more."""
    shown = window(len(every), at, height)
    return arrowed([every[number] for number in shown], shown, len(every))


def arrowed(lines: list[Content], shown: range, count: int) -> list[Content]:
    """Say in the first and the last line how many there are above and below."""
    if len(lines) >= 3 and shown.start:
        lines[0] = Content.styled(f"▲ {shown.start + 1} more above", "italic")
    if len(lines) >= 3 and shown.stop < count:
        lines[-1] = Content.styled(f"▼ {count - shown.stop + 1} more below", "italic")
    return lines
