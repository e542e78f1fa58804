"""A calculator is declared once: what it asks, what it gives, its formula, source and example.

The live pane, the screen of calculators, the shell and the reference page all read the
declaration; none of them knows a formula.
"""

from collections.abc import Callable, Mapping
from decimal import Decimal

from snugset.trade.fault import FigureError
from snugset.typed import Literal, TypeVar
from snugset.units import Band, Quantity
from snugset.values import dataclass, field

__all__ = ["Calculator", "Example", "Figure", "FigureError", "Form", "Given", "Input", "Output",
           "Result", "Value"]  # fmt: skip

Form = Literal[
    "one",  # a quantity
    "takes",  # stacks of leaves with a semicolon between: 17+18; 18+18
    "list",  # quantities with commas between
    "window",  # a low and a high end
    "places",  # a quantity for each place: 1I=11 1E=14 thou; or one for all
    "banks",  # each bank's cylinders from the front: left=1,3 right=2,4
    "thread",  # 7/16-20 or M10x1.5
    "share",  # 25 % or 0.25
    "number",  # a pure number
    "whole",  # a whole number
    "choice",  # one of some words
    "order",  # a firing order: 1-5-3-6-2-4
    "camshaft",  # a camshaft card: IVO 12 IVC 48 EVO 52 EVC 10 at seat
    "engine",  # an engine that stands for other inputs; whoever asks knows where engines are kept
]
"""How an input is typed."""

Value = (
    Quantity | str | bool | tuple[Quantity, ...] | tuple[str, ...]
    | Mapping[str, Quantity] | Mapping[str, str]
)  # fmt: skip
"""What an output may be: a quantity, a word, yes or no, several of them, or one for each place."""

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """One thing asked for."""

    key: str
    words: str
    form: Form = "one"
    unit: str = ""
    """The unit that a bare figure takes; the kind of quantity asked for is its kind."""
    like: str = ""
    """Key of an input whose unit a bare figure takes instead."""
    any_kind: bool = False
    """Whether a quantity of any kind will do."""
    needed: bool = True
    default: str = ""
    """The text read where none is given."""
    choices: tuple[str, ...] = ()
    also: Mapping[str, str] = field(default_factory=dict)
    """Other words for a choice, taken but not offered."""
    negative: bool = False
    zero: bool = False
    """Whether 0 will do although the band does not reach it."""
    band: Band | None = None
    """The plausible: outside it a slip of unit is looked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Output:
    """One thing given."""

    key: str
    words: str
    unit: str = ""
    """Its usual unit; it may come in that of the inputs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Example:
    """A worked example: what is typed and, of some outputs, what comes."""

    inputs: Mapping[str, str]
    outputs: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One output's value, with U where there is one."""

    value: Value
    uncertainty: Quantity | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """What a calculator gives."""

    outputs: Mapping[str, Figure]
    working: tuple[str, ...]
    """The formula with the numbers put in, line by line."""
    source: str


class Given:
    """The inputs by key, each taken as what its form makes of it."""

    def __init__(self, inputs: Mapping[str, object]) -> None:
        self._inputs = {key: value for key, value in inputs.items() if value is not None}

    def __contains__(self, key: str) -> bool:
        return key in self._inputs

    def maybe(self, key: str, kind: type[T]) -> T | None:
        """Give an input, or None if it was not given; FigureError if it is of another form."""
        value = self._inputs.get(key)
        if value is None or isinstance(value, kind):
            return value
        raise FigureError(key, f"not given as {kind.__name__}")

    def need(self, key: str, kind: type[T]) -> T:
        """Give an input; FigureError if it was not given."""
        value = self.maybe(key, kind)
        if value is None:
            raise FigureError(key, "needed")
        return value

    def one(self, key: str) -> Quantity:
        """Give a quantity that is needed."""
        return self.need(key, Quantity)

    def window(self, key: str) -> tuple[Quantity, Quantity] | None:
        """Give a low and a high end, or None."""
        ends = self.several(key)
        return (ends[0], ends[1]) if len(ends) == 2 else None

    def several(self, key: str) -> tuple[Quantity, ...]:
        """Give quantities; none if not given."""
        values = self.maybe(key, tuple) or ()
        return tuple(value for value in values if isinstance(value, Quantity))

    def takes(self, key: str) -> tuple[tuple[Quantity, ...], ...]:
        """Give stacks of leaves."""
        return tuple(
            tuple(leaf for leaf in stack if isinstance(leaf, Quantity))
            for stack in self.need(key, tuple)
            if isinstance(stack, tuple)
        )

    def places(self, key: str) -> dict[str, Quantity]:
        """Give a quantity for each place; ``""`` is the place of one without a name."""
        values = self.maybe(key, Mapping)  # type: ignore[type-abstract]
        pairs = values.items() if values is not None else ()
        return {str(place): value for place, value in pairs if isinstance(value, Quantity)}

    def one_or_each(self, key: str) -> Quantity | dict[str, Quantity]:
        """Give the one quantity that holds for all, or one for each place."""
        places = self.places(key)
        return places.get("", places)

    def banks(self, key: str) -> dict[str, tuple[int, ...]] | None:
        """Give each bank's cylinders, or None."""
        values = self.maybe(key, Mapping)  # type: ignore[type-abstract]
        if values is None:
            return None
        return {
            str(bank): tuple(int(cylinder) for cylinder in cylinders)
            for bank, cylinders in values.items()
        }

    def order(self, key: str) -> tuple[int, ...]:
        """Give a firing order that is needed."""
        return tuple(one for one in self.need(key, tuple) if isinstance(one, int))

    def number(self, key: str) -> Decimal:
        """Give a pure number that is needed."""
        return self.need(key, Decimal)


@dataclass(frozen=True, slots=True, kw_only=True)
class Calculator:
    """One calculation of the trade."""

    name: str
    words: str
    inputs: tuple[Input, ...]
    outputs: tuple[Output, ...]
    formula: tuple[str, ...]
    """As the trade writes it."""
    source: str
    example: Example
    work: Callable[[Given], Result] = field(repr=False)

    def compute(self, inputs: Mapping[str, object]) -> Result:
        """Work it out from values by key; FigureError names the key at fault.

        Values are what the inputs' forms make: a Quantity, a tuple of them, tuples of tuples for
        takes, a mapping by place, a Thread, a Decimal, an int or a word. A value of None is one
        that was not given.
        """
        return self.work(Given(inputs))
