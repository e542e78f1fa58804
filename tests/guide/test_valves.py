"""Engines set valve by valve: lash cold and hot, nuts from zero lash, setting points, guards."""

from datetime import timedelta

import pytest

from driving import Table, small
from snugset.guide.address import Address
from snugset.stored import BuildError

FOUR = """\
snugset: engine/1
name: Shed four (invented)
layout: inline
cylinders: 4
firing-order: [1, 3, 4, 2]
running: clockwise
rockers: shaft
lifters: solid
ratio: 1.5
"""
EIGHT = """\
snugset: engine/1
name: Barn eight (invented)
layout: v
cylinders: 8
firing-order: [1, 8, 4, 3, 6, 5, 7, 2]
running: clockwise
banks: {left: [1, 3, 5, 7], right: [2, 4, 6, 8]}
rockers: stud
lifters: hydraulic
ratio: 1.6
"""
PROVE = "- turn: number-one\n  prove: yes\n"
LASH_FIGURES = """\
in-lash: {kind: length, unit: in, ask: Hot intake?}
ex-lash: {kind: length, unit: in, ask: Hot exhaust?}
shift: {kind: length, unit: thou, ask: Cold less hot?, plausible: -20..20 thou, none: Not judged.}
card: {kind: camshaft, ask: Card?, none: Each at its own.}
"""
LASH_SPECS = """\
in-lash: {value: .012 in, source: book}
ex-lash: {value: .016 in, source: book}
shift: {value: -2 thou, source: measured}
card: {value: IVO 12 IVC 48 EVO 52 EVC 10 at seat, source: card}
"""
LASH = (
    PROVE
    + """\
- crank: points
  over: valves
  events: card
  steps:
    - lash: cold
      figure: lash
      unit: in
      at: cold
      intake: in-lash
      exhaust: ex-lash
      shift: shift
      plausible: 2..60 thou
- do: warm
  guards: [lash]
- each: again
  over: valves
  steps:
    - lash: hot
      figure: lash-hot
      unit: in
      at: hot
      intake: in-lash
      exhaust: ex-lash
      how: measured
      shift: shift
      before: cold
"""
)


def lash(at: str = "cold@1I", specs: str = LASH_SPECS) -> Table:
    found = small(LASH, figures=LASH_FIGURES, specs=specs, engine=FOUR)
    while found.at != at:
        found.taken("" if not found.at.startswith("hot") else found.asked.facts[1][-8:])
    return found


def test_a_hot_book_figure_is_set_cold_by_its_shift() -> None:
    found = lash()
    assert found.asked.facts[0] == "By the book hot: 0.012 in = 0.305 mm"
    assert found.asked.proposal == "0.010 in"
    found.taken("")
    reading = found.state.readings[Address("cold", "1I")]
    assert (str(reading.value), reading.verdict) == ("0.010 in", "in")


@pytest.mark.parametrize(
    ("typed", "code"),
    [("0.25 mm", ""), ("40 lbf·ft", "kind"), (".5", "factor")],
)
def test_a_lash_is_judged_by_the_setting_for_the_engine_now(typed: str, code: str) -> None:
    found = lash()
    if code:
        assert found.refused(typed).code == code
    else:
        found.taken(typed)


@pytest.mark.parametrize(("typed", "code"), [(".014", "high"), (".006", "low")])
def test_a_lash_outside_is_set_aside_and_stays_on_record(typed: str, code: str) -> None:
    found = lash()
    where = found.asked.address
    assert found.taken(typed).code == code
    assert found.asked.address == where
    assert where not in found.state.readings
    (aside,) = found.state.set_aside
    assert (str(aside.address), aside.code, aside.typed) == (str(where), code, typed)
    found.taken("")
    assert (found.state.readings[where].verdict, len(found.state.set_aside)) == ("in", 1)


def test_a_lash_outside_goes_on_with_a_reason_and_is_not_set_aside() -> None:
    found = lash()
    where = found.asked.address
    found.taken(".014 ! the screw is at its end")
    assert found.state.readings[where].verdict == "high"
    assert found.state.set_aside == ()
    assert [each.code for each in found.state.overrides] == ["high"]


def test_without_the_shift_a_cold_lash_is_recorded_and_not_judged() -> None:
    found = lash(
        specs=LASH_SPECS.replace("shift: {value: -2 thou, source: measured}", "shift: {none: yes}")
    )
    assert found.refused("").code == "empty"
    found.taken(".011")
    assert found.state.readings[Address("cold", "1I")].verdict == "no-limit"


def test_a_lash_that_has_closed_by_itself_is_stopped_and_one_that_opened_is_said() -> None:
    found = lash("hot@1I")
    assert found.refused("").code == "empty"
    tighter = found.refused(".010")
    assert tighter.code == "tighter"
    assert "the valve or its seat is going" in tighter.words
    assert found.taken(".010 ! worn rocker").code == "not-proved"
    assert [(each.code, each.typed) for each in found.state.set_aside] == [("not-proved", ".010")]
    assert found.state.overrides == ()
    said = found.taken(".0139 ! a").said
    assert any("looser than expected: follower or rocker may be wearing" in line for line in said)
    found.taken(".016")
    assert found.state.readings[Address("hot", "1E")].flag == "agrees"


def test_the_guard_wants_every_valve_set() -> None:
    found = lash("cold@1I")
    found.taken("skip no leaf that thin")
    while found.at != "warm":
        found.taken("")
    refusal = found.refused("")
    assert refusal.code == "guard-lash"
    assert "not read: 1I" in refusal.words


