from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.fault import FigureError
from snugset.trade.preload import preload
from snugset.trade.verdict import Verdict
from snugset.units import Quantity, read_takes

from .amounts import q

WINDOW = (q("30 thou"), q("40 thou"))
LEAVES = st.decimals(min_value=1, max_value=30, places=1)
TAKES = st.lists(st.lists(LEAVES, min_size=1, max_size=3), min_size=1, max_size=3)


def takes(text: str) -> tuple[tuple[Quantity, ...], ...]:
    return read_takes(text, unit="thou")


def test_17_and_18_read_35() -> None:
    """Common practice: in the window 30 to 40 with U up to 5; one take has U = 4.6."""
    found = preload(takes("17+18"), window=WINDOW, target=q("35 thou"))
    assert (found.mean, found.uncertainty) == (q("35 thou"), q("4.6 thou"))
    assert found.verdict is Verdict.IN
    assert found.change == q("0 thou")


def test_30_and_32_stack_to_62_which_is_high() -> None:
    """Common practice: leaves of 30 and 32 stack to 62, high by more than the doubt."""
    found = preload(takes("30+32"), window=WINDOW, target=q("35 thou"))
    assert found.mean == q("62 thou")
    assert found.verdict is Verdict.HIGH
    assert found.change == q("-27 thou")


def test_two_takes_that_agree_are_enough() -> None:
    found = preload(takes("17+18; 18+18"), window=WINDOW, travel=q("120 thou"))
    assert (found.mean, found.uncertainty, found.spread) == (
        q("35.5 thou"), q("3.3 thou"), q("1 thou"),
    )  # fmt: skip
    assert not found.another_take
    assert found.share == Decimal("0.3")


@pytest.mark.parametrize(
    ("text", "another"),
    [("30; 34", False), ("30; 34.1", True), ("30; 36; 33", False), ("30", False)],
)
def test_takes_over_the_repeatability_apart_ask_for_a_third(text: str, another: bool) -> None:  # noqa: FBT001  # a case
    """Over .004 in apart, a third time; three are enough."""
    assert preload(takes(text)).another_take is another


def test_no_gap_is_loose_and_no_measurement() -> None:
    assert preload(takes("0"), window=(q("0 thou"), q("40 thou"))).verdict is Verdict.LOOSE
    assert preload(takes("0; 3")).verdict is Verdict.LOOSE


@pytest.mark.parametrize(("gap", "verdict"), [("109.9", "high"), ("110", "bottomed")])
def test_within_10_thou_of_the_travel_is_bottomed(gap: str, verdict: str) -> None:
    """≥ travel − .010 in: bottomed, by an unknown amount. Common practice."""
    assert preload(takes(gap), window=WINDOW, travel=q("120 thou")).verdict == verdict


def test_short_travel_lifters() -> None:
    """Travel .045 in, highest .035 in: .049 in of travel asked of it is past its end."""
    short = q(".045 in")
    assert preload(takes("34.9"), travel=short).verdict is Verdict.NO_LIMIT
    assert preload(takes("35"), travel=short).verdict is Verdict.BOTTOMED
    assert preload(takes("49"), travel=short).share == Decimal("1.09")


def test_more_than_three_leaves_and_a_filled_lifter_are_flagged() -> None:
    """Three leaves at most (common practice); filled lifters bleed down slowly."""
    assert preload(takes("10+10+10+5")).too_many_leaves
    assert not preload(takes("10+10+15")).too_many_leaves
    assert preload(takes("35"), lifter="filled").provisional
    assert not preload(takes("35"), lifter="bled").provisional


def test_a_known_doubt_takes_the_place_of_the_stated_repeatability() -> None:
    found = preload(takes("33"), window=WINDOW, doubt=q("2.4 thou"))
    assert (found.uncertainty, found.verdict) == (q("2.4 thou"), Verdict.IN)


def test_leaves_of_two_systems_stack_exactly() -> None:
    found = preload(takes("17 thou + 0.4572 mm"))
    assert found.mean == q("35 thou")


@given(TAKES)
def test_the_answer_is_the_same_whatever_the_unit(stacks: list[list[Decimal]]) -> None:
    window, travel = (q("20 thou"), q("60 thou")), q("90 thou")
    inch = preload(
        [[Quantity(leaf, "thou") for leaf in stack] for stack in stacks],
        window=window,
        travel=travel,
    )
    metric = preload(
        [[Quantity(leaf, "thou").to("mm") for leaf in stack] for stack in stacks],
        window=(window[0].to("mm"), window[1].to("in")),
        travel=travel.to("mm"),
        repeatability=q("0.1016 mm"),
    )
    assert metric.mean.unit == "mm"
    assert metric.mean.number("thou") == pytest.approx(inch.mean.number("thou"), abs=1e-4)
    assert metric.uncertainty.in_("thou") == inch.uncertainty.value
    assert (metric.verdict, metric.share, metric.another_take) == (
        inch.verdict, inch.share, inch.another_take,
    )  # fmt: skip


@given(TAKES, st.decimals(min_value=1, max_value=20, places=1))
def test_a_thicker_stack_reads_more(stacks: list[list[Decimal]], more: Decimal) -> None:
    thin = [[Quantity(leaf, "thou") for leaf in stack] for stack in stacks]
    thick = [[*stack, Quantity(more, "thou")] for stack in thin]
    assert preload(thick).mean.value - preload(thin).mean.value == pytest.approx(
        more, abs=Decimal("0.0001")
    )


@pytest.mark.parametrize(
    ("given_takes", "travel", "message"),
    [
        (
            (),
            None,
            "takes: no leaf given; type the leaves that fitted, such as 17+18, or 0 for none",
        ),
        (((q("-3 thou"),),), None, "takes: a gap is never negative; type 0 if no leaf goes in"),
        (
            ((q("35 thou"),),),
            "0 thou",
            "travel: 0 thou is no travel; type the lifter's whole plunger travel",
        ),
        (
            ((q("35 thou"),),),
            "38 thou",
            (
                "window: its upper limit of 40 thou is beyond the lifter's whole travel of 38 thou;"
                " check both figures"
            ),
        ),
    ],
)
def test_what_cannot_be_is_refused(
    given_takes: tuple[tuple[Quantity, ...], ...], travel: str | None, message: str
) -> None:
    with pytest.raises(FigureError) as refused:
        preload(given_takes, window=WINDOW, travel=q(travel) if travel else None)
    assert str(refused.value) == message
    assert message.startswith(refused.value.key)
