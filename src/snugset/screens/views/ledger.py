"""Every place's reading with its doubt against the window; a round beside the one before it."""

from textual.content import Content

from snugset.guide.ledger import Ledger, Line
from snugset.screens.words import around, flowed, joined, short, text, wrapped
from snugset.trade.verdict import Verdict
from snugset.units import Quantity, signed

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
_WORDS = 46
"""Cells from which the verdict's word stands beside its sign."""
_TABLE = 62
"""Cells from which the round before has its columns beside the strip."""
_LEAST = 6
"""Cells of a strip; in fewer nothing can be told."""
_FOOT = 4
"""Lines under the places that are kept where they are many."""


def strip(line: Line, width: int) -> str:
    """Draw a reading with its doubt on a line of cells that spans the window and half as much.

    ``[`` and ``]`` are the limits, ``●`` the reading, ``─`` its doubt, ``○`` what it read before;
    arrowheads lie outside. Empty where there are not two limits.
    """
    if line.low is None or line.high is None or line.low.value >= line.high.value:
        return ""
    low, high = float(line.low.value), float(line.high.value)
    start, span = low - (high - low) / 2, 2 * (high - low)

    def cell(value: float) -> int:
        return round((value - start) / span * (width - 1))

    cells = [" "] * width

    def put(quantity: Quantity | None, signs: str) -> None:
        if quantity is not None:
            at = cell(float(quantity.value))
            cells[min(max(at, 0), width - 1)] = signs[0 if at < 0 else 2 if at >= width else 1]

    if line.value is not None and line.uncertainty is not None:
        x, doubt = float(line.value.value), float(line.uncertainty.value)
        for place in range(max(0, cell(x - doubt)), min(width - 1, cell(x + doubt)) + 1):
            cells[place] = "─"
    cells[cell(low)], cells[cell(high)] = "[", "]"
    put(line.before, "◁○▷")
    put(line.value, "◀●▶")
    return "".join(cells)


def view(
    found: Ledger | None, here: str, width: int, height: int, *, rounds: bool = False
) -> Content:
    """Give the ledger, a line a place; `here` is the place asked now.

    `rounds` gives the columns of the round before in place of the strip, where both do not fit.
    """
    if found is None:
        return text("This procedure reads nothing valve by valve.")
    table = found.again and (rounds or width >= _TABLE)
    rows = [_row(line, width, here=line.place == here, table=table) for line in found.lines]
    head = [_title(found, width)]
    if table:
        head.append(text(short(f"{'':4} {'was':>4} {'pred':>4} {'now':>5} {'off':>4}", width)))
    foot = _foot(found, here, width)
    foot = foot[: max(_FOOT, height - len(head) - len(rows))]
    foot = foot[: max(0, height - len(head) - 1)]
    at = next((n for n, line in enumerate(found.lines) if line.place == here), 0)
    return joined([*head, *around(rows, at, height - len(head) - len(foot)), *foot])


def _title(found: Ledger, width: int) -> Content:
    title = f"Ledger, {found.title}"
    if found.window is None:
        limits = found.limit
    else:
        low, high = found.window
        limits = f"{_plain(low)} to {_plain(high)} {high.unit}"
    room = width - len(title) - len(limits)
    return text(short(f"{title}{' ' * max(1, room)}{limits}", width), "bold")


def _plain(quantity: Quantity | None) -> str:
    return "—" if quantity is None else signed(quantity.value.normalize())


def _row(line: Line, width: int, *, here: bool, table: bool) -> Content:
    mark = "→" if line.typed else "▸" if here else "!" if line.odd else " "
    sign = SIGNS.get(line.verdict, " ")
    sign = f"{sign:<11}" if width >= (_TABLE if table else _WORDS) else sign[:1]
    flag = f" {line.flag}" if line.flag in ("off", "old") else ""
    flag += " provisional" if line.provisional else ""
    if table:
        off = line.off
        moved = "" if off is None else signed(off.value.normalize(), plus=True)
        figures = f"{_plain(line.before):>4} {_plain(line.predicted):>4} {_plain(line.value):>5}"
        shown = f"{mark}{line.place:>3} {figures} {moved:>4} {sign}"
    else:
        shown = f"{mark}{line.place:>3} {_plain(line.value):>6} {sign}"
    if len(shown.rstrip()) + len(flag) > width:
        flag = flag.strip()
    room = width - len(shown) - len(flag) - 1
    if room >= _LEAST:
        shown = f"{shown} {strip(line, min(room, 40))}"
    style = {"in": "", "": "", "inside": "italic"}.get(line.verdict, "bold")
    return text(short(f"{shown.rstrip()}{flag}", width), f"{style} bold reverse" if here else style)


def _foot(found: Ledger, here: str, width: int) -> list[Content]:
    said = [text(f"! {words}", "bold $warning") for words in found.patterns]
    mine = next((line for line in found.lines if line.place == here), None)
    if mine is not None and (mine.before or mine.predicted):
        was = f"was {_plain(mine.before)}" if mine.before else ""
        due = f"predicted {_plain(mine.predicted)}" if mine.predicted else ""
        off = f"off by {signed(mine.off.value.normalize(), plus=True)}" if mine.off else ""
        said.append(text(f"{mine.place}: {', '.join(filter(None, (was, due, off)))}"))
    doubts = sorted({str(line.uncertainty) for line in found.lines if line.uncertainty})
    used = dict.fromkeys(line.verdict for line in found.lines if line.verdict)
    signs = [f"{SIGNS[each][0]} {Verdict(each).words}" for each in used]
    signs += [f"─ U ± {', '.join(doubts)}"] if doubts else []
    signs += ["○ before"] if found.again else []
    signs += ["→ typed"] if any(line.typed for line in found.lines) else []
    return [*wrapped(said, width), *flowed(signs, width)]
