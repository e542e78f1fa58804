"""The calculator for pushrods to order."""

from collections.abc import Collection, Mapping
from decimal import Decimal

from snugset.trade import pushrods
from snugset.trade.calculator import Calculator, Example, Figure, Given, Input, Output, Result
from snugset.trade.declared.aim import aimed
from snugset.trade.declared.bands import DOUBT, GAP, PUSHROD
from snugset.trade.exact import shown_as, side_by_side
from snugset.trade.fault import FigureError
from snugset.trade.shim import Shims, Span, shims
from snugset.units import Quantity, signed

_NO_LENGTH = Quantity(Decimal(0), "thou")


def _pushrods(given: Given) -> Result:
    readings, window = given.places("readings"), given.window("window")
    if window is None:
        raise FigureError("window", "needed: lowest and highest preload allowed")
    step, lengths = given.maybe("step", Quantity), given.several("lengths")
    if (step is None) == (not lengths):
        raise FigureError("step", "give either the catalogue's step or its lengths, one of the two")
    if "length" not in given and lengths:
        raise FigureError(
            "length", "needed with lengths: the length in hand, measured the same way"
        )
    doubt = given.one_or_each("uncertainty")
    order = pushrods.order(
        readings,
        window,
        uncertainty=doubt,
        fitted=given.one_or_each("length") if "length" in given else _NO_LENGTH,
        catalogue=step if step is not None else lengths,
        target=aimed(given),
        tolerance=given.maybe("tolerance", Quantity) or _NO_LENGTH,
        most=given.maybe("most", int),
        keep=given.maybe("keep", str) == "yes",
        travel=given.maybe("travel", Quantity),
    )
    ratio = given.maybe("ratio", Decimal)
    instead = shims(readings, window, uncertainty=doubt, ratio=ratio) if ratio is not None else None
    return Result(
        outputs=_order_outputs(given, order) | _shim_outputs(instead),
        working=(*_order_working(given, order, window), *_shim_working(instead, ratio)),
        source=PUSHRODS.source,
    )


def expected_doubt(given: Given) -> Quantity | None:
    """Give the doubt of what is expected, U + t, where one U holds for all."""
    doubt = given.one_or_each("uncertainty")
    if not isinstance(doubt, Quantity):
        return None
    (u, t), unit = side_by_side(doubt, given.maybe("tolerance", Quantity) or _NO_LENGTH)
    return shown_as(Quantity(u + t, unit), doubt.unit)


def expected_ends(
    given: Given, expected: Mapping[str, Quantity], kept: Collection[str]
) -> dict[str, Figure]:
    """Give the lowest and highest expected reading, each with the doubt of its own place.

    A pushrod that is kept adds no tolerance. Of places that read alike the widest doubt holds.
    """
    doubt, tolerance = given.one_or_each("uncertainty"), given.maybe("tolerance", Quantity)

    def doubt_at(place: str) -> Quantity:
        own = doubt if isinstance(doubt, Quantity) else doubt[place]
        added = _NO_LENGTH if place in kept or tolerance is None else tolerance
        (u, t), unit = side_by_side(own, added)
        return shown_as(Quantity(u + t, unit), own.unit)

    ends = {}
    for key, pick in (("predicted_low", min), ("predicted_high", max)):
        end = pick(expected.values(), key=lambda one: one.value)
        doubts = [doubt_at(place) for place, one in expected.items() if one.value == end.value]
        ends[key] = Figure(value=end, uncertainty=max(doubts, key=lambda one: one.in_("mm")))
    return ends


