import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.camshaft import (
    Events,
    Lift,
    arcs,
    check_list,
    closed_at,
    companions,
    even_intervals,
    firing,
)
from snugset.trade.circle import Arc, degrees, plain, wrap
from snugset.trade.standing import ValveState, describe, lowest_pistons, number_word, piston, valves

MILD = Events(ivo=12, ivc=48, evo=52, evc=10, lift="seat")
"""An invented card of a mild camshaft."""
FOUR = (1, 3, 4, 2)
SIX = (1, 5, 3, 6, 2, 4)
EIGHT = (1, 8, 4, 3, 6, 5, 7, 2)
ODD_SIX = (Decimal(150), Decimal(90)) * 3


def valve_list(intake: str, exhaust: str) -> tuple[str, ...]:
    return tuple(f"{n}I" for n in intake.split()) + tuple(f"{n}E" for n in exhaust.split())


# TM 5-3895-383-24, pp. 6-60 and 6-61: at number one's compression dead centre, and one turn on.
PUBLISHED_FOUR = [(0, valve_list("1 2", "1 3")), (360, valve_list("3 4", "2 4"))]
PUBLISHED_SIX = [(0, valve_list("1 2 4", "1 3 5")), (360, valve_list("3 5 6", "2 4 6"))]
# Common practice, without a source.
USUAL_EIGHT = [(0, valve_list("1 2 5 7", "1 3 4 8")), (360, valve_list("3 4 6 8", "2 5 6 7"))]


@pytest.mark.parametrize(
    ("order", "published"),
    [(FOUR, PUBLISHED_FOUR), (SIX, PUBLISHED_SIX), (EIGHT, USUAL_EIGHT)],
    ids=["four", "six", "eight"],
)
def test_published_lists_lie_within_the_computed_closed_valves(
    order: tuple[int, ...], published: list[tuple[int, tuple[str, ...]]]
) -> None:
    closed = arcs(order, even_intervals(len(order)), MILD, bridged=False)
    for angle, places in published:
        assert set(places) <= set(closed_at(closed, angle, 20))
    found = check_list(published, closed)
    assert (found.missing, found.repeated) == ((), ())
    assert len(found.claims) == 2 * len(order)
    assert not any(claim.warning for claim in found.claims)


def test_a_list_one_turn_out_is_told_place_by_place() -> None:
    closed = arcs(SIX, even_intervals(6), MILD, bridged=False)
    wrong = [(angle + 360, places) for angle, places in PUBLISHED_SIX]
    found = check_list(wrong, closed)
    warned = {claim.place: claim.warning for claim in found.claims if claim.warning}
    # Number one at overlap: its intake opened 12° before, its exhaust closes 10° after.
    assert warned["1I"] == "1I is 12° outside its closed arc: it may be open"
    assert warned["1E"] == "1E is 10° outside its closed arc: it may be open"


def test_a_list_is_told_what_it_leaves_out_repeats_and_cuts_fine() -> None:
    closed = arcs(SIX, even_intervals(6), MILD, bridged=True)
    found = check_list([(0, ["1", "5"]), (5, ["5"])], closed)
    assert found.missing == ("3", "6", "2", "4")
    assert found.repeated == ("5",)
    assert [claim.margin for claim in found.claims] == [128, 12, 17]
    assert found.claims[1].warning == "5 has 12° of margin, under 20°"
    with pytest.raises(ValueError, match="no place 7; this engine has 1, 5, 3, 6, 2, 4"):
        check_list([(0, ["7"])], closed)


def test_margin_at_the_checking_lift_is_not_margin_at_the_seat() -> None:
    """Exhaust opening 75 at the seat is about 45 at .050 in; what seems 45 of margin has less."""
    at_050 = Events(ivo=0, ivc=35, evo=45, evc=0, lift="0.050 in")
    naive = Events(ivo=0, ivc=35, evo=45, evc=0, lift="seat")
    assert naive.exhaust.margin(Decimal(90)) == 45
    assert at_050.exhaust.margin(Decimal(90)) == 10


