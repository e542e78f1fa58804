"""Calculators for the end of the job: solid lash, the valve cover."""

from decimal import Decimal

from snugset.trade import cover as covering
from snugset.trade import lash as setting
from snugset.trade.calculator import Calculator, Example, Figure, Given, Input, Output, Result
from snugset.trade.declared.bands import DOUBT, GAP
from snugset.trade.fault import FigureError
from snugset.units import Quantity, rounded

_METALS: tuple[setting.Metal, ...] = ("iron", "aluminium")
_SPELT = {"aluminum": "aluminium", "alloy": "aluminium"}


def _lash(given: Given) -> Result:
    hot, cold = given.maybe("hot", Quantity), given.maybe("cold", Quantity)
    if (hot is None) == (cold is None):
        raise FigureError("hot", "give either the hot lash or the cold one, one of the two")
    difference, told = _difference(given)
    if hot is not None:
        key, found, sign = "cold", setting.cold_for(hot, difference), "+"
    else:
        key, found, sign = "hot", setting.hot_for(given.one("cold"), difference), "−"
    by = difference.size
    said = f"({by})" if by.value < 0 else str(by)
    return Result(
        outputs={
            key: Figure(value=found.setting, uncertainty=found.uncertainty),
            "difference": Figure(value=by, uncertainty=difference.uncertainty),
        },
        working=(
            told,
            f"{key}: {hot or cold} {sign} {said} = {found.setting} ± {found.uncertainty}",
            f"check it after the locknut is tight, which opens it by about {setting.LOCKNUT}",
        ),
        source=LASH.source,
    )


def _difference(given: Given) -> tuple[setting.Difference, str]:
    """Give cold less hot and how it is known: from a measured pair, or as is usual."""
    hot, cold = given.maybe("pair_hot", Quantity), given.maybe("pair_cold", Quantity)
    if hot is not None and cold is not None:
        found = setting.measured(
            hot, cold, uncertainty=given.maybe("uncertainty", Quantity) or setting.READING
        )
        return found, f"measured: cold {cold} − hot {hot} = {found.size} ± {found.uncertainty}"
    if hot is not None or cold is not None:
        missing = "pair_cold" if cold is None else "pair_hot"
        raise FigureError(missing, "needed with the other: the same valve read hot and read cold")
    block, head = (_metal(given, key) for key in ("block", "head"))
    found = setting.usual(block, head)
    return found, (
        f"usual with {block} block and {head} head: cold − hot = {found.size}"
        f" ± {found.uncertainty}, common practice"
    )


def _metal(given: Given, key: str) -> setting.Metal:
    typed = given.maybe(key, str)
    for metal in _METALS:
        if metal == typed:
            return metal
    raise FigureError(
        key, f"needed: what the {key} is made of, iron or aluminium; or pair_hot and pair_cold"
    )


LASH = Calculator(
    name="lash",
    words="cold lash of solid lifters from the hot one, or hot from cold, with the doubt",
    inputs=(
        Input(key="hot", unit="thou", needed=False, band=GAP, words="lash wanted hot"),
        Input(key="cold", unit="thou", needed=False, band=GAP, words="or lash as set cold"),
        Input(key="block", form="choice", choices=_METALS, also=_SPELT, needed=False,
              words="what the block is made of"),
        Input(key="head", form="choice", choices=_METALS, also=_SPELT, needed=False,
              words="what the head is made of"),
        Input(key="pair_hot", unit="thou", needed=False, band=GAP,
              words="better: one valve of this engine read hot"),
        Input(key="pair_cold", unit="thou", needed=False, band=GAP,
              words="and the same valve read cold, nothing turned between"),
        Input(key="uncertainty", unit="thou", default="1 thou", band=DOUBT, zero=True,
              words="U of one such reading"),
    ),
    outputs=(
        Output(key="cold", unit="thou", words="what to set cold"),
        Output(key="hot", unit="thou", words="what a cold setting comes to hot"),
        Output(key="difference", unit="thou", words="cold less hot"),
    ),
    formula=(
        "cold = hot + difference; hot = cold − difference",
        "measured: difference = pair cold − pair hot, U = √2·U of one reading",
        "usual: iron 2 thou; iron block, aluminium head −6 thou; all aluminium −12 thou",
    ),
    source="common practice; U of the usual differences is half the step between them",
    example=Example(
        inputs={"hot": "18 thou", "block": "iron", "head": "aluminium"},
        outputs={"cold": "12 thou", "difference": "−6 thou"},
    ),
    work=_lash,
)  # fmt: skip

