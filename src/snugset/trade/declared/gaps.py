"""Calculators for a gap: preload, feeler stack, decision."""

from decimal import Decimal

from snugset.trade import preload as lifters
from snugset.trade import stack
from snugset.trade.calculator import Calculator, Example, Figure, Given, Input, Output, Result
from snugset.trade.declared.aim import aimed
from snugset.trade.declared.bands import DOUBT, GAP
from snugset.trade.exact import nearest, shown_as, side_by_side
from snugset.trade.fault import FigureError
from snugset.trade.verdict import Verdict, chance_inside, decide
from snugset.units import Quantity, rounded

_ZERO = Decimal(0)


def _against(
    value: Quantity, doubt: Quantity, window: tuple[Quantity, Quantity], verdict: Verdict
) -> str:
    """Write the decision with its numbers, all in the unit of the value."""
    (low, high), unit = window, value.unit
    x, u, bottom, top = (shown_as(one, unit).value for one in (value, doubt, low, high))
    return (
        f"proved in from {bottom} + {u} = {bottom + u} to {top} − {u} = {top - u} {unit}:"
        f" {x} {unit} is {verdict.words}"
    )


def _preload(given: Given) -> Result:
    state = given.maybe("lifter", str) or "dry"
    window = given.window("window")
    stated = given.maybe("repeatability", Quantity) or lifters.REPEATABILITY
    found = lifters.preload(
        given.takes("takes"),
        window=window,
        target=aimed(given),
        travel=given.maybe("travel", Quantity),
        repeatability=stated,
        leaf_tolerance=given.maybe("leaf_tolerance", Quantity),
        lifter="filled" if state == "filled" else "bled" if state == "bled" else "dry",
    )
    measured = found.verdict.measured
    shown = rounded(found.mean)
    outputs = {
        "preload": Figure(value=shown, uncertainty=found.uncertainty if measured else None),
        "verdict": Figure(value=found.verdict.value),
        "another_take": Figure(value=found.another_take),
        "spread": Figure(value=found.spread),
        "too_many_leaves": Figure(value=found.too_many_leaves),
        "provisional": Figure(value=found.provisional),
    }
    if found.share is not None:
        outputs["share"] = Figure(value=Quantity(found.share, ""))
    if found.change is not None and measured:
        outputs["change"] = Figure(value=rounded(found.change))
    return Result(
        outputs=outputs,
        working=tuple(_preload_working(given, found, stated, window)),
        source=PRELOAD.source,
    )


def _preload_working(
    given: Given,
    found: lifters.Preload,
    stated: Quantity,
    window: tuple[Quantity, Quantity] | None,
) -> list[str]:
    count, shown = len(found.takes), rounded(found.mean)
    sums = " and ".join(
        " + ".join(str(leaf) for leaf in leaves) + (f" = {total}" if len(leaves) > 1 else "")
        for leaves, total in zip(given.takes("takes"), found.takes, strict=True)
    )
    lines = [sums if count == 1 else f"mean of {sums}: {shown}"]
    if not found.verdict.measured:
        lines.append(f"{found.verdict.words}, by an unknown amount")
        return lines
    root = "" if count == 1 else f"/√{count}"
    leaf = given.maybe("leaf_tolerance", Quantity)
    leaves = f", with leaves ± {leaf}, up to {found.most_leaves} in a stack" if leaf else ""
    wide = f"; half the takes' spread of {found.spread} where that is more" if count > 1 else ""
    lines.append(f"U = 2 × {stated}/√3{root}{wide}{leaves} = {found.uncertainty}")
    if window is not None:
        lines.append(_against(shown, found.uncertainty, window, found.verdict))
    if found.change is not None:
        target = given.one("target")
        lines.append(f"to the target: {target} − {shown} = {rounded(found.change)}")
    if found.provisional:
        lines.append(
            "provisional: the lifter is filled; read again from a fresh line once bled down"
        )
    return lines


