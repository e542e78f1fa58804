"""Every place's reading with its doubt, against the window."""

from textual.content import Content

from snugset.files.figures import Window
from snugset.files.steps import Step
from snugset.guide.kinds.judge import Judge
from snugset.guide.kinds.rounds import Rounds
from snugset.guide.scene import newest
from snugset.guide.state import Reading, State
from snugset.plan.places import valves
from snugset.plan.plan import Plan
from snugset.screens.words import around, joined, short, text

SIGNS = {
    "in": "✓ in",
    "inside": "~ inside?",
    "outside": "? outside?",
    "low": "▼ low",
    "high": "▲ high",
    "no-limit": "· no limit",
    "loose": "× loose",
    "bottomed": "× bottomed",
}
"""Each verdict by sign and word; a question mark is what is not proved."""


def _rounds(plan: Plan) -> Step | None:
    return next((s for s in plan.steps.values() if isinstance(s.block, Rounds)), None)


def _window(state: State, rounds: Step) -> Window | None:
    judge = rounds.children["judge"][0].block
    found = state.spec(judge.window) if isinstance(judge, Judge) and judge.window else None
    return found if isinstance(found, Window) else None


def strip(reading: Reading, window: Window, width: int) -> str:
    """Draw a reading with its doubt on a line of cells that spans the window and half as much.

    ``[`` and ``]`` are the limits, ``●`` the reading, ``─`` its doubt; ``◀`` and ``▶`` lie outside.
    """
    unit = reading.value.unit
    low, high = float(window.low.in_(unit)), float(window.high.in_(unit))
    span = high - low
    start, end = low - span / 2, high + span / 2
    x = float(reading.value.value)
    doubt = float(reading.uncertainty.in_(unit)) if reading.uncertainty else 0.0

    def cell(value: float) -> int:
        return round((value - start) / (end - start) * (width - 1))

    cells = [" "] * width
    for place in range(max(0, cell(x - doubt)), min(width - 1, cell(x + doubt)) + 1):
        cells[place] = "─"
    cells[cell(low)], cells[cell(high)] = "[", "]"
    if cell(x) < 0:
        cells[0] = "◀"
    elif cell(x) >= width:
        cells[-1] = "▶"
    else:
        cells[cell(x)] = "●"
    return "".join(cells)


def view(plan: Plan, state: State, here: str, width: int, height: int) -> Content:
    """Give the ledger, a line a place; `here` is the place asked now."""
    rounds = _rounds(plan)
    if rounds is None or not isinstance(rounds.block, Rounds):
        return text("This procedure measures no rounds.")
    readings = [r for r in state.readings.values() if r.figure == rounds.block.figure]
    number = max((r.address.round for r in readings), default=1)
    have = newest(r for r in readings if r.address.round == number)
    earlier = newest(r for r in readings if r.address.round == number - 1)
    window = _window(state, rounds)
    keys = [site.key for site in valves(plan.engine)]
    rows = [
        _row(key, have.get(key), earlier.get(key), window, width, here=key == here) for key in keys
    ]
    title = f"Ledger, round {number}"
    head = [text(title, "bold")]
    if window is not None:
        limits = f"{window.low.value}..{window.high}"
        room = width - len(title) - len(limits)
        head = (
            [text(f"{title}{' ' * room}{limits}", "bold")]
            if room > 0
            else [*head, text(f"Window {limits}", "bold")]
        )
    doubts = sorted({str(r.uncertainty) for r in have.values() if r.uncertainty})
    foot = [text(short(f"U ± {', '.join(doubts)}", width))] if doubts else []
    at = keys.index(here) if here in keys else 0
    return joined([*head, *around(rows, at, height - len(head) - len(foot)), *foot])


def _row(
    key: str,
    reading: Reading | None,
    before: Reading | None,
    window: Window | None,
    width: int,
    *,
    here: bool,
) -> Content:
    mark = "▸" if here else " "
    if reading is None:
        was = f"   was {before.value}" if before else ""
        return text(f"{mark}{key:>3}     —{was}", "bold reverse" if here else "")
    line = f"{mark}{key:>3} {reading.value.value:>6} {SIGNS[reading.verdict]:<11}"
    flag = f" {reading.flag}" if reading.flag in ("off", "old") else ""
    flag += " provisional" if reading.provisional else ""
    room = width - len(line) - len(flag) - 1
    if window is not None and room >= 12 and reading.uncertainty is not None:
        line += strip(reading, window, min(room, 40))
    style = {"in": "", "inside": "italic"}.get(reading.verdict, "bold")
    return text(f"{line.rstrip()}{flag}", f"{style} reverse" if here else style)