def test_published_durations_and_overlap() -> None:
    """TM 5-4310-389-14, table 4-2: intake 273°, exhaust 283°, overlap 65°."""
    card = Events(ivo=32.5, ivc=60.5, evo=70.5, evc=32.5, lift="seat")
    assert [card.intake_duration, card.exhaust_duration, card.overlap] == list(
        map(Decimal, (273, 283, 65))
    )
    # Closed for the rest of the cycle.
    assert card.intake.length == 720 - 273
    assert card.exhaust.length == 720 - 283


def test_published_overlap() -> None:
    """TM 9-8000, figs 2-54 and 2-55: intake opens 28° before, exhaust closes 45° after: 73°."""
    assert Events(ivo=28, ivc=71, evo=54, evc=45, lift="seat").overlap == 73


def test_arcs_by_hand() -> None:
    assert MILD.exhaust == Arc(low=Decimal(-350), high=Decimal(128))
    assert MILD.intake == Arc(low=Decimal(-132), high=Decimal(348))
    assert MILD.bridge == Arc(low=Decimal(-132), high=Decimal(128))
    closed = arcs(SIX, even_intervals(6), MILD, bridged=True)
    assert list(closed) == ["1", "5", "3", "6", "2", "4"]
    assert closed["5"] == Arc(low=Decimal(-12), high=Decimal(248))


@pytest.mark.parametrize(("lift", "each"), [("seat", 0), ("advertised", 10), ("0.050 in", 35)])
def test_checking_lift_takes_from_both_ends(lift: Lift, each: int) -> None:
    card = Events(ivo=12, ivc=48, evo=52, evc=10, lift=lift)
    assert card.intake == Arc(low=Decimal(-132 + each), high=Decimal(348 - each))
    assert card.exhaust == Arc(low=Decimal(-350 + each), high=Decimal(128 - each))
    assert card.bridge.length == MILD.bridge.length - 2 * each


def test_negative_figures_mean_the_other_side() -> None:
    """A short camshaft at .050 in: intake opens 5 after top, exhaust closes 8 before it."""
    card = Events(ivo=-5, ivc=Decimal("26.5"), evo=30, evc=-8, lift="0.050 in")
    assert card.overlap == -13
    assert card.intake == Arc(low=Decimal("-118.5"), high=Decimal(330))
    assert card.exhaust == Arc(low=Decimal(-333), high=Decimal(115))
    # At the seat both are closed about the other dead centre too: that sliver is not the bridge's.
    seat = Events(ivo=-5, ivc=26, evo=30, evc=-8, lift="seat")
    assert seat.intake.holds(Decimal(360))
    assert seat.exhaust.holds(Decimal(360))
    assert not seat.bridge.holds(Decimal(360))


def test_a_card_that_is_none_is_refused() -> None:
    with pytest.raises(ValueError, match="nan cannot be reckoned with"):
        Events(ivo=math.nan, ivc=48, evo=52, evc=10, lift="seat")
    with pytest.raises(ValueError, match="no checking lift; give one of seat, advertised, "):
        Events(ivo=1, ivc=48, evo=52, evc=10, lift="1 mm")  # type: ignore[arg-type]


def test_firing_is_the_sum_of_the_intervals_before() -> None:
    assert firing(SIX, even_intervals(6)) == {1: 0, 5: 120, 3: 240, 6: 360, 2: 480, 4: 600}
    assert firing((1, 6, 5, 4, 3, 2), ODD_SIX) == {1: 0, 6: 150, 5: 240, 4: 390, 3: 480, 2: 630}
    # Wherever the order is begun, number one's dead centre is angle 0.
    assert firing((2, 1), (Decimal(300), Decimal(420))) == {1: 0, 2: 420}
    sevenths = firing(range(1, 8), even_intervals(7))
    assert abs(sevenths[7] - Decimal(720) * 6 / 7) < Decimal("0.00001")


