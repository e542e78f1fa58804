"""The fastener map, to scale, its rows named, the current one marked and put in words."""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from itertools import pairwise

from textual.content import Content

from snugset.files.fasteners import Group, row_names, spots, words
from snugset.guide.state import State
from snugset.screens.words import around, flowed, joined, short, text, wrapped
from snugset.values import dataclass, replace

SIGNS = {"done": "✓", "now": "◆", "next": "◇", "counted": "▸", "to come": "·"}
"""What each fastener is, by sign and word; the later words give way on a crowded map."""
STYLES = {"now": "bold reverse", "next": "bold underline", "counted": "bold italic"}
_FIRST = ("now", "next", "counted", "to come", "done")
WET, LONG = "~", "+"
_MOST_TIERS = 4
_ACROSS = 0.5
"""A line is as high as two cells are wide."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What is true of the group now."""

    group: Group
    current: str
    done: frozenset[str]
    following: str
    """The one after the current; empty at the end."""
    counted: frozenset[str] = frozenset()
    """What is being counted and not kept yet."""

    def what(self, key: str) -> str:
        """Name what a fastener is."""
        if key in self.counted:
            return "counted"
        if key == self.current:
            return "now"
        if key in self.done:
            return "done"
        return "next" if key == self.following else "to come"


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """Where each sign stands on a line, from the map's left edge, and its style."""

    at: int
    label: str
    style: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """What is drawn and at which scale: one picture of the group."""

    look: Look
    xs: Mapping[str, float]
    labels: Mapping[str, str]
    scale: float
    """Cells to a unit of length."""
    width: int
    first: int = 0
    """Cells that are left of the picture."""
    tiers: int = 1
    """Lines that a row takes: of neighbours whose labels would touch, each is a line lower."""


def view(look: Look, state: State, width: int, height: int) -> Content:
    """Draw the group seen from above, the front at the left.

    A row whose numbers do not fit beside one another steps down over a few lines. Where that
    does not fit either, the whole is drawn in signs, and the part about the current fastener again
    below, with numbers.
    """
    known = spots(look.group.places)
    rows: dict[Decimal, list[str]] = {}
    for key in sorted(known, key=lambda key: known[key]):
        rows.setdefault(known[key][1], []).append(key)
    xs = {key: float(x) for key, (x, _) in known.items()}
    labels = {key: _label(look, state, key) for key in known}
    foot = _foot(look, state, labels, width, height)
    room = max(1, height - len(foot) - 2)
    widest = (width - max(map(len, labels.values()))) / (_span(xs) or 1)
    tiers = _tiers(rows.values(), xs, labels, widest)
    if (tiers + (tiers > 1 < len(rows))) * len(rows) <= room and tiers <= _MOST_TIERS:
        sheet = Sheet(look=look, xs=xs, labels=labels, scale=widest, width=width, tiers=tiers)
        body = _lines(sheet, rows, room)
    else:
        need = _pitch(rows.values(), xs, labels)
        sheet = Sheet(look=look, xs=xs, labels=labels, scale=need, width=width)
        body = _abridged(look, rows, sheet, room)
    title = f"{look.group.name or 'Fasteners'} from above: {len(look.done)} of {len(known)} done"
    ends = f"◀ front{'rear ▶':>{max(7, width - 7)}}"
    return joined([text(short(title, width), "bold"), *body, text(short(ends, width)), *foot])


