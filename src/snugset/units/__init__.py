"""The one door between text and quantities.

Text is read by a bounded grammar of our own and never reaches another library; factors between
units are a short list, each exact.
"""

from snugset.units.errors import UnitError
from snugset.units.guard import check_band
from snugset.units.quantity import Band, Quantity, signed
from snugset.units.reading import read, read_list, read_takes, read_terms, read_window
from snugset.units.shown import echo, rounded
from snugset.units.written import UNITS

__all__ = [
    "UNITS",
    "Band",
    "Quantity",
    "UnitError",
    "check_band",
    "echo",
    "read",
    "read_list",
    "read_takes",
    "read_terms",
    "read_window",
    "rounded",
    "signed",
]