@pytest.mark.parametrize(
    ("order", "intervals", "words"),
    [
        ((1, 1), (360, 360), "firing order 1-1 does not name each cylinder from 1 on once"),
        ((), (), "firing order nothing does not"),
        ((1, 2), (360,), "1 firing intervals for 2 cylinders; give one each"),
        ((1, 2), (360, 300), "firing intervals sum to 660°, not to 720°"),
    ],
)
def test_no_firing_order(order: tuple[int, ...], intervals: tuple[int, ...], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        firing(order, intervals)


def test_companions() -> None:
    """NAVEDTRA 14264, p. 104: the order split in half and stacked."""
    assert companions(SIX, even_intervals(6)) == {1: 6, 5: 2, 3: 4, 6: 1, 2: 5, 4: 3}
    assert companions(EIGHT, even_intervals(8)) == {
        1: 6, 8: 5, 4: 7, 3: 2, 6: 1, 5: 8, 7: 4, 2: 3,
    }  # fmt: skip
    assert companions((1, 6, 5, 4, 3, 2), ODD_SIX) == {}
    assert companions((1, 2, 3), even_intervals(3)) == {}
    tops = firing(EIGHT, even_intervals(8))
    for one, other in companions(EIGHT, even_intervals(8)).items():
        assert wrap(tops[one] - tops[other]) == 360


def test_number_one_at_its_dead_centre_leaves_five_unfinished() -> None:
    """Common practice, without a source: 1-5-3-6-2-4, a little more crank, then three is next."""
    even = even_intervals(6)
    five = piston(0, 5, SIX, even)
    assert (five.words, five.stroke) == ("60° past bottom", "compression")
    assert describe(0, 5, SIX, even, MILD) == "number five: 60° past bottom, intake just closing"
    # A third of the stroke's angle, yet only a fifth to a quarter of its travel.
    assert 1 - piston(0, 5, SIX, even, ratio=1.8).fallen == pytest.approx(0.2, abs=0.005)
    assert 1 - five.fallen == pytest.approx(0.25)
    closed = arcs(SIX, even, MILD, bridged=True)
    assert "5" not in closed_at(closed, 0, 20)
    assert "5" in closed_at(closed, 8, 20)
    assert describe(10, 5, SIX, even, MILD) == "number five: 70° past bottom, both valves closed"
    # From where one and five are done, the next bridge to come free is three's.
    ahead = {
        place: wrap(arc.low - 58) for place, arc in closed.items() if not arc.holds(degrees(58))
    }
    assert min(ahead, key=lambda place: ahead[place]) == "3"


def test_words_for_every_cylinder_of_a_six() -> None:
    told = [describe(0, cylinder, SIX, even_intervals(6), MILD) for cylinder in SIX]
    assert told == [
        "number one: at top on compression, both valves closed",
        "number five: 60° past bottom, intake just closing",
        "number three: 60° before bottom, intake open",
        "number six: at top on overlap, exhaust just closing, intake just opening",
        "number two: 60° past bottom, exhaust open",
        "number four: 60° before bottom, exhaust just opening",
    ]
    assert describe(0, 5, SIX, even_intervals(6)) == "number five: 60° past bottom"
    assert describe(540, 1, SIX, even_intervals(6)) == "number one: at bottom"
    assert describe(Decimal("88.5"), 1, SIX, even_intervals(6)) == "number one: 88.5° past top"
    assert (number_word(24), number_word(25)) == ("twenty-four", "25")


def test_a_valve_off_its_seat_within_the_allowance_is_not_called_closed() -> None:
    card = Events(ivo=12, ivc=48, evo=52, evc=10, lift="0.050 in")
    single = (Decimal(720),)
    # At .050 in the intake closes at 588; surely closed only 35° on.
    assert "intake just closing" in describe(615, 1, (1,), single, card)
    assert "both valves closed" in describe(624, 1, (1,), single, card)
    assert "exhaust just opening" in describe(100, 1, (1,), single, card)


def test_valve_states_count_down_to_the_next_event() -> None:
    states = valves(SIX, even_intervals(6), MILD, 0)
    assert states["1E"] == ValveState(open=False, then="opens", degrees=Decimal(128))
    assert states["6I"] == ValveState(open=True, then="closes", degrees=Decimal(228))
    assert states["5I"] == ValveState(open=False, then="opens", degrees=Decimal(468))


def test_a_valve_that_never_changes_says_so() -> None:
    stuck = Events(ivo=300, ivc=260, evo=-300, evc=-300, lift="seat")
    state = valves((1,), (720,), stuck, 10)
    assert state["1I"] == ValveState(open=True, then="never changes", degrees=Decimal(0))
    assert state["1E"] == ValveState(open=False, then="never changes", degrees=Decimal(0))
    assert describe(10, 1, (1,), (720,), stuck) == "number one: 10° past top, intake open"


@given(
    angle=st.integers(-2000, 2000),
    card=st.builds(
        Events,
        ivo=st.integers(-30, 50),
        ivc=st.integers(-10, 90),
        evo=st.integers(-10, 90),
        evc=st.integers(-30, 50),
        lift=st.sampled_from(["seat", "advertised", "0.050 in"]),
    ),
)
def test_turning_on_to_the_next_event_comes_to_it(angle: int, card: Events) -> None:
    before = valves(FOUR, even_intervals(4), card, angle)
    for place, state in before.items():
        then = angle + state.degrees
        on = valves(FOUR, even_intervals(4), card, then + Decimal("0.01"))[place]
        off = valves(FOUR, even_intervals(4), card, then - Decimal("0.01"))[place]
        assert on.open == (state.then == "opens")
        assert state.degrees < Decimal("0.01") or off.open == state.open


def test_piston_travel() -> None:
    """s = a(1 − cos θ) + l − √(l² − a² sin² θ), Heywood eq. 2.5 (from memory)."""
    single = (Decimal(720),)
    throw, length = 2.25, 8.0
    for angle in (0, 37, 90, 180, 300, 541):
        theta = math.radians(angle)
        travel = throw * (1 - math.cos(theta)) + length
        travel -= math.sqrt(length**2 - (throw * math.sin(theta)) ** 2)
        found = piston(angle, 1, (1,), single, ratio=length / (2 * throw))
        assert found.fallen == pytest.approx(travel / (2 * throw))
    with pytest.raises(ValueError, match="give more than a half"):
        piston(0, 1, (1,), single, ratio=0.5)
    with pytest.raises(ValueError, match="no cylinder 7; this engine has 1 to 6"):
        piston(0, 7, SIX, even_intervals(6))


@given(angle=st.integers(0, 719), tops=st.sets(st.integers(0, 719), min_size=1, max_size=5))
def test_lowest_pistons_against_every_whole_degree(angle: int, tops: set[int]) -> None:
    low, high = Decimal(angle), Decimal(angle + 90)
    crowns = {Decimal(top) for top in tops}

    def depth(at: Decimal) -> Decimal:
        return min(
            min(wrap(at - top, Decimal(360)), wrap(top - at, Decimal(360))) for top in crowns
        )

    found = lowest_pistons(crowns, low, high)
    assert low <= found <= high
    assert depth(found) >= max(depth(low + step) for step in range(91))


def test_of_equally_low_pistons_a_mark_and_then_the_middle_decides() -> None:
    tops, low, high = {Decimal(0), Decimal(180)}, Decimal(60), Decimal(290)
    assert lowest_pistons(tops, low, high) == 90
    assert lowest_pistons(tops, low + 10, high + 10) == 270
    assert lowest_pistons(tops, low, high, [Decimal(180), Decimal(270)]) == 270


def test_degrees_are_exact() -> None:
    assert degrees(0.1) + degrees(0.2) == Decimal("0.3")
    assert str(degrees(Decimal("32.50"))) == "32.50"
    assert wrap(Decimal(-1)) == 719
    assert (plain(Decimal("60.0")), plain(Decimal("-0.01")), plain(Decimal("58.5"))) == (
        "60",
        "0",
        "58.5",
    )
    for wrong in (math.inf, Decimal("sNaN"), Decimal("1e9")):
        with pytest.raises(ValueError, match="cannot be reckoned with"):
            degrees(wrong)


@given(low=st.integers(-720, 720), length=st.integers(-50, 760), angle=st.integers(-720, 1440))
def test_an_arc_holds_an_angle_as_counting_does(low: int, length: int, angle: int) -> None:
    arc = Arc(low=Decimal(low), high=Decimal(low + length))
    inside = {at % 720 for at in range(low, low + length + 1)}
    assert arc.holds(Decimal(angle)) == (angle % 720 in inside)
    assert (arc.empty, arc.full) == (not inside, length >= 720)
    for by in (1, 17):
        assert arc.shrunk(Decimal(by)).holds(Decimal(angle)) == (arc.margin(Decimal(angle)) >= by)
