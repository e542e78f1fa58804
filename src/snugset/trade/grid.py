"""Lengths as whole numbers of one small step, so that nothing is rounded while it is searched."""

from decimal import Decimal

from snugset.trade.exact import decimals, plain, shared_unit
from snugset.units import Quantity

_FINEST = 12
"""Decimals that can be typed; a third of something, which never ends, is rounded there."""


class Grid:
    """The coarsest decimal step of which every quantity given is a whole number."""

    def __init__(self, *quantities: Quantity) -> None:
        self._unit = shared_unit(quantities)
        # One place more than typed, so that the middle between two is on the grid too.
        most = max(decimals(quantity.in_(self._unit)) for quantity in quantities)
        self._places = 1 + min(most, _FINEST)
        self._known: dict[int, Quantity] = {}

    def whole(self, quantity: Quantity) -> int:
        """Give a quantity as a whole number of steps."""
        return round(quantity.in_(self._unit).scaleb(self._places))

    def exact(self, steps: int) -> Quantity:
        """Give a number of steps as a quantity, in the unit of the grid."""
        if (known := self._known.get(steps)) is None:  # many places read alike
            known = Quantity(plain(Decimal(steps).scaleb(-self._places)), self._unit)
            self._known[steps] = known
        return known
