"""Angles on the 720° of one engine cycle, and arcs of that circle, in exact decimal degrees."""

from decimal import Decimal

from snugset.values import dataclass

CYCLE = Decimal(720)
"""Degrees of crank in one cycle of four strokes."""
_HALF = CYCLE / 2
Number = Decimal | float
"""A plain number of degrees (whole numbers too)."""

_LARGEST = Decimal(100_000)
_MILLIONTH = Decimal("0.000001")
_TENTH = Decimal("0.1")


def degrees(value: Number) -> Decimal:
    """Take a number as exact decimal degrees.

    A binary fraction counts as the shortest decimal that writes it. Finer than a millionth of a
    degree is rounded to that, so that every later sum and half is exact. ValueError if the number
    is not finite or past 100,000.
    """
    found = value if isinstance(value, Decimal) else Decimal(str(value))
    if not found.is_finite() or abs(found) > _LARGEST:
        raise ValueError(f"{value} cannot be reckoned with; give a number within ±100000")
    rounded = found.quantize(_MILLIONTH)
    return found if found == rounded else rounded


def wrap(angle: Decimal, around: Decimal = CYCLE) -> Decimal:
    """Bring an angle into 0 ≤ angle < around."""
    rest = angle % around  # a Decimal's remainder has the sign of the angle
    return rest + around if rest < 0 else rest + 0


def from_zero(angle: Decimal, around: Decimal = CYCLE) -> Decimal:
    """Bring an angle into −around/2 ≤ angle < around/2: the shorter way from zero."""
    return wrap(angle + around / 2, around) - around / 2


def plain(angle: Decimal) -> str:
    """Write degrees for people: at most one decimal, no zero too many, ``58.5``, ``60``."""
    text = f"{angle.quantize(_TENTH):f}".removesuffix(".0")
    return "0" if text == "-0" else text


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """The angles from low on to high in the running direction, both ends included.

    Ends are in degrees and need not lie in 0..720. High under low is an empty arc; a length of
    720 or more is the full circle. Angles are taken modulo 720 throughout.
    """

    low: Decimal
    high: Decimal

    def __post_init__(self) -> None:
        object.__setattr__(self, "low", degrees(self.low))
        object.__setattr__(self, "high", degrees(self.high))

    @property
    def length(self) -> Decimal:
        """Degrees from low to high; negative for an empty arc."""
        return self.high - self.low

    @property
    def empty(self) -> bool:
        """Whether no angle lies in the arc."""
        return self.length < 0

    @property
    def full(self) -> bool:
        """Whether every angle lies in the arc."""
        return self.length >= CYCLE

    @property
    def most(self) -> Decimal:
        """The widest margin any angle has in the arc: half its length, 360 for the full circle."""
        return CYCLE / 2 if self.full else self.length / 2

    def margin(self, angle: Decimal) -> Decimal:
        """Degrees from an angle to the nearer end: positive inside, negative outside.

        In the full circle, which has no ends, it is 360 for every angle.
        """
        length = self.high - self.low
        if length >= CYCLE:
            return _HALF
        way = wrap(angle - (self.low + self.high) / 2)
        return length / 2 - (way if way <= _HALF else CYCLE - way)

    def holds(self, angle: Decimal) -> bool:
        """Whether the angle lies in the arc, ends included."""
        return self.margin(angle) >= 0

    def moved(self, by: Decimal) -> "Arc":
        """Return the arc turned on by so many degrees."""
        return Arc(low=self.low + by, high=self.high + by)

    def shrunk(self, by: Decimal) -> "Arc":
        """Return the arc less so many degrees at each end; a full circle stays full."""
        return self if self.full else Arc(low=self.low + by, high=self.high - by)
