"""Calculators for what stands where: a collapsed lifter, machining and gaskets and heat."""

from decimal import Decimal

from snugset.trade.calculator import Calculator, Example, Figure, Given, Input, Output, Result
from snugset.trade.collapsed import Collapsed, collapsed
from snugset.trade.declared.bands import DOUBT, GAP
from snugset.trade.exact import shown_as, side_by_side
from snugset.trade.shift import Change, shift
from snugset.units import Quantity, rounded


def _collapsed(given: Given) -> Result:
    gap, travel, ratio = given.one("gap"), given.one("travel"), given.number("ratio")
    scratch = given.maybe("scratch", Quantity)
    found = collapsed(
        gap,
        ratio,
        travel,
        window=given.window("window"),
        uncertainty=given.one("uncertainty"),
        scratch=scratch,
    )
    left, used = rounded(found.travel_left), rounded(found.preload)
    outputs = {
        "travel_left": Figure(value=left, uncertainty=found.uncertainty),
        "preload": Figure(value=used, uncertainty=found.uncertainty),
        "verdict": Figure(value=found.verdict.value),
    }
    lines = [
        f"travel left: {gap}/{ratio} = {left}",
        f"preload: {travel} − {left} = {used}",
        f"U = {given.one('uncertainty')}/{ratio} = {found.uncertainty}",
        *_judged(given, found),
    ]
    if found.against is not None:
        against = found.against
        outputs |= {
            "difference": Figure(value=rounded(against.difference), uncertainty=against.doubt),
            "agrees": Figure(value=against.agrees),
        }
        said = "they agree" if against.agrees else "they disagree: read both again"
        lines.append(
            f"scratch {scratch} − {used} = {rounded(against.difference)},"
            f" doubt {against.doubt}: {said}"
        )
    return Result(outputs=outputs, working=tuple(lines), source=COLLAPSED.source)


def _judged(given: Given, found: Collapsed) -> list[str]:
    judged = given.window("window") is not None or not found.verdict.measured
    return [found.verdict.words] if judged else []


COLLAPSED = Calculator(
    name="collapsed",
    words="preload from the gap over a collapsed lifter, a check on the scratch line",
    inputs=(
        Input(key="gap", unit="thou", band=GAP, zero=True,
              words="gap at the valve's tip with the plunger held down; 0 if no leaf goes in"),
        Input(key="ratio", form="number", words="rocker ratio"),
        Input(key="travel", unit="thou", band=GAP, words="the lifter's whole plunger travel"),
        Input(key="scratch", unit="thou", needed=False, band=GAP,
              words="preload of the same valve read from its scratch line"),
        Input(key="uncertainty", unit="thou", default="2 thou", band=DOUBT, zero=True,
              words="U of the gap"),
        Input(key="window", form="window", unit="thou", needed=False, band=GAP, zero=True,
              words="lowest and highest preload allowed"),
    ),
    outputs=(
        Output(key="travel_left", unit="thou", words="plunger travel that is left"),
        Output(key="preload", unit="thou", words="plunger travel used; negative is lash"),
        Output(key="verdict", words="in, inside, outside, low, high, no-limit, loose or bottomed"),
        Output(key="difference", unit="thou", words="scratch reading less this preload"),
        Output(key="agrees", words="whether both agree within the doubt"),
    ),
    formula=(
        "travel left = gap/R",
        "preload = travel − gap/R",
        "U = U of the gap/R; both ways agree within √(U² + 4.6²), or within 6 thou",
    ),
    source="derived here: the rocker as a lever; JCGM 100 (from memory); 2, 4.6 and 6 thou:"
           " common practice",
    example=Example(
        inputs={"gap": "136 thou", "ratio": "1.6", "travel": "120 thou", "scratch": "38 thou"},
        outputs={"travel_left": "85 thou", "preload": "35 thou", "agrees": "yes"},
    ),
    work=_collapsed,
)  # fmt: skip

_CHANGES: tuple[Change, ...] = (
    "mill", "deck", "gasket_old", "gasket_new", "shim", "tip", "base_radius", "growth",
)  # fmt: skip


def _shift(given: Given) -> Result:
    changes = {change: given.one(change) for change in _CHANGES if change in given}
    found = shift(changes, given.maybe("ratio", Decimal))
    outputs = {
        "preload_change": Figure(value=found.preload),
        "length_change": Figure(value=found.length),
    }
    lines = [f"preload: {found.sum}", f"a pushrod {found.length} longer cancels it"]
    if found.length.value < 0:
        shorter = Quantity(-found.length.value, found.length.unit)
        lines[-1] = f"a pushrod {shorter} shorter cancels it"
    before = given.maybe("before", Quantity)
    if before is not None:
        (was, by), unit = side_by_side(before, found.preload)
        predicted = rounded(shown_as(Quantity(was + by, unit), before.unit))
        outputs["predicted"] = Figure(
            value=predicted, uncertainty=given.maybe("uncertainty", Quantity)
        )
        lines.append(f"to be expected: {before} + {found.preload} = {predicted}")
    return Result(outputs=outputs, working=tuple(lines), source=SHIFT.source)


SHIFT = Calculator(
    name="shift",
    words="what machining, gaskets, shims and heat do to the preload",
    inputs=(
        Input(key="mill", unit="in", needed=False, negative=True, zero=True, band=GAP,
              words="cut off the head"),
        Input(key="deck", unit="in", needed=False, negative=True, zero=True, band=GAP,
              words="cut off the block's deck"),
        Input(key="gasket_old", unit="in", needed=False, zero=True, band=GAP,
              words="compressed thickness of the old head gasket"),
        Input(key="gasket_new", unit="in", needed=False, zero=True, band=GAP,
              words="compressed thickness of the new one"),
        Input(key="shim", unit="in", needed=False, negative=True, zero=True, band=GAP,
              words="shim put under the rocker's pedestal, negative is taken out"),
        Input(key="tip", unit="in", needed=False, negative=True, zero=True, band=GAP,
              words="how much higher the valve's tip stands"),
        Input(key="base_radius", unit="in", needed=False, negative=True, zero=True, band=GAP,
              words="how much less the base circle's radius is, half its diameter's change"),
        Input(key="growth", unit="in", needed=False, negative=True, zero=True, band=GAP,
              words="lash gained at the valve when the head grows hot more than the pushrods do"),
        Input(key="ratio", form="number", needed=False,
              words="rocker ratio; needed with shim, tip or growth"),
        Input(key="before", unit="thou", needed=False, zero=True, band=GAP,
              words="preload before it was done"),
        Input(key="uncertainty", unit="thou", needed=False, zero=True, band=DOUBT,
              words="U of that preload"),
    ),
    outputs=(
        Output(key="preload_change", unit="thou", words="change of preload"),
        Output(key="length_change", unit="thou",
               words="change of pushrod length that cancels it, negative is shorter"),
        Output(key="predicted", unit="thou", words="preload to be expected"),
    ),
    formula=(
        "change of preload = mill + deck + gasket old − gasket new",
        "    − shim·(1 + 1/R) + tip/R − base radius − growth/R",
        "change of length = −change of preload",
    ),
    source="derived here: the rocker as a lever on the closed valve's tip",
    example=Example(
        inputs={"mill": "0.040 in", "gasket_old": "0.055 in", "gasket_new": "0.040 in",
                "before": "35 thou"},
        outputs={"preload_change": "55 thou", "length_change": "−55 thou", "predicted": "90 thou"},
    ),
    work=_shift,
)  # fmt: skip
