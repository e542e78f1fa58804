"""The sheet's charts: numbers in, the text of an SVG out; no library, no colour of their own.

Each is an image with a title and a description. What it shows stands in a table beside it too.
Its colours are classes that the page gives for light, dark and print.
"""

from snugset.sheet.drawn.crank import crank
from snugset.sheet.drawn.holes import holes
from snugset.sheet.drawn.ledger import ledger
from snugset.sheet.drawn.stages import stages
from snugset.sheet.drawn.svg import Svg, plain

__all__ = ["Svg", "crank", "holes", "ledger", "plain", "stages"]