PRELOAD = Calculator(
    name="preload",
    words="hydraulic-lifter preload from feeler stacks, with its doubt and verdict",
    inputs=(
        Input(key="takes", form="takes", unit="thou", band=GAP, zero=True,
              words="the leaves that fitted, each take after a semicolon; 0 for no gap"),
        Input(key="window", form="window", unit="thou", needed=False, band=GAP, zero=True,
              words="lowest and highest preload allowed"),
        Input(key="target", unit="thou", needed=False, band=GAP, words="preload aimed for"),
        Input(key="travel", unit="thou", needed=False, band=GAP,
              words="the lifter's whole plunger travel"),
        Input(key="repeatability", unit="thou", default="4 thou", band=DOUBT, zero=True,
              words="how far one take can be off either way"),
        Input(key="leaf_tolerance", unit="thou", needed=False, band=DOUBT, zero=True,
              words="how far one leaf can be off either way"),
        Input(key="lifter", form="choice", choices=("dry", "filled", "bled"), default="dry",
              words="dry, filled with oil, or filled and bled down"),
    ),
    outputs=(
        Output(key="preload", unit="thou", words="mean of the takes"),
        Output(key="share", words="part of the whole travel"),
        Output(key="verdict", words="in, inside, outside, low, high, no-limit, loose or bottomed"),
        Output(key="change", unit="thou", words="change of pushrod length to the target"),
        Output(key="another_take", words="whether a third take is needed"),
        Output(key="spread", unit="thou", words="largest take less smallest"),
        Output(key="too_many_leaves", words="whether a stack has more than three leaves"),
        Output(key="provisional", words="whether the lifter may yet bleed down"),
    ),
    formula=(
        "preload = mean of the takes, each the sum of its leaves",
        "U = 2·√((a/√3)²/n + leaves·(leaf/√3)²)",
        "in if low + U ≤ preload ≤ high − U",
        "change = target − preload",
    ),
    source="JCGM 100 (from memory); ILAC-G8:09/2019 §4.2.3; ± 4 thou a take: common practice",
    example=Example(
        inputs={"takes": "17+18 thou; 18+18 thou", "window": "30 to 40 thou", "target": "35 thou",
                "travel": "120 thou"},
        outputs={"preload": "35.5 thou", "verdict": "in", "share": "0.3", "change": "−0.5 thou"},
    ),
    work=_preload,
)  # fmt: skip


def _stack(given: Given) -> Result:
    leaves, most = given.several("leaves"), given.need("most", int)
    want, window = given.maybe("want", Quantity), given.window("window")
    if (want is None) == (window is None):
        raise FigureError("want", "give either the gap wanted or a window to gauge, one of the two")
    outputs: dict[str, Figure] = {}
    lines: list[str] = []
    if want is not None:
        found = stack.closest(leaves, want, most=most)
        (total, wanted), unit = side_by_side(found.total, want)
        off = shown_as(Quantity(total - wanted, unit), found.total.unit)
        outputs |= {
            "leaves": Figure(value=found.leaves),
            "total": Figure(value=found.total),
            "off": Figure(value=off),
        }
        lines.append(f"{_sum(found)}; wanted {want}, off by {off}")
    if window is not None:
        pair = stack.go_no_go(leaves, *window, most=most)
        outputs |= {
            "go": Figure(value=pair.go.leaves),
            "no_go": Figure(value=pair.no_go.leaves),
            "go_total": Figure(value=pair.go.total),
            "no_go_total": Figure(value=pair.no_go.total),
        }
        lines.append(f"must go in: {_sum(pair.go)}, not under {window[0]}")
        lines.append(f"must refuse: {_sum(pair.no_go)}, not over {window[1]}")
    return Result(outputs=outputs, working=tuple(lines), source=STACK.source)


def _sum(found: stack.Stack) -> str:
    if len(found.leaves) == 1:
        return str(found.total)
    return " + ".join(str(leaf) for leaf in found.leaves) + f" = {found.total}"


