"""The figure of a prompt in large digits, and the prompt as it is seen from a metre away."""

from collections.abc import Sequence

from textual.content import Content

from snugset.guide.prompt import Large, Prompt
from snugset.screens import big
from snugset.screens.asking import cautious, choices
from snugset.screens.words import short, text, wrapped

_GAP = 2
_STYLE = "bold $accent"
_LEAST = (56, 8)
"""Columns and lines under which the words are read as they are."""


def figure(large: Large | None, width: int, height: int) -> list[Content]:
    """Draw a figure for a place of so many lines; in small letters where it fits in no size."""
    if large is None or not large.value:
        return []
    label = max(len(large.does), len(large.unit), 1)
    size = big.fitting(large.value, width - label - _GAP, height)
    if not size:
        return [text(short(f"{large.does} {large.value} {large.unit}", width), "bold")]
    drawn = [text(line, _STYLE).append(" " * _GAP) for line in big.draw(large.value, size)]
    drawn[0] = drawn[0].append(text(large.does))
    last = big.high(size) - 1
    drawn[last] = drawn[last].append(text(large.unit, "bold"))
    return drawn


def suits(asked: Prompt | None, width: int, height: int) -> bool:
    """Tell whether a prompt can be seen from a metre away without losing what it says.

    One with no figure says what it has to say in its facts, as the return does: that is read near.
    """
    if asked is None:
        return True
    return width >= _LEAST[0] and height >= _LEAST[1] and (bool(asked.large) or not asked.facts)


def far(
    asked: Prompt | None, large: Large | None, typed: str, width: int, height: int
) -> list[Content]:
    """Give the prompt for a metre away: its place and figure, first words and what is typed."""
    if asked is None:
        return _lines("finished", width, height)
    echo = _typed(typed, width) if height >= 3 * big.high(1) else []
    says = [text(cautious(caution, width), "bold $warning") for caution in asked.caution[:1]] + [
        text(short(choice, width), "bold") for choice in choices(asked)
    ]
    if asked.facts:
        says.append(text(short("▼ more, read near: F12", width)))
    room = height - len(echo) - min(len(says), max(0, height - big.high(1)))
    head = _headed(asked, large, width, room)
    left = room - len(head)
    first, rest = _clause(asked.words)
    spoken = _lines(first, width, left) if left >= big.high(1) else []
    if not spoken:
        rest = asked.words
    under = max(0, left - len(spoken))
    more = _fitting(rest, width, under - 1) if rest else []
    more = [Content(""), *more] if more else wrapped([text(rest, "bold")], width)[:under]
    blank = [Content("")] * max(0, left - len(spoken) - len(more))
    return [*spoken, *more, *head, *blank, *says, *echo][:height]


def _clause(words: str) -> tuple[str, str]:
    """Split a prompt's words after their first clause: that is what is seen from afar."""
    ends = [at for mark in (": ", ". ", "; ") if (at := words.find(mark)) > 0]
    if not ends:
        return words, ""
    return words[: min(ends)].rstrip("."), words[min(ends) + 1 :].strip()


def _key(asked: Prompt) -> str:
    """Give the fastener, valve or point that is asked: ``7`` of ``2.7``."""
    return asked.address.place.rpartition(".")[2]


def _headed(asked: Prompt, large: Large | None, width: int, height: int) -> list[Content]:
    """Draw the place and the figure side by side, as large as both fit."""
    key, value, unit = _key(asked), large.value if large else "", large.unit if large else ""
    if not (key or value) or height < big.high(1) + 1:
        return []
    most = max(big.high(1), min(height - 1, height * 2 // 3))
    for size in range(big.LARGEST, 0, -1):
        shown = [text for text in (key, value) if text]
        beside = unit if unit and "mark" not in unit else ""
        drawn = [big.draw(each, size) for each in shown]
        if beside:
            drawn.append(big.draw(beside, max(1, size - 1)))
        lines = big.beside(drawn, 2 * size + 1)
        if len(lines) <= most and len(lines[0]) <= width:
            break
    else:
        return []
    wide = big.wide(key, size)
    does = f"{large.does} {value} {unit}".strip() if large else ""
    gap = " " * max(1, wide + 2 * size + 1 - len(key)) if key else ""
    named = text(short(f"{key}{gap}{does}", width), "bold")
    split = wide if key else 0
    return [
        named,
        *(text(line[:split], "bold").append(text(line[split:], _STYLE)) for line in lines),
    ]


def _lines(words: str, width: int, height: int) -> list[Content]:
    """Draw words in the largest size in which all of them fit; else their beginning, smallest."""
    if found := _fitting(words, width, height):
        return found
    fits = height // big.high(1)
    return _drawn(big.broken(words, width, 1)[:fits], 1) if fits else []


def _fitting(words: str, width: int, height: int) -> list[Content]:
    """Draw words in the largest size in which all of them fit; nothing where they fit in none."""
    for size in range(3, 0, -1):
        broken = big.broken(words, width, size)
        if len(broken) * big.high(size) <= height:
            return _drawn(broken, size)
    return []


def _typed(typed: str, width: int) -> list[Content]:
    """Draw the end of what is typed, where the cursor is."""
    if not typed:
        return []
    end = typed[-width:]
    while big.wide(end, 1) > width:
        end = end[1:]
    size = 2 if len(typed) <= 9 and end == typed and big.wide(end, 2) <= width else 1
    return _drawn([end], size)


def _drawn(lines: Sequence[str], size: int) -> list[Content]:
    return [text(row, "bold") for line in lines for row in big.draw(line, size)]
