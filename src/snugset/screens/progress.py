"""The two lines over the bench: which build and where, and how far it has come."""

from textual.content import Content

from snugset.guide.people import initials
from snugset.screens.desk import Look
from snugset.screens.standing import Count, Standing
from snugset.screens.words import joined, short, text

_CELLS = 8
"""The length of a bar."""


def signed(look: Look) -> str:
    """Give the build's name, and where more than one person works on it, who answers now."""
    short = initials((*look.state.people, *filter(None, [look.person])))
    name = look.state.name
    return f"{short[look.person]} · {name}" if len(set(short.values())) > 1 else name


def head(name: str, address: str, counted: Standing, width: int) -> Content:
    """Give the lines over the bench, for so many cells."""
    room = width - len(address) - 1
    first = short(name, room) if room > 8 else short(name, width)
    shown = text(first, "bold")
    if room > 8:
        gap = width - shown.cell_length - len(address)
        shown = shown.append(" " * gap).append(text(address))
    return joined([shown, text(progress(counted, width))])


def progress(counted: Standing, width: int) -> str:
    """Give how far step, stage, phase and build have come, as fully as there is room for."""
    near = counted.stage or counted.step
    for title in (40, 20, 12):
        for bars in (True, False):
            parts = [_shown(near, title)] if near and near.known > 1 else []
            parts += [_shown(counted.phase, title, bar=bars)] if counted.phase else []
            parts.append(_shown(counted.build, title, bar=bars))
            line = " · ".join(parts)
            if len(line) <= width:
                return line
    return short(line, width)


def _shown(count: Count, title: int, *, bar: bool = False) -> str:
    words = f"{short(count.title, title)} {count.done}/{count.known}"
    return f"{words} {_bar(count)}" if bar else words


def _bar(count: Count) -> str:
    full = count.done * _CELLS // count.known if count.known else 0
    return "━" * full + "╌" * (_CELLS - full)
