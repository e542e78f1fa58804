"""How long setting points and the pushrod decision take, in interleaved runs.

``python tests/bench/bench_points.py [RUNS]`` prints the median of each, the slowest run, and the
bar. The first run of everything is not counted.
"""

import random
import sys
import time
from collections.abc import Callable
from decimal import Decimal
from statistics import median

from snugset.trade.camshaft import Events, Lift, even_intervals
from snugset.trade.points import setting_points
from snugset.trade.pushrods import order
from snugset.units import Quantity

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
    "24 cylinders, bridges, card at .050": (points(bridged=True, lift="0.050 in"), POINTS),
    "24 cylinders, valves": (points(bridged=False, lift="seat"), POINTS),
    "24 cylinders, valves, card at .050": (points(bridged=False, lift="0.050 in"), POINTS),
    "48 places 90 thou apart, step .010": (decision(apart=90, step=10), ORDER),
    "48 places 90 thou apart, one length": (decision(apart=90, step=10, most=1), ORDER),
    "48 places 300 thou apart, step .001": (decision(apart=300, step=1), FINE),
    **{
        f"48 places 300 thou apart, step .001, most {most}": (
            decision(apart=300, step=1, most=most),
            FINE,
        )
        for most in (1, 3, 5, 6)
    },
}


def main(runs: str = "31") -> int:
    """Run everything by turns and print the table; 1 if a bar is missed."""
    times: dict[str, list[float]] = {name: [] for name in CASES}
    for _ in range(int(runs) + 1):
        for name, (work, _) in CASES.items():
            start = time.perf_counter()
            work()
            times[name].append((time.perf_counter() - start) * 1e3)
    missed = 0
    sys.stdout.write(f"{'':48}{'median ms':>10}{'slowest':>9}   bar\n")
    for name, (_, bar) in CASES.items():
        middle, slowest = median(times[name][1:]), max(times[name][1:])
        missed += middle > bar
        held = "held" if middle <= bar else "MISSED"
        sys.stdout.write(f"{name:48}{middle:10.2f}{slowest:9.2f}   {bar:g} {held}\n")
    return int(missed > 0)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
