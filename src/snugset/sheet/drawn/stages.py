"""Stages of tightening over time: a row a stage, a stroke a fastener, breaks cut out."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from itertools import pairwise

from snugset.guide.scene import when
from snugset.guide.words import took
from snugset.sheet.drawn.svg import Svg, box, label, line, picture, room
from snugset.values import dataclass

WIDTH = 760.0
LEFT, RIGHT, TOP = 90.0, 70.0, 34.0
"""Left there is at least so much room, and more for long names."""
_ROW = 34.0
_GAP = 34.0
"""Width of a break."""
PAUSE = timedelta(minutes=30)
"""A pause longer than this is drawn as a break; the same at which the guide takes it for one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One stage."""

    name: str
    """``1 · 30 lbf·ft``."""
    times: tuple[str, ...]
    """When each fastener was closed in it, as it stands."""
    undone: tuple[str, ...] = ()
    """When fasteners were closed in it before it was begun again."""
    of: int
    """How many fasteners it goes over."""


@dataclass(frozen=True, slots=True)
class _Time:
    """Moments to places: sittings in their length, breaks all of one width."""

    sittings: tuple[tuple[datetime, datetime], ...]
    left: float
    """Where it begins on the picture."""

    def _wide(self) -> list[float]:
        """Share the width out by how long each sitting was; each gets a little at least."""
        free = WIDTH - self.left - RIGHT - _GAP * (len(self.sittings) - 1)
        least = free / (4 * len(self.sittings))
        long = [(end - begin).total_seconds() for begin, end in self.sittings]
        whole = sum(long) or 1.0
        return [least + (free - least * len(long)) * each / whole for each in long]

    def spans(self) -> Iterator[tuple[float, float]]:
        x = self.left
        for wide in self._wide():
            yield x, x + wide
            x += wide + _GAP

    def __call__(self, moment: datetime) -> float:
        for (begin, end), (left, right) in zip(self.sittings, self.spans(), strict=True):
            if begin <= moment <= end:
                whole = (end - begin).total_seconds() or 1.0
                at = (moment - begin).total_seconds() / whole if end > begin else 0.5
                return left + 6 + (right - left - 12) * at
        raise ValueError(moment)


def _sittings(moments: Sequence[datetime]) -> tuple[tuple[datetime, datetime], ...]:
    found: list[tuple[datetime, datetime]] = []
    for moment in sorted(moments):
        if found and moment - found[-1][1] <= PAUSE:
            found[-1] = found[-1][0], moment
        else:
            found.append((moment, moment))
    return tuple(found)


def stages(name: str, title: str, rows: Sequence[Row]) -> Svg:
    """Draw stages in the order given, the first at the bottom: they rise as the torque does."""
    moments = [when(each) for row in rows for each in (*row.times, *row.undone)]
    longest = max(room(row.name) for row in rows) + 20
    time = _Time(_sittings(moments), max(LEFT, min(longest, WIDTH / 2)))
    height = TOP + _ROW * len(rows) + 34
    below = height - 34
    return picture(
        name,
        WIDTH,
        height,
        title,
        _told(rows, time),
        *_breaks(time, below),
        *(
            mark
            for number, row in enumerate(rows)
            for mark in _row(row, below - _ROW * (number + 0.5), time)
        ),
        *_clocks(time, below),
    )


def _row(row: Row, y: float, time: _Time) -> Iterator[Svg]:
    yield label(time.left - 10, y + 4, row.name, anchor="end")
    yield line(time.left, y, WIDTH - RIGHT, y, "open")
    for each in row.undone:
        x = time(when(each))
        yield line(x, y - 9, x, y + 9, "stroke earlier")
    at = [time(when(each)) for each in row.times]
    if at:
        yield line(min(at), y, max(at), y, "course")
    for x in at:
        yield line(x, y - 9, x, y + 9, "stroke")
    yield label(WIDTH - RIGHT + 8, y + 4, f"{len(row.times)} of {row.of}", "small", "start")


def _breaks(time: _Time, below: float) -> Iterator[Svg]:
    pairs = zip(pairwise(time.spans()), pairwise(time.sittings), strict=True)
    for ((_, left), (right, _)), ((_, end), (begin, _)) in pairs:
        yield box(left + 3, TOP - 12, right - left - 6, below - TOP + 12, "break")
        gap = took(int((begin - end).total_seconds()))
        yield label((left + right) / 2, TOP - 18, gap, "small")


def _clocks(time: _Time, below: float) -> Iterator[Svg]:
    for (begin, end), (left, right) in zip(time.sittings, time.spans(), strict=True):
        yield line(left, below, right, below, "axis")
        first, last = f"{begin:%H:%M}", f"{end:%H:%M}"
        middle = (left + right) / 2
        yield label(middle, below + 15, first if first == last else f"{first} to {last}", "small")
        yield label(middle, below + 28, f"{begin:%Y-%m-%d}", "small")


def _told(rows: Sequence[Row], time: _Time) -> str:
    told = [f"{row.name}, {len(row.times)} of {row.of}" for row in rows]
    again = sum(len(row.undone) for row in rows)
    also = f" {again} were given before a stage was begun again, drawn thin." if again else ""
    breaks = len(time.sittings) - 1
    return (
        f"A row for each stage, a stroke for each fastener when it reached it: {'; '.join(told)}. "
        f"Pauses of more than half an hour are cut out: {breaks}.{also}"
    )
