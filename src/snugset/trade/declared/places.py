"""Calculators over every place: re-reading, pattern."""

from snugset.trade.calculator import Calculator, Example, Figure, Given, Input, Output, Result
from snugset.trade.declared.bands import DOUBT, GAP
from snugset.trade.fault import FigureError
from snugset.trade.pattern import pattern
from snugset.trade.reread import LOOK_FIRST, Round, reread_round
from snugset.units import Quantity


def _reread(given: Given) -> Result:
    before, after = given.places("before"), given.places("after")
    change = given.one_or_each("change")
    for place in before:
        if place not in after:
            raise FigureError("after", f"there is none for {place}; read every place again")
        if not isinstance(change, Quantity) and place not in change:
            raise FigureError(
                "change", f"there is none for {place}; give one for every place, or one for all"
            )
    whole = reread_round(
        {
            place: (was, change if isinstance(change, Quantity) else change[place], after[place])
            for place, was in before.items()
        },
        given.one("uncertainty"),
        tolerance=given.maybe("tolerance", Quantity),
    )
    return Result(
        outputs=_reread_outputs(whole),
        working=tuple(
            f"{place + ': ' if place else ''}expected {found.predicted}, read {after[place]}:"
            f" off by {found.difference}, doubt {found.doubt}: {found.flag}"
            for place, found in whole.places.items()
        ),
        source=REREAD.source,
    )


def _reread_outputs(whole: Round) -> dict[str, Figure]:
    outputs = {
        "flag": Figure(value=whole.flag),
        "look_first": Figure(value=LOOK_FIRST[whole.flag]),
    }
    if list(whole.places) == [""]:
        only = whole.places[""]
        return outputs | {
            "predicted": Figure(value=only.predicted),
            "difference": Figure(value=only.difference, uncertainty=only.doubt),
            "doubt": Figure(value=only.doubt),
        }
    each = whole.places.items()
    return outputs | {
        "predicted": Figure(value={place: found.predicted for place, found in each}),
        "difference": Figure(value={place: found.difference for place, found in each}),
        "doubt": Figure(value={place: found.doubt for place, found in each}),
        "flags": Figure(value={place: found.flag for place, found in each}),
    }


REREAD = Calculator(
    name="reread",
    words="a reading after new pushrods against what was predicted",
    inputs=(
        Input(key="before", form="places", unit="thou", band=GAP, zero=True,
              words="reading before, one place or each"),
        Input(key="change", form="places", unit="thou", negative=True, band=GAP, zero=True,
              words="change of pushrod length, negative is shorter"),
        Input(key="after", form="places", unit="thou", band=GAP, zero=True,
              words="reading after"),
        Input(key="uncertainty", unit="thou", band=DOUBT, zero=True, words="U of one reading"),
        Input(key="tolerance", unit="thou", needed=False, band=DOUBT, zero=True,
              words="how far a new pushrod can be off"),
    ),
    outputs=(
        Output(key="predicted", unit="thou", words="reading before plus change"),
        Output(key="difference", unit="thou", words="reading after less predicted"),
        Output(key="doubt", unit="thou", words="how far it may differ and still agree"),
        Output(key="flag", words="agrees, off, old (old one still in) or all-off-alike"),
        Output(key="flags", words="the same for each place"),
        Output(key="look_first", words="what to look at first"),
    ),
    formula=(
        "predicted = before + change",
        "agrees if |after − predicted| ≤ √(2U² + t²), or within 6 thou",
        "old if after is nearer to before, and agrees with it",
    ),
    source="JCGM 100 (from memory); 6 thou: common practice",
    example=Example(
        inputs={"before": "60 thou", "change": "-20 thou", "after": "35 thou",
                "uncertainty": "4 thou"},
        outputs={"predicted": "40 thou", "difference": "−5 thou", "flag": "agrees"},
    ),
    work=_reread,
)  # fmt: skip


def _pattern(given: Given) -> Result:
    findings = pattern(given.places("readings"), banks=given.banks("banks"))
    outputs: dict[str, Figure] = {}
    for kind, key in (
        ("slope", "slope"),
        ("bank", "bank"),
        ("intake-exhaust", "intake_exhaust"),
    ):
        sizes = [found.size for found in findings if found.kind == kind]
        if sizes:
            outputs[key] = Figure(value=max(sizes, key=lambda size: abs(size.value)))
    for kind, key in (("bridge", "bridges"), ("outlier", "outliers")):
        places = tuple(p for found in findings if found.kind == kind for p in found.places)
        outputs[key] = Figure(value=places)
    outputs["findings"] = Figure(value=tuple(found.words for found in findings))
    outputs["look_first"] = Figure(value=tuple(found.look_first for found in findings))
    return Result(
        outputs=outputs,
        working=tuple(f"{found.words}: look first at {found.look_first}" for found in findings)
        or ("nothing stands out",),
        source=PATTERN.source,
    )


PATTERN = Calculator(
    name="pattern",
    words="what readings have in common, and where to look first",
    inputs=(
        Input(key="readings", form="places", unit="thou", band=GAP, zero=True,
              words="reading of each place"),
        Input(key="banks", form="banks", needed=False,
              words="each bank's cylinders from the front"),
    ),
    outputs=(
        Output(key="findings", words="what stands out, in words"),
        Output(key="look_first", words="what to look at first, for each"),
        Output(key="slope", unit="thou", words="rise from the front of a head to its back"),
        Output(key="bank", unit="thou", words="how much one bank reads more than the other"),
        Output(key="intake_exhaust", unit="thou", words="intakes less exhausts"),
        Output(key="bridges", words="places off in pairs"),
        Output(key="outliers", words="places off by themselves"),
    ),
    formula=(
        "off by itself: |x − median| > 8 thou and > 3 × the median deviation",
        "slope: > 10 thou from end to end; banks, or intake and exhaust: medians > 8 thou apart",
        "shared causes first, and only if they stand with any one cylinder left out",
    ),
    source="common practice",
    example=Example(
        inputs={"readings": "1I=79 1E=81 2I=83 2E=84 3I=86 3E=88 4I=90 4E=91 5I=94 5E=95"
                            " 6I=98 6E=99 thou"},
        outputs={"slope": "18.5 thou", "outliers": "none"},
    ),
    work=_pattern,
)  # fmt: skip
