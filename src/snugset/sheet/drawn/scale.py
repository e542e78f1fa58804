"""From figures to places on a picture, and round figures to mark on an axis."""

import math
from collections.abc import Iterator

from snugset.typed import Self
from snugset.values import dataclass


@dataclass(frozen=True, slots=True)
class Scale:
    """A straight line from a span of figures to a span of the picture."""

    span: tuple[float, float]
    onto: tuple[float, float]

    def __call__(self, value: float) -> float:
        """Give where a figure stands."""
        low, high = self.span
        first, last = self.onto
        return first + (last - first) * (value - low) / (high - low)

    @classmethod
    def over(cls, span: tuple[float, float], onto: tuple[float, float]) -> Self:
        """Make a scale with a little air at both ends; a single figure stands in the middle."""
        low, high = span
        air = (high - low) * 0.06 or abs(high) * 0.1 or 1.0
        return cls((low - air, high + air), onto)


def nice(low: float, high: float, about: int = 6) -> Iterator[float]:
    """Give about so many round figures between two: steps of 1, 2 or 5 times a power of ten."""
    rough = (high - low) / about
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(each * power for each in (1, 2, 5, 10) if each * power >= rough)
    for number in range(math.ceil(low / step), math.floor(high / step) + 1):
        yield number * step
