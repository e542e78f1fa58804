"""How long setting points and the pushrod decision take."""

import random
from collections.abc import Callable, Iterator
from decimal import Decimal
from functools import partial
from statistics import median

from bench.table import Row, interleaved, timed
from snugset.trade.camshaft import Events, Lift, even_intervals
from snugset.trade.points import setting_points
from snugset.trade.pushrods import order
from snugset.units import Quantity

RUNS = 21
POINTS = 5.0
ORDER = 5.0
FINE = 50.0
"""Bars, in ms: 24 cylinders; a usual catalogue; a step of .001 in over 300 thou."""

Work = Callable[[], object]


def points(*, bridged: bool, lift: Lift) -> Work:
    """Plan 24 cylinders, marks and low pistons and all."""
    order_, even = tuple(range(1, 25)), even_intervals(24)
    card = Events(ivo=12, ivc=48, evo=52, evc=10, lift=lift)
    return lambda: setting_points(
        "camshaft",
        order_,
        even,
        bridged=bridged,
        events=card,
        marks=range(0, 360, 30),
        prefer_down=True,
    )


def decision(*, apart: int, step: int, most: int | None = None) -> Work:
    """Decide for 48 places that read so many thou apart."""
    draw = random.Random(24)  # noqa: S311  # cases, no secrets
    readings = {
        f"{cylinder}{valve}": thou(draw.randint(5, 5 + apart))
        for cylinder in range(1, 25)
        for valve in "IE"
    }
    return lambda: order(
        readings,
        (thou(20), thou(60)),
        uncertainty=thou(4),
        fitted=thou(9600),
        catalogue=thou(step),
        most=most,
    )


def thou(number: int) -> Quantity:
    """Thousandths of an inch."""
    return Quantity(Decimal(number), "thou")


CASES: dict[str, tuple[Work, float]] = {
    "24 cylinders, bridges": (points(bridged=True, lift="seat"), POINTS),
    "24 cylinders, bridges, card at .050": (
        points(bridged=True, lift="0.050 in"),
        POINTS,
    ),
    "24 cylinders, valves": (points(bridged=False, lift="seat"), POINTS),
    "24 cylinders, valves, card at .050": (
        points(bridged=False, lift="0.050 in"),
        POINTS,
    ),
    "48 places 90 thou apart, step .010": (decision(apart=90, step=10), ORDER),
    "48 places 90 thou apart, one length": (
        decision(apart=90, step=10, most=1),
        ORDER,
    ),
    "48 places 300 thou apart, step .001": (decision(apart=300, step=1), FINE),
    **{
        f"48 places 300 thou apart, step .001, most {most}": (
            decision(apart=300, step=1, most=most),
            FINE,
        )
        for most in (1, 3, 5, 6)
    },
}


def rows() -> Iterator[Row]:
    """Run everything by turns."""
    times = interleaved({name: partial(timed, work) for name, (work, _) in CASES.items()}, RUNS)
    for name, (_, bar) in CASES.items():
        detail = f"slowest {max(times[name]):.1f} ms of {RUNS}"
        what = "pushrod decision" if "places" in name else "setting points"
        yield Row(f"{what}, {name}", median(times[name]), "ms", bar, detail)
