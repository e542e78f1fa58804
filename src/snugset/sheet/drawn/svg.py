"""Elements of SVG as text, with every text and attribute escaped."""

import re
from html import escape
from typing import NewType

from snugset.sheet.inert import flat

Svg = NewType("Svg", str)
"""Markup made here and nowhere else: safe to put into a page as it stands."""

_NO_CHARACTER = re.compile("[\ufdd0-\ufdef\ufffe\uffff]|[^\0-\uffff]")
_WIDTH = 0.56
"""A letter's width by its size, for sans serif letters on average; seen, not measured."""


def plain(text: str) -> str:
    """Put a text on one line without anything that HTML forbids or that turns its direction."""
    return _NO_CHARACTER.sub(_whole, flat(text)).replace("\u061c", "\ufffd")


def _whole(found: re.Match[str]) -> str:
    """Keep a character beyond the first 65,536, but for the last two of every plane."""
    code = ord(found[0])
    return "\ufffd" if code < 0x10000 or code & 0xFFFE == 0xFFFE else found[0]


def number(value: float) -> str:
    """Write a coordinate, to a tenth."""
    return f"{round(value, 1) + 0:g}"


def element(name: str, *inside: Svg, text: str = "", **attributes: str | float) -> Svg:
    """Make an element; ``class_`` is class, and an underscore in a name is a hyphen."""
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="'
        f'{escape(plain(each) if isinstance(each, str) else number(each))}"'
        for key, each in attributes.items()
    )
    body = escape(plain(text)) + "".join(inside)
    return Svg(f"<{name}{written}>{body}</{name}>")


def label(x: float, y: float, text: str, class_: str = "label", anchor: str = "middle") -> Svg:
    """Write a text; `y` is its base line."""
    return element("text", text=text, x=x, y=y, class_=class_, text_anchor=anchor)


def line(x1: float, y1: float, x2: float, y2: float, class_: str = "line") -> Svg:
    """Draw a line."""
    return element("line", x1=x1, y1=y1, x2=x2, y2=y2, class_=class_)


def box(x: float, y: float, width: float, height: float, class_: str) -> Svg:
    """Draw a rectangle; one of no width or less is a hairline."""
    return element("rect", x=x, y=y, width=max(width, 0.5), height=max(height, 0.5), class_=class_)


def picture(name: str, width: float, height: float, title: str, told: str, *inside: Svg) -> Svg:
    """Put elements into one image; `name` is its id, free on the page, `told` its description."""
    head = (
        element("title", text=title, id=f"{name}-title"),
        element("desc", text=told, id=f"{name}-desc"),
    )
    return element(
        "svg",
        *head,
        *inside,
        id=name,
        viewBox=f"0 0 {number(width)} {number(height)}",
        role="img",
        aria_labelledby=f"{name}-title",
        aria_describedby=f"{name}-desc",
        class_="chart",
    )


def room(text: str, size: float = 11) -> float:
    """Guess how wide a text comes out."""
    return len(text) * size * _WIDTH
