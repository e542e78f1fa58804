"""What cannot be worked out: a sentence that names the key and the fix."""

from decimal import Decimal

import pytest

from snugset.trade.calculators import CALCULATORS, FigureError, figure
from snugset.trade.typed import read_inputs
from snugset.units import Quantity

PRELOAD = {"takes": "35", "window": "20 to 60"}
PUSHRODS = {"readings": "1I=11 1E=14 thou", "window": "20..60", "uncertainty": "4", "step": ".01"}
CLAMP = {"torque": "70", "thread": "7/16-20", "k": "0.2"}
PLACE = {"readings": "1I=18 1E=40 thou", "length": "9.64", "window": "20..60", "uncertainty": "4"}
PISTON = {"stroke": "4.25", "connecting_rod": "7.5"}


@pytest.mark.parametrize(
    ("name", "texts", "key", "says"),
    [
        ("prelaod", {}, "figure", "“prelaod” is none (did you mean “preload”?)"),
        ("preload", {}, "takes", "needed: the leaves that fitted"),
        ("preload", {**PRELOAD, "wndow": "3"}, "wndow", "(did you mean “window”?)"),
        ("preload", {**PRELOAD, "lifter": "filed"}, "lifter", "(did you mean “filled”?)"),
        ("preload", {"takes": "17,5"}, "takes", "takes=17.5"),
        ("preload", {"takes": ".035"}, "takes", "takes=0.035 in"),
        ("preload", {"takes": "35 lbf·ft"}, "takes", "a length is asked"),
        ("preload", {"takes": "nan"}, "takes", "“nan”"),
        ("preload", {"takes": "9**9**9"}, "takes", "cannot be read"),
        ("preload", {"takes": "-3"}, "takes", "below zero"),
        ("preload", {"takes": "1" * 3000}, "takes", "longer than"),
        ("preload", {**PRELOAD, "travel": "45"}, "window", "beyond the lifter's whole travel"),
        ("preload", {"takes": "35", "window": "60 to 20"}, "window", "does not rise"),
        ("pushrods", {**PUSHRODS, "step": ""}, "step", "the catalogue's step or its lengths"),
        ("pushrods", {**PUSHRODS, "step": "10"}, "step", "step=10 thou"),
        ("pushrods", {**PUSHRODS, "step": "", "lengths": "9.6, 9.62"}, "length", "needed with"),
        ("pushrods", {**PUSHRODS, "readings": "1I=11 1I=14"}, "readings", "1I is there twice"),
        ("pushrods", {**PUSHRODS, "readings": "x 1I=11"}, "readings", "does not begin with"),
        ("pushrods", {**PUSHRODS, "readings": "1I=0.5 mm 1E=9"}, "readings", "the unit of each"),
        ("pushrods", {**PUSHRODS, "uncertainty": "1I=4"}, "uncertainty", "there is none for 1E"),
        ("pushrods", {**PUSHRODS, "most": "two"}, "most", "write a whole number"),
        ("reread", {"before": "1I=1", "after": "1E=1", "change": "1", "uncertainty": "1"}, "after",
         "there is none for 1I"),
        ("reread", {"before": "1I=1", "after": "1I=1", "change": "1E=1", "uncertainty": "1"},
         "change", "there is none for 1I"),
        ("stack", {"leaves": "10, 12"}, "want", "one of the two"),
        ("pattern", {"readings": "1I=3", "banks": "left"}, "banks", "left=1,3,5,7 right=2,4,6,8"),
        ("clamp", {**CLAMP, "thread": "3/8"}, "thread", "lacks its threads to the inch"),
        ("clamp", {**CLAMP, "other_thread": "x"}, "other_thread", "“x” is no thread"),
        ("clamp", {**CLAMP, "scatter": "25"}, "scatter", "write 25 % or 0.25"),
        ("clamp", {**CLAMP, "grade": "9"}, "grade", "is none of 2, 5, 8, 8.8, 10.9, 12.9"),
        ("clamp", {**CLAMP, "grade": "8", "proof": "120"}, "proof", "one of the two"),
        ("turns", {"mount": "pivot", "ratio": "1.6", "turns": "1"}, "thread", "one of the two"),
        ("rim", {"diameter": "8"}, "angle", "one of the two"),
        ("place", {**PLACE, "spare": "9.62"}, "spare", "name each, as A=9.620 B=9.650 in"),
        ("place", {**PLACE, "length": "1I=9.64"}, "length", "there is none for 1E"),
        ("place", {**PLACE, "length": "96.4"}, "length", "outside the plausible"),
        ("collapsed", {"gap": ".12", "ratio": "1.6", "travel": "140"}, "gap", "gap=0.12 in"),
        ("shift", {"mill": "40"}, "mill", "mill=40 thou"),
        ("shift", {"shim": ".03"}, "ratio", "needed with shim"),
        ("piston", PISTON, "angle", "either the angle or the travel"),
        ("piston", {**PISTON, "angle": "9", "travel": "1"}, "angle", "one of the two"),
        ("piston", {"angle": "9"}, "stroke", "needed for the piston's travel; or give stops"),
        ("piston", {**PISTON, "stops": "38, 342"}, "stops", "one of the two"),
        ("piston", {"stops": "38"}, "stops", "1 readings; give two, one from each side"),
        ("lash", {}, "hot", "either the hot lash or the cold one"),
        ("lash", {"hot": "18", "cold": "12"}, "hot", "one of the two"),
        ("lash", {"hot": ".018"}, "hot", "hot=0.018 in"),
        ("lash", {"hot": "18", "block": "iron"}, "head", "needed: what the head is made of"),
        ("lash", {"hot": "18", "pair_hot": "18"}, "pair_cold", "needed with the other"),
        ("lash", {"hot": "18", "pair_cold": "12"}, "pair_hot", "needed with the other"),
        ("cover", {"clay": ".045", "under": "laid", "crush": "30 %"}, "gasket_old", "needed with"),
        ("cover", {"clay": ".045", "under": "laid", "crush": "30"}, "crush", "write 25 % or"),
        ("cover", {"clay": ".045", "under": "on", "crush": "30 %"}, "under", "bare, laid, drawn"),
        ("rim", {"diameter": "8", "distance": "999999"}, "distance", "within ±100000"),
        ("rim", {"diameter": "8", "angle": "999999"}, "angle", "within ±100000"),
        ("convert", {"value": "22"}, "value", "has no unit known here"),
        ("convert", {"value": "22 furlongs"}, "value", "has no unit known here"),
        ("decide", {"value": "3", "uncertainty": "1", "low": "9", "high": "5"}, "high",
         "5 thou is under the lower limit of 9 thou; swap the two"),
        ("decide", {"value": "22 lbf·ft", "uncertainty": "2 thou"}, "uncertainty", "a torque is"),
        ("decide", {"value": "3", "uncertainty": "1", "window": "2..5", "low": "1"}, "window",
         "either a window or single limits"),
        ("preload", {**PRELOAD, "target": "80"}, "target", "outside the window of 20 thou to 60"),
        ("preload", {"takes": "35", "target": "140", "travel": "140"}, "target",
         "not within the lifter's whole travel of 140 thou; check both figures"),
        ("pushrods", {**PUSHRODS, "target": "1.6 mm"}, "target", "1.6 mm lies outside the window"),
        ("place", {**PLACE, "target": "19"}, "target", "outside the window"),
        ("clamp", {**CLAMP, "count": "0"}, "count", "count them, 1 or more"),
        ("clamp", {**CLAMP, "grade": "8.8"}, "grade",
         "8.8 is not marked on inch threads such as 7/16-20; they are 2, 5, 8"),
        ("clamp", {**CLAMP, "thread": "M10", "grade": "8"}, "grade", "they are 8.8, 10.9, 12.9"),
    ],
)  # fmt: skip
def test_a_refusal_names_the_key_and_the_fix(
    name: str, texts: dict[str, str], key: str, says: str
) -> None:
    with pytest.raises(FigureError) as refused:
        figure(name, texts)
    assert refused.value.key == key
    assert str(refused.value).startswith(f"{key}: ")
    assert says in refused.value.problem


def test_a_value_of_another_form_is_refused() -> None:
    with pytest.raises(FigureError, match="k: not given as Decimal"):
        CALCULATORS["clamp"].compute(
            {**read_inputs(CALCULATORS["clamp"], CLAMP), "k": Quantity(Decimal("0.2"), "")}
        )
    with pytest.raises(FigureError, match="takes: needed"):
        CALCULATORS["preload"].compute({"takes": None})
