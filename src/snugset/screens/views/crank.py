"""The crank over two turns: each cylinder's closed span in firing order, and where it stands."""

from decimal import Decimal

from textual.content import Content

from snugset.files.figures import Camshaft
from snugset.guide.kinds.crank import Crank
from snugset.guide.kinds.turn import window_words
from snugset.guide.state import PlannedPoint, State
from snugset.plan.plan import Plan
from snugset.screens.words import around, joined, short, text, wrapped
from snugset.trade.camshaft import Events, arcs
from snugset.trade.circle import Arc, wrap

CYCLE = Decimal(720)


def _card(plan: Plan, state: State) -> Events | None:
    for step in plan.steps.values():
        if isinstance(step.block, Crank) and step.block.events:
            found = state.spec(step.block.events)
            if isinstance(found, Camshaft):
                return Events(
                    ivo=found.ivo, ivc=found.ivc, evo=found.evo, evc=found.evc, lift=found.lift
                )
    return None


def _row(arc: Arc | None, crank: Decimal | None, width: int) -> str:
    cells = []
    for number in range(width):
        angle = CYCLE * number / width
        closed = arc is not None and wrap(angle - arc.low) <= arc.length
        cells.append("━" if closed else "·" if arc is None else "╌")
    if crank is not None:
        cells[int(wrap(crank) * width / CYCLE)] = "┃"
    return "".join(cells)


def view(plan: Plan, state: State, point: PlannedPoint | None, width: int, height: int) -> Content:
    """Give a row a cylinder in firing order over 720°, and the window of this setting point.

    ``━`` both valves closed, ``╌`` one open, ``┃`` where the crank stands.
    """
    engine, crank = plan.engine, state.condition.crank
    events = _card(plan, state)
    spans = arcs(engine.firing_order, engine.intervals, events, bridged=True) if events else {}
    room = max(12, min(width - 4, 72))
    lines = [text(short("Crank: two turns, from 1 firing", width), "bold"), _scale(room)]
    for cylinder in engine.firing_order:
        here = point.places if point is not None else ()
        free = str(cylinder) in {place.rstrip("IE") for place in here}
        row = f"{'▸' if free else ' '}{cylinder:>2} {_row(spans.get(str(cylinder)), crank, room)}"
        lines.append(text(row, "bold" if free else ""))
    if crank is None:
        said = [text("Crank: unknown, until number one is proven.", "bold")]
    else:
        turn = " in the second turn" if crank >= 360 else ""
        said = [text(f"Crank: {wrap(crank, Decimal(360)):.0f}° past the mark{turn}.")]
    if point is not None:
        said.append(text(f"{point.key}: {window_words(point)}."))
    if events is None:
        said.append(text("No camshaft card: the spans are not known."))
    said.append(text("━ both valves closed  ╌ one open  ┃ crank", "dim"))
    return joined(around([*lines, *wrapped(said, width)], 0, height))


def _scale(room: int) -> Content:
    cells = [" "] * (room + 4)
    for degrees in (0, 180, 360, 540):
        at, number = 4 + degrees * room // 720, str(degrees)
        cells[at : at + len(number)] = list(number)
    return text("".join(cells).rstrip())
