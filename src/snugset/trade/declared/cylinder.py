"""Calculators for a cylinder: the piston's travel, compression."""

from snugset.trade import throw
from snugset.trade.calculator import Calculator, Example, Figure, Given, Input, Output, Result
from snugset.trade.compression import Compression, Cylinder, changed, compression
from snugset.trade.declared.bands import BORE, CHAMBER, CONNECTING_ROD, FACE, GAP, STROKE
from snugset.trade.exact import nearest, tidy
from snugset.trade.fault import FigureError
from snugset.units import Quantity, rounded


def _piston(given: Given) -> Result:
    stops = given.several("stops")
    moving = any(key in given for key in ("stroke", "connecting_rod", "angle", "travel"))
    if stops and moving:
        raise FigureError(
            "stops", "give either the two stop readings or stroke, connecting_rod and angle or"
            " travel, one of the two"
        )  # fmt: skip
    if stops:
        return _dead_centre(stops)
    for key in ("stroke", "connecting_rod"):
        if key not in given:
            raise FigureError(key, "needed for the piston's travel; or give stops alone")
    stroke, link = given.one("stroke"), given.one("connecting_rod")
    angle, travel = given.maybe("angle", Quantity), given.maybe("travel", Quantity)
    if angle is not None and travel is None:
        travel = throw.travel_at(stroke, link, angle)
        said = f"at {angle} the piston is {travel} below top"
    elif travel is not None and angle is None:
        angle = throw.angle_at(stroke, link, travel)
        said = f"{travel} below top is {angle} before or after it"
    else:
        raise FigureError("angle", "give either the angle or the travel, one of the two")
    share = nearest(travel.number("mm") / stroke.number("mm"), "", 3)
    half = Quantity(tidy(stroke.value / 2), stroke.unit)
    return Result(
        outputs={
            "travel": Figure(value=travel),
            "angle": Figure(value=angle),
            "share": Figure(value=share),
        },
        working=(
            f"s = a(1 − cos θ) + l − √(l² − a² sin² θ), a = {stroke}/2 = {half}, l = {link}",
            said,
            f"{travel}/{stroke} = {share} of the stroke",
        ),
        source=PISTON.source,
    )


def _dead_centre(stops: tuple[Quantity, ...]) -> Result:
    if len(stops) != 2:
        raise FigureError(
            "stops", f"{len(stops)} readings; give two, one from each side: stops=38, 342 deg"
        )
    one, other = (stop.in_("deg") for stop in stops)
    found = throw.dead_centre(one, other)
    centre, each = Quantity(tidy(found.reading), "deg"), Quantity(tidy(found.each_way), "deg")
    return Result(
        outputs={"dead_centre": Figure(value=centre), "each_way": Figure(value=each)},
        working=(
            f"half way between {stops[0]} and {stops[1]}, the shorter way: {centre}",
            f"{each} from there to either mark",
        ),
        source=PISTON.source,
    )


PISTON = Calculator(
    name="piston",
    words="piston travel at a crank angle, or the angle; dead centre from a positive stop",
    inputs=(
        Input(key="stroke", unit="in", needed=False, band=STROKE, words="the crank's stroke"),
        Input(key="connecting_rod", unit="in", needed=False, band=CONNECTING_ROD,
              words="length of the connecting rod between centres"),
        Input(key="angle", unit="deg", needed=False, negative=True,
              words="crank angle past top dead centre"),
        Input(key="travel", unit="in", needed=False, words="how far the piston is below top"),
        Input(key="stops", form="list", unit="deg", needed=False,
              words="or the wheel's two readings with the piston against a positive stop"),
    ),
    outputs=(
        Output(key="travel", unit="in", words="how far the piston is below top"),
        Output(key="angle", unit="deg", words="crank angle past top dead centre"),
        Output(key="share", words="part of the stroke"),
        Output(key="dead_centre", unit="deg", words="what the wheel reads at dead centre"),
        Output(key="each_way", unit="deg", words="from dead centre to either stop reading"),
    ),
    formula=(
        "s = a(1 − cos θ) + l − √(l² − a² sin² θ), a = stroke/2",
        "cos θ = (x² + a² − l²)/(2·a·x), x = a + l − s",
        "dead centre = the middle of the two readings",
    ),
    source="Heywood, Internal Combustion Engine Fundamentals, eq. 2.5 (from memory); positive stop:"
           " common practice",
    example=Example(
        inputs={"stroke": "4.25 in", "connecting_rod": "7.5 in", "angle": "60 deg"},
        outputs={"travel": "1.2918 in", "share": "0.304"},
    ),
    work=_piston,
)  # fmt: skip