def _abridged(
    look: Look, rows: Mapping[Decimal, list[str]], sheet: Sheet, room: int
) -> list[Content]:
    """Draw the whole in signs, then the part about the current fastener with numbers."""
    width, xs = sheet.width, sheet.xs
    signs = {key: SIGNS[look.what(key)] for key in xs}
    small = replace(sheet, labels=signs, scale=(width - 1) / (_span(xs) or 1))
    whole = [_line(_spread(small, keys), width) for _, keys in _down(rows)]
    if len(whole) > room - 2 * len(rows) - 1:
        whole = []
    start = round((xs.get(look.current, min(xs.values())) - min(xs.values())) * sheet.scale)
    first = max(0, min(start - width // 2, _end(xs, sheet.labels, sheet.scale) - width))
    left = room - len(whole) - bool(whole)
    part = _lines(replace(sheet, first=first), rows, left)
    apart = [text(short("about it, with numbers:", width))] if whole else []
    return [*whole, *apart, *part]


def _label(look: Look, state: State, key: str) -> str:
    wet = WET if "wet" in _hole(state, look.group, key).split() else ""
    return f"{SIGNS[look.what(key)]}{key}{wet}{LONG if _long(look.group, key) else ''}"


def _hole(state: State, group: Group, key: str) -> str:
    """Give what was found of a hole, else what the map says."""
    found = state.condition.mark("hole", f"{group.name}:{key}")
    if found is not None:
        return found
    place = group.places[key]
    said = [("wet", "dry")[not place.wet]] if place.wet is not None else []
    return " ".join(
        [*said, *([("through", "blind")[place.blind]] if place.blind is not None else [])]
    )


def _long(group: Group, key: str) -> bool:
    """Tell whether a fastener is longer than the shortest of its group."""
    lengths = {k: p.length.in_("in") for k, p in group.places.items() if p.length is not None}
    return key in lengths and lengths[key] > min(lengths.values())


def _span(xs: Mapping[str, float]) -> float:
    return max(xs.values()) - min(xs.values())


def _pitch(rows: Iterable[list[str]], xs: Mapping[str, float], labels: Mapping[str, str]) -> float:
    """Give the fewest cells to a unit of length at which no label runs into the next."""
    needs = [
        (len(labels[one]) + 1.5) / (xs[two] - xs[one])
        for keys in rows
        for one, two in pairwise(keys)
    ]
    return max(needs, default=0.0)


def _tiers(
    rows: Iterable[list[str]], xs: Mapping[str, float], labels: Mapping[str, str], scale: float
) -> int:
    """Give the fewest lines over which a row steps down without one label in the next."""
    rows = list(rows)
    return next(
        tiers
        for tiers in range(1, max(map(len, rows)) + 1)
        if all(
            round(xs[two] * scale) - round(xs[one] * scale) > len(labels[one])
            for keys in rows
            for one, two in zip(keys, keys[tiers:], strict=False)
        )
    )


def _end(xs: Mapping[str, float], labels: Mapping[str, str], scale: float) -> int:
    return round(_span(xs) * scale) + max(map(len, labels.values()))


def _down(rows: Mapping[Decimal, list[str]]) -> list[tuple[Decimal, list[str]]]:
    """Give the rows from the top of the picture down."""
    return sorted(rows.items(), reverse=True)


def _spread(sheet: Sheet, keys: Iterable[str]) -> list[Drawn]:
    """Give where the labels of a row stand; what matters more comes last and stays whole."""
    look, low = sheet.look, min(sheet.xs.values())
    ranked = sorted(keys, key=lambda key: -_FIRST.index(look.what(key)))
    return [
        Drawn(
            at=round((sheet.xs[key] - low) * sheet.scale) - sheet.first,
            label=sheet.labels[key],
            style=STYLES.get(look.what(key), ""),
        )
        for key in ranked
    ]


def _line(drawn: Iterable[Drawn], width: int) -> Content:
    """Write one row; what does not fit whole is left out."""
    inside = [each for each in drawn if each.at >= 0 and each.at + len(each.label) <= width]
    cells = [" "] * width
    for each in inside:
        cells[each.at : each.at + len(each.label)] = each.label
    line = Content("".join(cells).rstrip())
    for each in inside:
        if each.style:
            line = line.stylize(each.style, each.at, each.at + len(each.label))
    return line


def _lines(sheet: Sheet, rows: Mapping[Decimal, list[str]], room: int) -> list[Content]:
    """Write the rows with their names over them, as far apart as they are, where there is room."""
    look, width = sheet.look, sheet.width
    named, names = row_names(look.group), len(rows) > 1 and room >= (sheet.tiers + 1) * len(rows)
    each = sheet.tiers + names
    low, high = min(rows), max(rows)
    across = round(float(high - low) * sheet.scale * _ACROSS) + each
    tall = min(room, max(across, each * len(rows)))
    found: list[Content] = []
    here = 0
    for y, keys in _down(rows):
        to_scale = round(float((high - y) / ((high - low) or 1)) * (tall - each))
        free = tall - each * (len(rows) - list(dict(_down(rows))).index(y))
        found += [text("")] * (min(to_scale, free) - len(found))
        drawn = _spread(sheet, keys)
        before = sum(each.at < 0 for each in drawn)
        after = sum(each.at + len(each.label) > width for each in drawn)
        more = (f" ◀ {before}" if before else "") + (f" ▶ {after}" if after else "")
        if names:
            found.append(text(short(f"{named[y]}{more}", width)))
        for tier in range(sheet.tiers):
            if look.current in keys[tier :: sheet.tiers]:
                here = len(found)
            found.append(_line(_spread(sheet, keys[tier :: sheet.tiers]), width))
    return around(found, here, room)


def _foot(
    look: Look, state: State, labels: Mapping[str, str], width: int, height: int
) -> list[Content]:
    """Say the current fastener in words, and what the signs mean."""
    said = []
    if look.current:
        place = look.group.places[look.current]
        parts = [words(look.group, look.current), _hole(state, look.group, look.current)]
        parts.append(f"{look.group.kind} {place.length}" if place.length else "")
        said.append(text(f"◆ {look.current}: {', '.join(filter(None, parts))}"))
    here = {look.what(key) for key in labels}
    signs = [f"{sign} {word}" for word, sign in SIGNS.items() if word in here]
    signs += [f"{WET} wet"] if any(WET in label for label in labels.values()) else []
    signs += [f"{LONG} long"] if any(LONG in label for label in labels.values()) else []
    legend = flowed(signs, width)
    lines = [*wrapped(said, width), *legend]
    return lines if height >= len(lines) + 6 else legend if height >= len(legend) + 5 else []
