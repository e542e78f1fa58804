"""The calculator for where every valve stands."""

from decimal import Decimal

from snugset.trade.calculator import Calculator, Example, Figure, Given, Input, Output, Result
from snugset.trade.camshaft import Events, arcs, even_intervals, firing
from snugset.trade.circle import plain
from snugset.trade.fault import FigureError
from snugset.trade.standing import describe, valves
from snugset.units import Quantity


def _valves(given: Given) -> Result:
    order, events = given.order("firing_order"), given.need("camshaft", Events)
    angle, least = given.one("angle").in_("deg"), given.one("margin").in_("deg")
    intervals = tuple(one.in_("deg") for one in given.several("intervals"))
    intervals = intervals or even_intervals(len(order))
    try:
        firing(order, intervals)
    except ValueError as error:
        raise FigureError("intervals", str(error)) from error
    states = valves(order, intervals, events, _plausible(angle))
    closed = arcs(order, intervals, events, bridged=False)
    margins = {place: arc.margin(angle) for place, arc in closed.items()}
    free = tuple(place for place, margin in margins.items() if margin >= least)
    both = tuple(str(one) for one in order if f"{one}I" in free and f"{one}E" in free)
    return Result(
        outputs={
            "state": Figure(
                value={place: "open" if one.open else "closed" for place, one in states.items()}
            ),
            "next": Figure(value={place: one.then for place, one in states.items()}),
            "degrees": Figure(value={place: _deg(one.degrees) for place, one in states.items()}),
            "margin": Figure(value={place: _deg(margin) for place, margin in margins.items()}),
            "valves": Figure(value=free),
            "cylinders": Figure(value=both),
        },
        working=(
            *(describe(angle, one, order, intervals, events) for one in order),
            f"closed with {plain(least)}° or more to spare, both valves: {_named(both)}",
        ),
        source=VALVES.source,
    )


def _plausible(angle: Decimal) -> Decimal:
    if not -720 <= angle <= 1440:
        raise FigureError("angle", f"{plain(angle)} deg; the cycle has 720, give 0 to 720")
    return angle


def _deg(value: Decimal) -> Quantity:
    return Quantity(Decimal(plain(value)), "deg")


def _named(cylinders: tuple[str, ...]) -> str:
    return ", ".join(cylinders) if cylinders else "none"


VALVES = Calculator(
    name="valves",
    words="every valve at a crank angle: open or closed, and what may be set",
    inputs=(
        Input(key="engine", form="engine", needed=False,
              words="an engine that gives firing order, intervals and camshaft card"),
        Input(key="firing_order", form="order", words="the firing order, number one first"),
        Input(key="intervals", form="list", unit="deg", needed=False,
              words="degrees from each firing to the next, in that order; even otherwise"),
        Input(key="camshaft", form="camshaft",
              words="the camshaft card, with its checking lift: seat, advertised or .050 in"),
        Input(key="angle", unit="deg", negative=True,
              words="crank angle after number one's compression dead centre"),
        Input(key="margin", unit="deg", default="20 deg",
              words="degrees to spare from which a valve may be set"),
    ),
    outputs=(
        Output(key="state", words="open or closed, of each valve; open is not surely closed"),
        Output(key="next", words="what each valve does next"),
        Output(key="degrees", unit="deg", words="degrees of crank until then"),
        Output(key="margin", unit="deg", words="degrees inside its closed arc, negative is open"),
        Output(key="valves", words="valves that may be set here"),
        Output(key="cylinders", words="cylinders with both valves closed: what a bridge needs"),
    ),
    formula=(
        "from a cylinder's own firing: exhaust opens 180 − EVO, closes 360 + EVC",
        "    intake opens 360 − IVO, closes 540 + IVC",
        "an advertised lift takes 10 deg from each end of a closed arc, .050 in takes 35",
    ),
    source="derived here: the four-stroke cycle; checking lifts and 20 deg: common practice,"
           " cautious",
    example=Example(
        inputs={"firing_order": "1-5-3-6-2-4", "camshaft": "IVO 12 IVC 48 EVO 52 EVC 10 at seat",
                "angle": "0 deg"},
        outputs={"valves": "1I, 1E, 5E, 3E, 2I, 4I", "cylinders": "1"},
    ),
    work=_valves,
)  # fmt: skip