def points(method: str, engine: str = FOUR, card: str = "IVO 12 IVC 48 EVO 52 EVC 10") -> Table:
    steps = LASH.replace(
        "  over: valves\n  events", f"  over: valves\n  method: {method}\n  events", 1
    )
    specs = LASH_SPECS.replace("IVO 12 IVC 48 EVO 52 EVC 10", card)
    found = small(steps, figures=LASH_FIGURES, specs=specs, engine=engine)
    found.taken("")
    found.taken("")
    return found


@pytest.mark.parametrize(
    ("method", "expected"),
    [
        ("two-positions", [("1I", "1E", "3E", "2I"), ("3I", "4I", "4E", "2E")]),
        ("firing-order", [("1I", "1E"), ("3I", "3E"), ("4I", "4E"), ("2I", "2E")]),
    ],
)
def test_setting_points_of_valves(method: str, expected: list[tuple[str, ...]]) -> None:
    # TM 5-3895-383-24 pp. 6-60, 6-61: 1-3-4-2 at number one intake 1 2, exhaust 1 3; then the rest.
    found = points(method).state.planned["points"]
    assert found.method == method
    assert [p.places for p in found.points] == expected


def test_valve_by_valve_stops_once_for_each_valve() -> None:
    assert len(points("valve-by-valve").state.planned["points"].points) == 8


def test_two_positions_are_offered_only_if_every_valve_has_the_margin_there() -> None:
    found = points("two-positions", EIGHT, "IVO 40 IVC 110 EVO 110 EVC 75")
    planned = found.state.planned["points"]
    assert planned.method != "two-positions"
    assert "of margin in two positions" in planned.why


def test_windows_of_two_positions_keep_their_margin() -> None:
    for point in points("two-positions").state.planned["points"].points:
        assert point.low < point.aim < point.high


def test_valves_of_bridged_rockers_are_not_set_one_by_one() -> None:
    with pytest.raises(BuildError) as raised:
        small(LASH, figures=LASH_FIGURES, engine=FOUR.replace("shaft", "bridged"))
    assert "points sets valve by valve; this engine's rockers are bridged" in str(raised.value)


NUT_FIGURES = """\
thread: {kind: thread, ask: Thread?}
target: {kind: length, unit: in, ask: Preload?}
window: {kind: length, form: window, unit: in, ask: Window?}
travel: {kind: length, unit: in, ask: Travel?}
state: {kind: choice, choices: [dry, filled], ask: State?}
bleed: {kind: time, unit: min, ask: How long?}
card: {kind: camshaft, ask: Card?, none: Each at its own.}
"""
NUT_SPECS = """\
thread: {value: 7/16-20, source: card}
target: {value: .020 in, source: card}
window: {value: .005..0.035 in, source: card}
travel: {value: .045 in, source: card}
state: {value: filled, source: seen}
bleed: {value: 20 min, source: card}
card: {value: IVO 12 IVC 48 EVO 52 EVC 10 at seat, source: card}
"""
NUT = (
    PROVE
    + """\
- crank: points
  over: cylinders
  events: card
  lifter: state
  bleed: bleed
  steps:
    - each: both
      over: valves
      steps:
        - nut: adjust
          figure: preload
          unit: thou
          thread: thread
          target: target
          window: window
          travel: travel
          lifter: state
          bleed: bleed
- do: cover
  guards: [preload]
"""
)


def nut() -> Table:
    found = small(NUT, figures=NUT_FIGURES, specs=NUT_SPECS, engine=EIGHT)
    while not found.at.startswith("adjust"):
        found.taken("")
    return found


def test_turns_from_zero_lash_reach_the_preload_wanted() -> None:
    # 7/16-20 at ratio 1.6: .0813 in a turn; .020 in is a quarter turn.
    found = nut()
    assert found.asked.proposal == "0.246 turn"
    assert any("0.0813 in for a whole turn" in fact for fact in found.asked.facts)
    found.taken("1/4")
    (reading,) = found.state.readings.values()
    assert str(reading.value) == "20.3 thou"
    assert reading.verdict == "in"


def test_more_than_half_a_turn_bottoms_a_short_lifter() -> None:
    found = nut()
    refusal = found.refused("0.6")
    assert refusal.code == "bottomed"
    assert "One whole turn is 0.0813 in at the plunger" in refusal.words


def test_with_filled_lifters_the_crank_waits_after_a_nut() -> None:
    found = nut()
    while found.at.startswith("adjust"):
        found.taken("")
    assert found.at.startswith("points.turn")
    assert found.refused("").code == "bleeding"
    found.now += timedelta(minutes=20)
    found.taken("")


def test_the_cover_wants_every_nut_set() -> None:
    found = nut()
    found.taken("skip stripped")
    while found.at != "cover":
        found.now += timedelta(minutes=21)
        found.taken("")
    assert "never measured" in found.refused("").words


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("over: valves", "over: cylinders", "a nut stands at valves"),
        (
            "target: target\n",
            "target: target\n          turns: bleed\n",
            "either “turns” or “target”",
        ),
        ("thread: thread", "thread: bleed", "“thread” needs a figure of thread"),
    ],
)
def test_a_mistake_in_a_nut_is_told(old: str, new: str, said: str) -> None:
    assert old in NUT
    with pytest.raises(BuildError) as raised:
        small(NUT.replace(old, new, 1), figures=NUT_FIGURES, engine=EIGHT)
    assert said in str(raised.value)