def _order_outputs(given: Given, order: pushrods.Order) -> dict[str, Figure]:
    fits = order.fits.items()
    expected = {place: fit.predicted for place, fit in fits}
    outputs = {
        "lengths": Figure(value=tuple(batch.length for batch in order.batches)),
        "places": Figure(value={place: fit.length for place, fit in fits}),
        "changes": Figure(value={place: fit.change for place, fit in fits}),
        "predicted": Figure(value=expected, uncertainty=expected_doubt(given)),
        **expected_ends(given, expected, [place for place, fit in fits if fit.kept]),
        "proved": Figure(value=order.proved),
        "standard": Figure(value=order.standard),
        "fails": Figure(value=order.fails),
        "least_margin": Figure(value=order.least_margin),
        "allowed_low": Figure(value=order.allowed_low),
        "allowed_high": Figure(value=order.allowed_high),
        "neighbours": Figure(value=tuple(_neighbour(one) for one in order.neighbours)),
    }
    for key, step in (
        ("step_for_one", order.step_for_one),
        ("step_for_each", order.step_for_each),
    ):
        if step is not None:
            outputs[key] = Figure(value=step)
    if order.proves_with is not None:
        outputs["proves_with"] = Figure(value=Quantity(Decimal(order.proves_with), ""))
    return outputs


def _neighbour(other: pushrods.Neighbour) -> str:
    what = f"{len(other.fails)} fail: {' '.join(other.fails)}" if other.fails else "none fails"
    return (
        f"{other.length} instead of {other.instead_of}: {signed(other.predicted_low.value)} to"
        f" {other.predicted_high}, {what}"
    )


def _shim_outputs(instead: Shims | None) -> dict[str, Figure]:
    """Give the shims' least and greatest thickness: of one for all, else of each high place."""
    if instead is None:
        return {}
    if instead.one is not None:
        return {
            "shim_low": Figure(value=instead.one.low),
            "shim_high": Figure(value=instead.one.high),
        }
    return {
        "shim_low": Figure(value={place: span.low for place, span in instead.each.items()}),
        "shim_high": Figure(value={place: span.high for place, span in instead.each.items()}),
    }


def _shim_working(instead: Shims | None, ratio: Decimal | None) -> list[str]:
    if instead is None:
        return []
    rule = f"a shim s under a pedestal lowers by s × (1 + 1/{ratio})"
    if instead.one is not None:
        return [f"instead, {rule}: {_from_to(instead.one)} under every one proves every place"]
    each = ", ".join(f"{place} {_from_to(span)}" for place, span in instead.each.items())
    return [f"instead, {rule}: {each or 'none proves a place'}"]


def _from_to(span: Span) -> str:
    return f"{signed(span.low.value)} to {span.high}"


def _order_working(
    given: Given, order: pushrods.Order, window: tuple[Quantity, Quantity]
) -> list[str]:
    lines = _one_for_all(given, window)
    lines += [f"{batch.length} for {' '.join(batch.places)}" for batch in order.batches]
    kept = [place for place, fit in order.fits.items() if fit.kept]
    if kept:
        lines.append(f"keep those in hand: {' '.join(kept)}")
    if "length" not in given:
        lines.append("lengths are counted from the pushrods in hand: negative is shorter")
    outcome = {
        "proved": "proved inside",
        "inside": "inside, not proved",
        "none": f"outside: {' '.join(order.fails)}",
    }[order.standard]
    lines.append(
        f"expected {signed(order.predicted_low.value)} to {order.predicted_high}, {outcome}"
    )
    return lines


def _one_for_all(given: Given, window: tuple[Quantity, Quantity]) -> list[str]:
    """Work out the change that one length for all may make, where one U and one length hold."""
    readings, doubt = given.places("readings"), given.one_or_each("uncertainty")
    if not isinstance(doubt, Quantity) or len(given.places("length")) > 1:
        return []
    unit = next(iter(readings.values())).unit
    read = [shown_as(one, unit).value for one in readings.values()]
    tolerance = given.maybe("tolerance", Quantity) or _NO_LENGTH
    low, high, u, t = (shown_as(one, unit).value for one in (*window, doubt, tolerance))
    least, most = min(read), max(read)
    return [
        f"one length for all, from: {low} + {u} + {t} − {least} = {low + u + t - least} {unit}",
        f"one length for all, to: {high} − {u} − {t} − {most} = {high - u - t - most} {unit}",
    ]