def _compression(given: Given) -> Result:
    keys = ("bore", "stroke", "chamber", "gasket_bore", "gasket", "deck", "piston")
    bore, stroke, chamber, gasket_bore, gasket, deck, piston = map(given.one, keys)
    cylinder = Cylinder(
        bore=bore, stroke=stroke, chamber=chamber, gasket_bore=gasket_bore, gasket=gasket,
        deck=deck, piston=piston,
    )  # fmt: skip
    found = compression(cylinder)
    outputs = {
        "swept": Figure(value=found.swept),
        "clearance": Figure(value=found.clearance),
        "ratio": Figure(value=found.ratio),
        "quench": Figure(value=found.quench),
    }
    parts = (
        str(chamber),
        f"π/4 × ({gasket_bore})² × {gasket}",
        f"π/4 × ({bore})² × {_signed(deck)}",
        _signed(piston),
    )
    lines = [
        f"V = π/4 × ({bore})² × {stroke} = {found.swept}",
        f"Vc = {' + '.join(parts)} = {found.clearance}",
        *_summed(cylinder, found),
    ]
    changes = {key: given.maybe(key, Quantity) for key in ("gasket_new", "mill", "deck_cut")}
    if any(change is not None for change in changes.values()):
        after = changed(
            cylinder,
            gasket=changes["gasket_new"],
            mill=changes["mill"],
            face=given.maybe("face", Quantity),
            deck_cut=changes["deck_cut"],
        )
        then = compression(after)
        outputs |= {
            "clearance_new": Figure(value=then.clearance),
            "ratio_new": Figure(value=then.ratio),
            "quench_new": Figure(value=then.quench),
        }
        done = ", ".join(f"{key} {one}" for key, one in changes.items() if one is not None)
        lines += [f"with {done}: Vc = {then.clearance}", *_summed(after, then)]
    return Result(outputs=outputs, working=tuple(lines), source=COMPRESSION.source)


def _summed(cylinder: Cylinder, found: Compression) -> tuple[str, str]:
    v, left = found.swept.value, found.clearance.value
    return (
        f"ratio = ({v} + {left})/{left} = {found.ratio}",
        f"quench = {_signed(rounded(cylinder.deck))} + {cylinder.gasket} = {found.quench}",
    )


def _signed(quantity: Quantity) -> str:
    return f"({quantity})" if quantity.value < 0 else str(quantity)


COMPRESSION = Calculator(
    name="compression",
    words="swept volume, compression ratio and quench, and what a gasket or a cut does to them",
    inputs=(
        Input(key="bore", unit="in", band=BORE, words="diameter of the cylinder"),
        Input(key="stroke", unit="in", band=STROKE, words="the crank's stroke"),
        Input(key="chamber", unit="cc", band=CHAMBER, zero=True,
              words="volume of the chamber in the head"),
        Input(key="gasket_bore", unit="in", band=BORE, words="diameter of the gasket's hole"),
        Input(key="gasket", unit="in", band=GAP, words="its compressed thickness"),
        Input(key="deck", unit="in", negative=True, zero=True, band=GAP, default="0 in",
              words="from the crown at top dead centre up to the deck, negative is proud"),
        Input(key="piston", unit="cc", negative=True, zero=True, band=CHAMBER, default="0 cc",
              words="volume of the piston's dish, negative is a dome"),
        Input(key="gasket_new", unit="in", needed=False, band=GAP,
              words="compressed thickness of another gasket, to compare"),
        Input(key="mill", unit="in", needed=False, zero=True, band=GAP,
              words="a cut off the head, to compare"),
        Input(key="face", unit="in²", needed=False, band=FACE,
              words="area of the chamber's mouth; needed with mill"),
        Input(key="deck_cut", unit="in", needed=False, zero=True, band=GAP,
              words="a cut off the block's deck, to compare"),
    ),
    outputs=(
        Output(key="swept", unit="cc", words="volume that the piston sweeps"),
        Output(key="clearance", unit="cc", words="volume left at top dead centre"),
        Output(key="ratio", words="compression ratio"),
        Output(key="quench", unit="in", words="piston to head at top dead centre"),
        Output(key="clearance_new", unit="cc", words="volume left after the change"),
        Output(key="ratio_new", words="ratio after the change"),
        Output(key="quench_new", unit="in", words="quench after the change"),
    ),
    formula=(
        "V = π/4·B²·S; ratio = (V + Vc)/Vc",
        "Vc = chamber + gasket + deck + piston; gasket, deck = π/4·d²·thickness",
        "quench = deck + gasket; a cut off the head takes face × cut from the chamber",
    ),
    source="derived here: the cylinder's geometry",
    example=Example(
        inputs={"bore": "4 in", "stroke": "4.25 in", "chamber": "90 cc", "piston": "12 cc",
                "gasket_bore": "4.1 in", "gasket": "0.040 in", "deck": "0.020 in",
                "gasket_new": "0.055 in"},
        outputs={"swept": "875.2 cc", "ratio": "8.625", "quench": "0.060 in", "ratio_new": "8.416"},
    ),
    work=_compression,
)  # fmt: skip
