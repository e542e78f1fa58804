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


def view(plan: Plan, state: State, here: str, width: int) -> Content:
    """Give the ledger, a line a place; `here` is the place asked now."""
    rounds = _rounds(plan)
    if rounds is None or not isinstance(rounds.block, Rounds):
        return Content("This procedure measures no rounds.")
    figure = rounds.block.figure
    readings = [r for r in state.readings.values() if r.figure == figure]
    number = max((r.address.round for r in readings), default=1)
    have = newest(r for r in readings if r.address.round == number)
    earlier = newest(r for r in readings if r.address.round == number - 1)
    window = _window(state, rounds)
    title = f"Ledger, round {number}"
    if window is not None:
        title += f"   {window.low.value}..{window.high}"
    lines = [Content.styled(title, "bold")]
    for site in valves(plan.engine):
        reading = have.get(site.key)
        mark = "▸" if site.key == here else " "
        if reading is None:
            before = earlier.get(site.key)
            was = f"  was {before.value}" if before else ""
            lines.append(Content(f"{mark}{site.key:>3}   —{was}"))
            continue
        sign = SIGNS[reading.verdict]
        text = f"{mark}{site.key:>3} {reading.value.value:>6} {sign:<11}"
        room = width - len(text) - 1
        if window is not None and room >= 12 and reading.uncertainty is not None:
            text += strip(reading, window, min(room, 40))
        style = {"in": "", "inside": "italic"}.get(reading.verdict, "bold")
        flag = f" {reading.flag}" if reading.flag in ("off", "old") else ""
        lines.append(Content.styled(text + flag + (" prov." if reading.provisional else ""), style))
    if readings:
        doubts = {str(r.uncertainty) for r in have.values() if r.uncertainty}
        lines.append(Content(f"     U ± {', '.join(sorted(doubts))}" if doubts else ""))
    return Content("\n").join(lines)
