"""The fastener map, to scale, the current one marked."""

from textual.content import Content

from snugset.files.fasteners import Group, spots
from snugset.guide.state import State
from snugset.screens.words import joined, short, text, wrapped
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What is true of the group now."""

    group: Group
    current: str
    done: frozenset[str]
    following: str
    """The one after the current; empty at the end."""


def _hole(state: State, group: Group, key: str) -> str:
    found = state.condition.mark("hole", f"{group.name}:{key}")
    if found is not None:
        return found
    place = group.places[key]
    return "wet" if place.wet else ""


def view(look: Look, state: State, width: int, height: int) -> Content:
    """Draw the group seen from above, the front at the left, to scale along and across.

    ``✓`` done, ``◆`` now, ``◇`` next, ``·`` to come; ``~`` a wet hole.
    """
    known = spots(look.group.places)
    xs, ys = [float(x) for x, _ in known.values()], [float(y) for _, y in known.values()]
    wide = max(width - 8, 20)
    tall = max(3, min(height - 6, 2 * len(set(ys)) + 3))
    canvas = [[" "] * width for _ in range(tall)]
    styles: list[tuple[int, int, int, str]] = []
    # The next and the current one come last: on a crowded map they are the ones that stay whole.
    for key in sorted(known, key=lambda key: (key == look.current, key == look.following)):
        x, y = known[key]
        column = 1 + _scaled(float(x), xs, wide)
        row = tall - 1 - _scaled(float(y), ys, tall - 1)
        sign = _sign(key, look)
        wet = "~" if "wet" in _hole(state, look.group, key).split() else ""
        label = f"{sign}{key}{wet}"
        for offset, letter in enumerate(label):
            if column + offset < width:
                canvas[row][column + offset] = letter
        if key == look.current:
            styles.append((row, column, column + len(label), "bold reverse"))
    title = f"{look.group.name or 'Fasteners'}, seen from above"
    lines = [text(short(title, width), "bold")]
    for number, cells in enumerate(canvas):
        line = Content("".join(cells).rstrip())
        for at, start, end, style in styles:
            if at == number:
                line = line.stylize(style, start, end)
        lines.append(line)
    lines.append(text("◀ front"))
    keys = wrapped([text("✓ done  ◆ now  ◇ next  · to come  ~ wet", "dim")], width)
    return joined([*lines, *keys])


def _scaled(value: float, values: list[float], room: int) -> int:
    span = max(values) - min(values)
    return round((value - min(values)) / span * room) if span else room // 2


def _sign(key: str, look: Look) -> str:
    if key == look.current:
        return "◆"
    if key in look.done:
        return "✓"
    return "◇" if key == look.following else "·"
