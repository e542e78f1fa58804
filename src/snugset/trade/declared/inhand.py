"""The calculator for pushrods in hand."""

from decimal import Decimal

from snugset.trade import placing
from snugset.trade.calculator import Calculator, Example, Figure, Given, Input, Output, Result
from snugset.trade.declared.aim import aimed
from snugset.trade.declared.bands import DOUBT, GAP, PUSHROD
from snugset.trade.declared.ordering import expected_doubt, expected_ends
from snugset.trade.fault import FigureError
from snugset.units import Quantity, signed

_NO_LENGTH = Quantity(Decimal(0), "thou")


def _place(given: Given) -> Result:
    window = given.window("window")
    if window is None:
        raise FigureError("window", "needed: lowest and highest preload allowed")
    readings, spare = given.places("readings"), given.places("spare")
    if "" in spare:
        raise FigureError("spare", "name each, as A=9.620 B=9.650 in")
    found = placing.place(
        readings,
        window,
        uncertainty=given.one_or_each("uncertainty"),
        lengths=_each(given.one_or_each("length"), readings),
        spare=spare,
        target=aimed(given),
        tolerance=given.maybe("tolerance", Quantity) or _NO_LENGTH,
        travel=given.maybe("travel", Quantity),
    )
    stands = found.stands.items()
    expected = {one: stand.predicted for one, stand in stands}
    ends = expected_ends(given, expected, [one for one, stand in stands if stand.stays])
    outcome = {
        "proved": "proved inside",
        "inside": "inside, not proved",
        "none": f"outside: {' '.join(found.fails)}",
    }[found.standard]
    low, high = (pick(expected.values(), key=lambda one: one.value) for pick in (min, max))
    span = f"{signed(low.value)} to {high}"
    return Result(
        outputs={
            "places": Figure(value={one: stand.pushrod for one, stand in stands}),
            "lengths": Figure(value={one: stand.length for one, stand in stands}),
            "predicted": Figure(value=expected, uncertainty=expected_doubt(given)),
            **ends,
            "verdicts": Figure(value={one: stand.verdict.value for one, stand in stands}),
            "proved": Figure(value=found.standard == "proved"),
            "standard": Figure(value=found.standard),
            "fails": Figure(value=found.fails),
            "moved": Figure(value=found.moved),
            "left_over": Figure(value=found.left_over),
            "least_margin": Figure(value=found.least_margin),
        },
        working=(
            *(
                f"{one} gets {stand.pushrod}'s, {stand.length}: {stand.predicted} expected,"
                f" {stand.verdict.words}"
                for one, stand in stands
                if not stand.stays
            ),
            f"{len(found.moved)} of {len(found.stands)} moved: expected {span}, {outcome}",
        ),
        source=PLACE.source,
    )


def _each(
    length: Quantity | dict[str, Quantity], readings: dict[str, Quantity]
) -> dict[str, Quantity]:
    return dict.fromkeys(readings, length) if isinstance(length, Quantity) else length


PLACE = Calculator(
    name="place",
    words="which pushrod in hand belongs at which place, before anything is bought",
    inputs=(
        Input(key="readings", form="places", unit="thou", band=GAP, zero=True,
              words="preload of each place with the pushrod that stands there"),
        Input(key="length", form="places", unit="in", band=PUSHROD,
              words="length of the pushrod that stands at each place, all measured alike"),
        Input(key="spare", form="places", unit="in", needed=False, band=PUSHROD,
              words="other pushrods in hand, each with a name: A=9.620 B=9.650"),
        Input(key="window", form="window", unit="thou", band=GAP, zero=True,
              words="lowest and highest preload allowed"),
        Input(key="uncertainty", form="places", unit="thou", band=DOUBT, zero=True,
              words="U of the readings, one for all or one for each"),
        Input(key="target", unit="thou", needed=False, band=GAP, words="preload aimed for"),
        Input(key="tolerance", unit="thou", default="0 thou", band=DOUBT, zero=True,
              words="how far a measured length can be off"),
        Input(key="travel", unit="thou", needed=False, band=GAP,
              words="the lifter's whole plunger travel, to refuse a bottomed reading"),
    ),
    outputs=(
        Output(key="places", words="for each place, where its pushrod stands now"),
        Output(key="lengths", unit="in", words="its length"),
        Output(key="predicted", unit="thou", words="expected reading of each place"),
        Output(key="predicted_low", unit="thou", words="lowest expected reading"),
        Output(key="predicted_high", unit="thou", words="highest expected reading"),
        Output(key="verdicts", words="verdict expected at each place"),
        Output(key="proved", words="whether every place is expected in, whatever the doubt"),
        Output(key="standard", words="proved, inside (not proved) or none"),
        Output(key="fails", words="places that need another length even so"),
        Output(key="moved", words="places that get another pushrod"),
        Output(key="left_over", words="pushrods without a place"),
        Output(key="least_margin", unit="thou", words="the worst place's distance to its limit"),
    ),
    formula=(
        "expected = reading + length of the other pushrod − length of the one there",
        "proved if low + U + t ≤ expected ≤ high − U − t; t = 0 for one that stays",
        "fewest outside; then fewest moved, widest least margin, closest to the target",
    ),
    source="derived here; decision: ILAC-G8:09/2019 §4.2.3",
    example=Example(
        inputs={"readings": "1I=18 1E=40 2I=58 2E=41 thou",
                "length": "1I=9.620 1E=9.640 2I=9.650 2E=9.640 in",
                "window": "20 to 60 thou", "uncertainty": "4 thou"},
        outputs={"places": "1I=2I 1E=1E 2I=1I 2E=2E", "predicted": "1I=48 thou 1E=40 thou"
                 " 2I=28 thou 2E=41 thou", "moved": "1I, 2I", "proved": "yes"},
    ),
    work=_place,
)  # fmt: skip