STACK = Calculator(
    name="stack",
    words="feeler leaves to put together from the set that is owned",
    inputs=(
        Input(key="leaves", form="list", unit="thou", band=GAP, words="the leaves owned"),
        Input(key="want", unit="thou", needed=False, band=GAP, words="the gap wanted"),
        Input(key="window", form="window", unit="thou", needed=False, band=GAP,
              words="lowest and highest gap, for a stack that goes in and one that does not"),
        Input(key="most", form="whole", default="3", words="leaves to a stack at most"),
    ),
    outputs=(
        Output(key="leaves", unit="thou", words="the leaves to put together"),
        Output(key="total", unit="thou", words="their sum"),
        Output(key="off", unit="thou", words="the sum less the gap wanted"),
        Output(key="go", unit="thou", words="leaves that must go in"),
        Output(key="no_go", unit="thou", words="leaves that must refuse"),
        Output(key="go_total", unit="thou", words="sum of the leaves that must go in"),
        Output(key="no_go_total", unit="thou", words="sum of the leaves that must refuse"),
    ),
    formula=("closest sum of up to three leaves, then the fewest leaves",),
    source="three leaves at most: common practice",
    example=Example(
        inputs={"leaves": "10, 12, 15, 17, 18, 20, 25 thou", "want": "35 thou"},
        outputs={"leaves": "18, 17 thou", "total": "35 thou", "off": "0 thou"},
    ),
    work=_stack,
)  # fmt: skip


def _odds(chance: Quantity) -> str:
    """Say a chance in three places: more digits would claim what no normal curve can know."""
    if chance.value < Decimal("0.001"):
        return "less than 0.001"
    return "more than 0.999" if chance.value > Decimal("0.999") else str(chance)


def _decide(given: Given) -> Result:
    value, doubt = given.one("value"), given.one("uncertainty")
    window = given.window("window")
    if window is not None and ("low" in given or "high" in given):
        raise FigureError("window", "give either a window or single limits, one of the two")
    low = window[0] if window else given.maybe("low", Quantity)
    high = window[1] if window else given.maybe("high", Quantity)
    if low is not None and high is not None:
        (bottom, top), _ = side_by_side(low, high)
        if bottom > top:
            raise FigureError("high", f"{high} is under the lower limit of {low}; swap the two")
    verdict = decide(value, doubt, low, high)
    outputs = {
        "verdict": Figure(value=verdict.value),
        "words": Figure(value=verdict.words),
    }
    lines = [f"{value} with U = {doubt}"]
    if verdict is not Verdict.NO_LIMIT:
        chance = nearest(chance_inside(value, doubt, low, high), "", 3)
        outputs["sure"] = Figure(value=chance)
        lines.append(f"inside with a chance of {_odds(chance)}, normal about {value} with u = U/2")
    if low is not None and high is not None:
        lines.insert(1, _against(value, doubt, (low, high), verdict))
    return Result(outputs=outputs, working=tuple(lines), source=DECIDE.source)


DECIDE = Calculator(
    name="decide",
    words="what a value with its doubt says about a limit",
    inputs=(
        Input(key="value", unit="thou", any_kind=True, negative=True, words="the value"),
        Input(key="uncertainty", like="value", unit="thou", words="U, half-width at about 95 %"),
        Input(key="window", form="window", like="value", unit="thou", needed=False, negative=True,
              words="lower and upper limit"),
        Input(key="low", like="value", unit="thou", needed=False, negative=True,
              words="a lower limit alone"),
        Input(key="high", like="value", unit="thou", needed=False, negative=True,
              words="an upper limit alone"),
    ),
    outputs=(
        Output(key="verdict", words="in, inside, outside, low, high or no-limit"),
        Output(key="words", words="the verdict as it is read out"),
        Output(key="sure", words="chance that the true value is inside, 0 to 1"),
    ),
    formula=(
        "in: low + U ≤ x ≤ high − U",
        "inside, not proved: up to the limit",
        "outside, not proved: up to U beyond it",
        "low, high: past that",
    ),
    source="ILAC-G8:09/2019 §4.2.3; ISO 14253-1 (from memory); chance: JCGM 106 (from memory)",
    example=Example(
        inputs={"value": "40 thou", "uncertainty": "4 thou", "window": "30 to 40 thou"},
        outputs={"verdict": "inside", "sure": "0.5"},
    ),
    work=_decide,
)  # fmt: skip
