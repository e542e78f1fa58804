"""Readings by place: each with its doubt, round by round, over the window that judged them."""

from collections.abc import Iterator, Sequence

from snugset.printable import counted
from snugset.sheet.drawn.scale import Scale, nice
from snugset.sheet.drawn.svg import Svg, box, element, label, line, picture
from snugset.sheet.readings import ReadingRow
from snugset.units import Quantity
from snugset.values import dataclass

WIDTH, HEIGHT = 760.0, 300.0
LEFT, RIGHT, TOP, BOTTOM = 58.0, 66.0, 18.0, 34.0
MOST = 24
"""Places that one picture holds."""
_APART = 15.0
_MARK = 6.5


@dataclass(frozen=True, slots=True, kw_only=True)
class _Frame:
    rows: tuple[ReadingRow, ...]
    places: tuple[str, ...]
    rounds: tuple[int, ...]
    unit: str
    scale: Scale
    """From a figure in that unit to a height on the picture."""

    def number(self, quantity: Quantity) -> float:
        return float(quantity.in_(self.unit))

    def height(self, quantity: Quantity) -> float:
        return self.scale(self.number(quantity))

    @property
    def step(self) -> float:
        return (WIDTH - LEFT - RIGHT) / len(self.places)

    def x(self, row: ReadingRow) -> float:
        """Where a reading stands: rounds side by side in the column of their place."""
        apart = min(_APART, self.step / len(self.rounds))
        shift = (self.rounds.index(row.round) - (len(self.rounds) - 1) / 2) * apart
        return LEFT + self.step * (self.places.index(row.place) + 0.5) + shift


def ledger(
    name: str, title: str, rows: Sequence[ReadingRow], target: Quantity | None = None
) -> tuple[Svg, ...]:
    """Draw readings of one figure, in as many pictures as its places need; none without a place.

    The limits of the newest reading of each place are drawn there; rounds are numbered.
    """
    rows = tuple(row for row in rows if row.place)
    places = tuple(dict.fromkeys(row.place for row in rows))
    parts = [places[at : at + MOST] for at in range(0, len(places), MOST)]
    return tuple(
        _picture(f"{name}-{nth}" if nth else name, title, rows, part, target)
        for nth, part in enumerate(parts)
    )


def _picture(
    name: str,
    title: str,
    every: tuple[ReadingRow, ...],
    places: tuple[str, ...],
    target: Quantity | None,
) -> Svg:
    rows = tuple(row for row in every if row.place in places)
    unit = rows[0].value.unit
    rounds = tuple(sorted({row.round for row in rows}))
    scale = Scale.over(_span(every, unit, target), (HEIGHT - BOTTOM, TOP))
    frame = _Frame(rows=rows, places=places, rounds=rounds, unit=unit, scale=scale)
    return picture(
        name,
        WIDTH,
        HEIGHT,
        title,
        _told(frame),
        *_window(frame, target),
        *_axes(frame),
        label(LEFT + 8, TOP - 6, title, "small strong", "start"),
        *(mark for row in rows for mark in _reading(frame, row)),
    )


def _span(rows: Sequence[ReadingRow], unit: str, target: Quantity | None) -> tuple[float, float]:
    found = []
    for row in rows:
        doubt = float(row.uncertainty.in_(unit)) if row.uncertainty else 0.0
        value = float(row.value.in_(unit))
        found += [value - doubt, value + doubt]
        found += [float(limit.in_(unit)) for limit in (row.low, row.high) if limit is not None]
    found += [float(target.in_(unit))] if target else []
    return min(found), max(found)


def _newest(frame: _Frame) -> dict[str, ReadingRow]:
    return {row.place: row for row in sorted(frame.rows, key=lambda row: row.round)}


def _window(frame: _Frame, target: Quantity | None) -> Iterator[Svg]:
    """Draw the limits behind each place; neighbours with the same ones make one band."""
    runs: list[list[ReadingRow]] = []
    newest = _newest(frame)
    for place in frame.places:
        row = newest[place]
        if runs and (runs[-1][-1].low, runs[-1][-1].high) == (row.low, row.high):
            runs[-1].append(row)
        else:
            runs.append([row])
    done, said = 0, len(runs) == 1
    for run in runs:
        left, wide = LEFT + frame.step * done, frame.step * len(run)
        done += len(run)
        low, high = run[0].low, run[0].high
        if low is None and high is None:
            continue
        above = TOP if high is None else frame.height(high)
        below = HEIGHT - BOTTOM if low is None else frame.height(low)
        yield box(left, above, wide, below - above, "window")
        for limit, word, at in ((high, "high", above), (low, "low", below)):
            if limit is not None:
                yield line(left, at, left + wide, at, "limit")
                if said:
                    yield _beside(at, f"{word} {frame.number(limit):g}")
    if target is not None:
        at = frame.height(target)
        yield line(LEFT, at, WIDTH - RIGHT, at, "target")
        yield _beside(at, f"target {frame.number(target):g}")


def _beside(at: float, words: str) -> Svg:
    return label(WIDTH - RIGHT + 6, at + 4, words, "small", "start")


def _axes(frame: _Frame) -> Iterator[Svg]:
    for tick in nice(*frame.scale.span):
        at = frame.scale(tick)
        yield line(LEFT - 4, at, LEFT, at, "axis")
        yield label(LEFT - 8, at + 4, f"{round(tick, 6):g}".replace("-", "\u2212"), "small", "end")
    yield line(LEFT, TOP, LEFT, HEIGHT - BOTTOM, "axis")
    yield line(LEFT, HEIGHT - BOTTOM, WIDTH - RIGHT, HEIGHT - BOTTOM, "axis")
    yield label(LEFT - 8, TOP - 6, frame.unit, "small", "end")
    for number, place in enumerate(frame.places):
        x = LEFT + frame.step * (number + 0.5)
        yield label(x, HEIGHT - BOTTOM + 18, place)


def _reading(frame: _Frame, row: ReadingRow) -> Iterator[Svg]:
    x, y = frame.x(row), frame.height(row.value)
    newest = _newest(frame)[row.place] is row
    if row.uncertainty is not None:
        doubt = frame.number(row.uncertainty)
        above = frame.scale(frame.number(row.value) + doubt)
        below = frame.scale(frame.number(row.value) - doubt)
        yield line(x, above, x, below, "whisker")
        for at in (above, below):
            yield line(x - 4, at, x + 4, at, "whisker")
    look = "mark" if newest else "mark earlier"
    if row.verdict in ("loose", "bottomed"):
        yield box(x - _MARK, y - _MARK, 2 * _MARK, 2 * _MARK, look)
    else:
        yield element("circle", cx=x, cy=y, r=_MARK, class_=look)
    if row.round:
        yield label(x, y + 3.4, str(row.round), "in-mark" if newest else "in-mark earlier")


def _told(frame: _Frame) -> str:
    newest = _newest(frame).values()
    by_verdict: dict[str, list[str]] = {}
    for row in newest:
        by_verdict.setdefault(row.verdict_words, []).append(row.place)
    judged = "; ".join(f"{words}: {', '.join(at)}" for words, at in by_verdict.items())
    rounds = (
        f"{counted(len(frame.rounds), 'round')}, numbered in the marks. "
        if any(frame.rounds)
        else ""
    )
    return (
        f"{rounds}Each mark is a reading in {frame.unit}, the line through it its doubt U either "
        f"way, the band the limits. Newest reading of each place: {judged}."
    )