PUSHRODS = Calculator(
    name="pushrods",
    words="which pushrod lengths to order, and what every place will read",
    inputs=(
        Input(key="readings", form="places", unit="thou", band=GAP, zero=True,
              words="preload of each place with the pushrods in hand"),
        Input(key="window", form="window", unit="thou", band=GAP, zero=True,
              words="lowest and highest preload allowed"),
        Input(key="uncertainty", form="places", unit="thou", band=DOUBT, zero=True,
              words="U of the readings, one for all or one for each"),
        Input(key="length", form="places", unit="in", needed=False, band=PUSHROD,
              words="length of the pushrods in hand, one for all or one for each"),
        Input(key="step", unit="in", needed=False, band=GAP,
              words="step between lengths that can be had"),
        Input(key="lengths", form="list", unit="in", needed=False, band=PUSHROD,
              words="the lengths that can be had"),
        Input(key="target", unit="thou", needed=False, band=GAP, words="preload aimed for"),
        Input(key="tolerance", unit="thou", default="0 thou", band=DOUBT, zero=True,
              words="how far a new pushrod can be off; 0 if each will be measured"),
        Input(key="most", form="whole", needed=False, words="how many different lengths at most"),
        Input(key="keep", form="choice", choices=("yes", "no"), default="no",
              words="whether pushrods in hand that serve stay in"),
        Input(key="travel", unit="thou", needed=False, band=GAP,
              words="the lifter's whole plunger travel, to refuse a bottomed reading"),
        Input(key="ratio", form="number", needed=False,
              words="rocker ratio, to work out the pedestal shim that would do instead"),
    ),
    outputs=(
        Output(key="lengths", unit="in", words="lengths to order"),
        Output(key="places", unit="in", words="length for each place"),
        Output(key="changes", unit="thou", words="change of length at each place"),
        Output(key="predicted", unit="thou", words="expected reading of each place"),
        Output(key="predicted_low", unit="thou", words="lowest expected reading"),
        Output(key="predicted_high", unit="thou", words="highest expected reading"),
        Output(key="proved", words="whether every place is expected in, whatever the doubt"),
        Output(key="standard", words="proved, inside (not proved) or none"),
        Output(key="fails", words="places expected outside the window even so"),
        Output(key="least_margin", unit="thou", words="the worst place's distance to its limit"),
        Output(key="allowed_low", unit="thou", words="least change that proves every place"),
        Output(key="allowed_high", unit="thou", words="greatest change that proves every place"),
        Output(key="neighbours", words="what fails with the next lengths of the catalogue"),
        Output(key="proves_with", words="fewest lengths that prove every place"),
        Output(key="step_for_one", unit="thou",
               words="a step no larger surely has one length that proves every place"),
        Output(key="step_for_each", unit="thou",
               words="a step no larger surely has a length for each place by itself"),
        Output(key="shim_low", unit="thou",
               words="thinnest pedestal shim instead, where readings are high: for all, or each"),
        Output(key="shim_high", unit="thou", words="thickest such shim"),
    ),
    formula=(
        "expected = reading + new length − length in hand",
        "proved if low + U + t ≤ expected ≤ high − U − t",
        "fewest lengths; among equals the widest least margin, then the closest to the target",
        "shim instead: (reading + U − high)/(1 + 1/R) to (reading − U − low)/(1 + 1/R)",
    ),
    source="derived here; decision: ILAC-G8:09/2019 §4.2.3",
    example=Example(
        inputs={"readings": "1I=58 1E=60 2I=61 2E=59 thou", "window": "20 to 60 thou",
                "uncertainty": "4 thou", "length": "9.641 in", "step": "0.010 in"},
        outputs={"lengths": "9.621 in", "predicted_low": "38 thou", "predicted_high": "41 thou",
                 "allowed_low": "−34 thou", "allowed_high": "−5 thou", "proved": "yes"},
    ),
    work=_pushrods,
)  # fmt: skip
