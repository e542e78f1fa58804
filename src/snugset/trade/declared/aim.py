"""The target that several calculators ask for, held against the limits given with it."""

from snugset.trade.calculator import Given
from snugset.trade.exact import side_by_side
from snugset.trade.fault import FigureError
from snugset.units import Quantity


def aimed(given: Given) -> Quantity | None:
    """Give the target, or None; FigureError if it lies outside the window or the travel."""
    target = given.maybe("target", Quantity)
    if target is None:
        return None
    window, travel = given.window("window"), given.maybe("travel", Quantity)
    if window is not None:
        (aim, low, high), _ = side_by_side(target, *window)
        if not low <= aim <= high:
            raise FigureError(
                "target",
                f"{target} lies outside the window of {window[0]} to {window[1]};"
                " check both figures",
            )
    if travel is not None:
        (aim, whole), _ = side_by_side(target, travel)
        if aim >= whole:
            raise FigureError(
                "target",
                f"{target} is not within the lifter's whole travel of {travel}; check both figures",
            )
    return target
