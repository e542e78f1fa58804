"""Calculators of every day: units, and the damper's rim."""

from snugset.trade import rim
from snugset.trade.calculator import Calculator, Example, Figure, Given, Input, Output, Result
from snugset.trade.convert import every_unit
from snugset.trade.declared.bands import DAMPER
from snugset.trade.exact import side_by_side, tidy
from snugset.trade.fault import FigureError
from snugset.units import UNITS, Quantity, rounded


def _convert(given: Given) -> Result:
    value = given.one("value")
    units = every_unit(value)
    return Result(
        outputs={unit: Figure(value=one) for unit, one in units.items()},
        working=(" = ".join(str(one) for one in units.values()),),
        source=CONVERT.source,
    )


CONVERT = Calculator(
    name="convert",
    words="one figure in every unit that the trade uses for its kind",
    inputs=(Input(key="value", any_kind=True, negative=True, words="a figure with its unit"),),
    outputs=tuple(
        Output(key=unit, unit=unit, words=f"the same {kind}")
        for unit, kind in UNITS.items()
        if unit
    ),
    formula=("1 in = 25.4 mm exactly; 1 lbf·ft = 1.355 818 N·m; 1 psi = 6.894 757 kPa",),
    source="NIST SP 811 App. B",
    example=Example(
        inputs={"value": "22 lbf·ft"}, outputs={"lbf·in": "264 lbf·in", "N·m": "29.82799 N·m"}
    ),
    work=_convert,
)


def _rim(given: Given) -> Result:
    diameter = given.one("diameter")
    angle, distance = given.maybe("angle", Quantity), given.maybe("distance", Quantity)
    if (angle is None) == (distance is None):
        raise FigureError("angle", "give either the angle or the distance, one of the two")
    try:
        if angle is not None:
            degrees = angle.in_("deg")
            length = Quantity(tidy(rim.distance(diameter.value, degrees), 5), diameter.unit)
        if distance is not None:
            (across, along), _ = side_by_side(diameter, distance)
            degrees, length = rim.angle_of(across, along), distance
    except ValueError as error:
        raise FigureError("angle" if distance is None else "distance", str(error)) from error
    shown = rounded(Quantity(tidy(degrees, 5), "deg"))
    length = rounded(length)
    return Result(
        outputs={"angle": Figure(value=shown), "distance": Figure(value=length)},
        working=(f"π × {diameter} × {shown}/360 = {length}",),
        source=RIM.source,
    )


RIM = Calculator(
    name="rim",
    words="crank angle as a distance round the damper's rim",
    inputs=(
        Input(key="diameter", unit="in", band=DAMPER, words="diameter of the rim"),
        Input(key="angle", unit="deg", needed=False, negative=True, words="crank angle"),
        Input(key="distance", unit="in", needed=False, negative=True, words="distance round it"),
    ),
    outputs=(
        Output(key="angle", unit="deg", words="crank angle"),
        Output(key="distance", unit="in", words="distance round the rim"),
    ),
    formula=("distance = π·d·angle/360",),
    source="derived here: the arc of a circle",
    example=Example(
        inputs={"diameter": "7.5 in", "angle": "90 deg"}, outputs={"distance": "5.8905 in"}
    ),
    work=_rim,
)