_UNDER: tuple[covering.Under, ...] = ("bare", "laid", "drawn")


def _cover(given: Given) -> Result:
    clay, crush, typed = given.one("clay"), given.number("crush"), given.need("under", str)
    under = next(under for under in _UNDER if under == typed)
    old, new = given.maybe("gasket_old", Quantity), given.maybe("gasket_new", Quantity)
    lost, want = given.maybe("crush_old", Decimal), given.one("want")
    doubt = given.maybe("uncertainty", Quantity)
    found = covering.cover(
        clay, crush=crush, under=under, gasket_old=old, gasket_new=new, crush_old=lost,
        want=want, uncertainty=doubt,
    )  # fmt: skip
    outputs = {"gasket": Figure(value=found.gasket)}
    stood = {
        "bare": "0",
        "laid": f"{old}",
        "drawn": f"{old} × (1 − {crush if lost is None else lost})",
    }[under]
    lines = []
    if found.clearance is not None and found.enough is not None:
        shown = rounded(found.clearance)
        outputs |= {
            "clearance": Figure(value=shown, uncertainty=doubt),
            "enough": Figure(value=found.enough),
        }
        said = "enough" if found.enough else "not enough"
        lines.append(
            f"clearance: {clay} + {new} × (1 − {crush}) − {stood} = {shown};"
            f" {want} is wanted: {said}"
        )
    if found.verdict is not None:
        outputs["verdict"] = Figure(value=found.verdict.value)
        lines.append(f"with U = {doubt}: {found.verdict.words}")
    more = f" + {doubt}" if doubt is not None else ""
    lines.append(
        f"gasket: ({want}{more} − {clay} + {stood})/(1 − {crush}) = {found.gasket} or thicker"
    )
    return Result(outputs=outputs, working=tuple(lines), source=COVER.source)


COVER = Calculator(
    name="cover",
    words="room under the valve cover from clay on the rockers, and the gasket that gives it",
    inputs=(
        Input(key="clay", unit="in", zero=True, band=GAP,
              words="the clay at its thinnest, over a rocker or under a baffle"),
        Input(key="under", form="choice", choices=_UNDER,
              words="how the cover stood: bare on the head, laid on the old gasket, or drawn down"
                    " on it"),
        Input(key="gasket_old", unit="in", needed=False, band=GAP,
              words="the old gasket before it was crushed; needed unless bare"),
        Input(key="gasket_new", unit="in", needed=False, band=GAP,
              words="the gasket that is to go on, before it is crushed"),
        Input(key="crush", form="share", words="part of its thickness that it loses drawn down"),
        Input(key="crush_old", form="share", needed=False,
              words="the same of the old one, if it is another"),
        Input(key="want", unit="in", band=GAP, default="0.060 in", words="clearance wanted"),
        Input(key="uncertainty", unit="in", needed=False, zero=True, band=DOUBT,
              words="U of the clay"),
    ),
    outputs=(
        Output(key="gasket", unit="in", words="the thinnest gasket that will do, uncrushed"),
        Output(key="clearance", unit="in", words="room with the new gasket drawn down"),
        Output(key="enough", words="whether that is what is wanted, its doubt aside"),
        Output(key="verdict", words="in, inside, outside or low, where U of the clay is given"),
    ),
    formula=(
        "clearance = clay + new·(1 − crush) − under",
        "under = 0 bare; the old gasket laid; old·(1 − crush) drawn down",
        "gasket = (want + U − clay + under)/(1 − crush)",
    ),
    source="derived here; 0.060 in left: common practice",
    example=Example(
        inputs={"clay": "0.045 in", "under": "drawn", "gasket_old": "0.125 in",
                "gasket_new": "0.1875 in", "crush": "30 %"},
        outputs={"clearance": "0.0888 in", "enough": "yes", "gasket": "0.1465 in"},
    ),
    work=_cover,
)  # fmt: skip
