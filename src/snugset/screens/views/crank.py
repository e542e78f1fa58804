"""The crank over two turns: when each valve is open, in firing order, and where it stands."""

from decimal import Decimal

from textual.content import Content

from snugset.files.engine import Engine
from snugset.guide.crank_now import CrankNow
from snugset.guide.state import PlannedPoint
from snugset.screens.words import around, flowed, joined, short, text, wrapped
from snugset.trade.circle import CYCLE, Arc, wrap

OPEN = {(False, False): "·", (True, False): "▀", (False, True): "▄", (True, True): "█"}
"""A cylinder's cell by what is open there: intake in the upper half, exhaust in the lower."""
_HAIR = Decimal("0.001")
"""Degrees by which a moment is inside an opening that begins there."""
_LEAST = 8
"""Rows that are kept whatever is said under them."""


def view(now: CrankNow, engine: Engine, width: int, height: int) -> Content:
    """Give a row a cylinder, or a valve where valves are set, over 720° from one firing."""
    valves = now.over == "valves"
    keys = [
        key
        for cylinder in engine.firing_order
        for key in ([f"{cylinder}I", f"{cylinder}E"] if valves else [str(cylinder)])
    ]
    label = max(map(len, keys))
    room = max(8, min(width - label - 3, 72))
    set_here = now.point.places if now.point is not None else ()
    rows = [
        text(
            f"{'▸' if key in set_here else ' '}{'✓' if key in now.free else ' '}{key:>{label}} "
            f"{_row(now, key, room)}",
            "bold" if key in set_here else "",
        )
        for key in keys
    ]
    lead = label + 3
    head = [text(short("Crank: two turns, from 1 firing", width), "bold"), _scale(lead, room)]
    if now.point is not None:
        name = f"{now.point.key:>{lead - 1}} "
        head.append(text(f"{name}{_window(now.point, room)}", "bold"))
    said = wrapped([text(line, "bold" if now.crank is None else "") for line in now.words], width)
    legend = flowed(_legend(now, set_here), width)
    foot = [*said, *legend]
    free = height - len(head) - min(_LEAST, len(rows))
    if len(foot) > free:
        foot = foot[: max(0, free)]
    at = next((n for n, key in enumerate(keys) if key in set_here), 0)
    body = around(rows, at, height - len(head) - len(foot))
    return joined([*head, *body, *foot][: max(1, height)])


def _row(now: CrankNow, key: str, room: int) -> str:
    """Draw when a cylinder's valves, or one valve, are open; ``?`` where no card says it."""
    cylinder = key.rstrip("IE")
    ends = key[len(cylinder) :] * 2 or "IE"
    arcs = [now.closed[f"{cylinder}{end}"] for end in ends] if now.closed else []
    if arcs:
        intake, exhaust = (_opened(arc, room) for arc in arcs)
        cells = [OPEN[each] for each in zip(intake, exhaust, strict=True)]
        for cell in _together(arcs[0], arcs[1], room) if arcs[0] != arcs[1] else ():
            cells[cell] = OPEN[True, True]
    else:
        cells = ["?" if number % 4 == 1 else " " for number in range(room)]
    if now.crank is not None:
        cells[_cell(now.crank, room)] = "┃"
    return "".join(cells)


def _opened(arc: Arc, room: int) -> list[bool]:
    """Tell for the middle of each cell whether the valve is off its seat, or may be."""
    low, length, cycle = float(arc.low), float(arc.length), float(CYCLE)
    middles = ((2 * number + 1) * cycle / (2 * room) for number in range(room))
    return [arc.empty or (middle - low) % cycle > length for middle in middles]


def _together(intake: Arc, exhaust: Arc, room: int) -> list[int]:
    """Give the cells in which both valves begin or cease to be open together, however briefly.

    An overlap can be narrower than a cell, and would be missed by its middle.
    """
    ends = (
        *(arc.low - _HAIR for arc in (intake, exhaust)),
        *(arc.low + arc.length + _HAIR for arc in (intake, exhaust)),
    )
    return [_cell(end, room) for end in ends if _off(intake, end) and _off(exhaust, end)]


def _off(arc: Arc, angle: Decimal) -> bool:
    """Tell whether the valve is off its seat, or may be."""
    return arc.empty or wrap(angle - arc.low) > arc.length


def _cell(angle: Decimal, room: int) -> int:
    return int(wrap(angle) * room / CYCLE)


def _window(point: PlannedPoint, room: int) -> str:
    """Draw the window of a setting point with its aim; it may run over the end of the cycle."""
    cells = [" "] * room
    first = _cell(point.low, room)
    count = int((point.high - point.low) * room / CYCLE)
    for number in range(count + 1):
        cells[(first + number) % room] = "═"
    cells[first] = "["
    cells[(first + count) % room] = "]"
    cells[_cell(point.aim, room)] = "▼"
    return "".join(cells)


def _scale(lead: int, room: int) -> Content:
    cells = [" "] * (lead + room)
    for degrees in (0, 180, 360, 540):
        at, number = lead + degrees * room // 720, str(degrees)
        cells[at : at + len(number)] = list(number)
    return text("".join(cells)[: lead + room].rstrip())


def _legend(now: CrankNow, set_here: tuple[str, ...]) -> list[str]:
    signs = ["? no camshaft card"] if not now.closed else []
    if now.closed and now.over == "valves":
        signs += ["█ open", "· closed"]
    elif now.closed:
        signs += ["▀ intake open", "▄ exhaust open", "█ both", "· closed"]
    signs += ["┃ crank"] if now.crank is not None else []
    signs += ["[▼] window, aim", "▸ set there"] if set_here else []
    return [*signs, *(["✓ may be set now"] if now.free else [])]
