"""Shapes of quantities: a figure with its unit, a window, a list."""

from abc import abstractmethod
from functools import lru_cache

from snugset.files.problems import Mark, Problems
from snugset.files.shape import ScalarShape, Schema, T_co
from snugset.files.values import Camshaft, read_camshaft
from snugset.units import UNITS, Quantity, UnitError, read, read_list, read_window
from snugset.values import dataclass


class _Amounts(ScalarShape[T_co]):
    __slots__ = ()

    @abstractmethod
    def _read(self, text: str) -> T_co:
        """Read by the door for quantities."""

    def read_text(self, text: str, mark: Mark, into: Problems) -> T_co | None:
        """Return what was read; UnitError becomes a problem."""
        try:
            return self._read(text)
        except UnitError as error:
            into.add(mark, error.message)
            return None

    def schema(self) -> Schema:
        """As JSON Schema; an editor takes a bare figure for a number."""
        return {"type": ["string", "number"], "description": self.wants}


@dataclass(frozen=True, slots=True)
class Amount(_Amounts[Quantity]):
    """One quantity; a bare figure takes the unit, another unit must be of its kind."""

    unit: str
    negative: bool = False

    @property
    def wants(self) -> str:
        """In words."""
        return f"a figure such as 1 {self.unit}".rstrip()

    def _read(self, text: str) -> Quantity:
        return _quantity(text, self.unit, negative=self.negative)


@lru_cache(maxsize=1024)
def _quantity(text: str, unit: str, *, negative: bool) -> Quantity:
    """Read a quantity; a map of fasteners says the same one many times."""
    return read(text, unit=unit, kind=UNITS[unit], negative=negative)


@dataclass(frozen=True, slots=True)
class AmountWindow(_Amounts[tuple[Quantity, Quantity]]):
    """A low and a high limit: ``30..40 thou``."""

    unit: str
    negative: bool = False

    @property
    def wants(self) -> str:
        """In words."""
        return f"a window such as 1..2 {self.unit}".rstrip()

    def _read(self, text: str) -> tuple[Quantity, Quantity]:
        return read_window(text, unit=self.unit, kind=UNITS[self.unit], negative=self.negative)


@dataclass(frozen=True, slots=True)
class AmountList(_Amounts[tuple[Quantity, ...]]):
    """Some quantities: ``22, 45, 110 lbf·ft``."""

    unit: str
    negative: bool = False

    @property
    def wants(self) -> str:
        """In words."""
        return f"figures such as 1, 2, 3 {self.unit}".rstrip()

    def _read(self, text: str) -> tuple[Quantity, ...]:
        return read_list(text, unit=self.unit, kind=UNITS[self.unit], negative=self.negative)


@dataclass(frozen=True, slots=True)
class CamshaftCard(_Amounts[Camshaft]):
    """A camshaft card: ``IVO 12 IVC 48 EVO 52 EVC 10 at seat``."""

    @property
    def wants(self) -> str:
        """In words."""
        return "a camshaft card such as IVO 12 IVC 48 EVO 52 EVC 10 at seat"

    def _read(self, text: str) -> Camshaft:
        return read_camshaft(text)
