"""The stage model: torque, angle, loosen, verify, accept; and beginning again."""

import pytest

from driving import Table, small
from snugset.stored import BuildError

ENGINE = """\
snugset: engine/1
name: Shed four (invented)
layout: inline
cylinders: 4
firing-order: [1, 3, 4, 2]
running: clockwise
rockers: shaft
lifters: solid
ratio: 1.5
fasteners:
  head:
    kind: bolt
    order: ["2", "3", "1", "4"]
    places:
      "1": {x: 0 in, y: 3 in}
      "2": {x: 4 in, y: 3 in}
      "3": {x: 4 in, y: 0 in}
      "4": {x: 0 in, y: 0 in}
  front: {kind: bolt, places: {a: {x: 9 in, y: 0 in}, b: {x: 9 in, y: 2 in}}}
"""
FIGURES = """\
first: {kind: torque, unit: lbf·ft, ask: First?}
second: {kind: torque, unit: lbf·ft, ask: Second?}
outer: {kind: torque, unit: lbf·ft, ask: The front ones?}
turn: {kind: angle, unit: deg, ask: Angle?}
over: {kind: angle, unit: deg, ask: How far above?}
back: {kind: number, ask: Turns back?}
least: {kind: torque, unit: lbf·ft, ask: At least?}
yield: {kind: choice, choices: ["yes", "no"], ask: Torque-to-yield?, none: Asked later.}
wrench: {kind: torque, form: window, unit: lbf·ft, ask: Wrench?}
"""
SPECS = """\
first: {value: 30 lbf·ft, source: leaflet}
second: {value: 45 lbf·ft, source: leaflet}
outer: {value: 20 lbf·ft, source: leaflet}
turn: {value: 90 deg, source: leaflet}
over: {value: 4 deg, source: leaflet}
back: {value: 1, source: leaflet}
least: {value: 60 lbf·ft, source: leaflet}
yield: {value: "yes", source: leaflet}
wrench: {value: 10..100 lbf·ft, source: leaflet}
"""
STEPS = """\
- do: gasket-on
  marks: head-on
- stages: head
  group: head
  wrench: wrench
  yield: yield
  gasket: gasket-on
  steps:
    - torque-to: one
      figure: first
    - torque-to: fronts
      group: front
      figure: outer
      falls: yes
    - loosen: free
      turns: back
    - torque-to: two
      figure: second
      order: spiral
    - verify: even
      figure: second
    - angle: quarter
      figure: turn
      tolerance: over
      only: ["1", "2", "4"]
      order: ["4", "1", "2"]
    - accept: reached
      figure: least
- do: last
"""


def bench(at: str = "", specs: str = SPECS) -> Table:
    """Give a table that stands at an address, everything before it done at once."""
    found = small(STEPS, figures=FIGURES, specs=specs, engine=ENGINE)
    while at and found.at != at:
        assert found.at
        found.taken("0" if found.asked.asks == "count" else "stage" if "@" in found.at else "")
    return found


def walked(found: Table) -> list[str]:
    """Give what is asked from here on, each answered with Enter."""
    asked = []
    while found.at:
        asked.append(found.at)
        found.taken("0" if found.asked.asks == "count" else "")
    return asked


def test_each_stage_goes_over_its_own_fasteners_in_its_own_order() -> None:
    assert " ".join(walked(bench())) == (
        "gasket-on one@2 one@3 one@1 one@4 fronts@a fronts@b free@4 free@1 free@3 free@2 "
        "two@4 two@1 two@2 two@3 even#1 quarter@4 quarter@1 quarter@2 "
        "reached@2 reached@3 reached@1 reached@4 last"
    )


def test_the_prompt_says_stage_figure_and_fastener() -> None:
    found = bench("two@4")
    facts = found.asked.facts
    assert facts[0].startswith("Stage 4 of 7, two: 45 lbf·ft = 61")
    assert found.asked.words.startswith("4, lower row, first from the front: ")
    assert not any(fact.startswith("Fastener") for fact in facts)  # the words say it already
    assert found.asked.view == "map"
    assert any("Order generated" in fact for fact in facts)


def test_a_stage_is_closed_with_one_key_and_its_mark_is_set() -> None:
    found = bench("one@2")
    found.taken("")
    found.taken("stage")
    assert found.at == "fronts@a"
    assert found.state.condition.mark("stage", "head") == "1 of 7"


@pytest.mark.parametrize(
    ("typed", "code"),
    [("80", "angle-under"), ("95", "angle-over"), ("40 thou", "kind"), ("restart", "restart")],
)
def test_an_angle_that_is_not_right_is_stopped(typed: str, code: str) -> None:
    found = bench("quarter@4")
    assert found.refused(typed).code == code


def test_an_angle_within_its_tolerance_is_taken_as_it_is() -> None:
    found = bench("quarter@4")
    found.taken("93")
    assert [f.value for a, f in found.state.facts.items() if str(a) == "quarter@4"] == ["93 deg"]
    found.taken("96 ! the maker allows it")
    assert found.state.overrides[-1].code == "angle-over"


def test_fasteners_that_moved_are_counted_until_none_does() -> None:
    found = bench("even#1")
    assert found.refused("5").code == "count"
    found.taken("3")
    assert found.at == "even#2"
    found.taken("1")
    assert found.at == "even#3"
    stopped = found.refused("1")
    assert stopped.code == "still-moving"
    assert "Suspect the gasket, a thread, or a stud that has bottomed" in stopped.words
    found.taken("1 ! it is the cold one at the end")
    assert found.at == "quarter@4"


def test_a_fastener_below_its_figure_is_renewed_and_done_again_alone() -> None:
    found = bench("reached@2")
    assert found.refused("50").code == "not-reached"
    found.taken("renewed")
    again = []
    while found.at != "reached@2":
        again.append(found.at)
        found.taken("")
    assert again == ["one@2", "free@2", "two@2", "quarter@2"]
    found.taken("64")


def test_beginning_again_wants_a_reason_then_loosens_renews_and_asks_about_the_gasket() -> None:
    found = bench("two@4")
    found.taken("restart ! a bolt squealed")
    assert found.state.condition.mark("stage", "head") is None
    asked = []
    while found.at.startswith("head.loosen"):
        asked.append(found.asked.address.place)
        found.taken("")
    assert asked == ["head.4", "head.1", "head.3", "head.2", "front.b", "front.a"]
    assert (found.at, found.asked.choices) == ("head.renew", ())
    found.taken("")
    assert found.at == "head.gasket"
    found.taken("stays")
    assert found.at == "one@2"


def test_a_new_gasket_opens_its_steps_again() -> None:
    found = bench("two@4")
    found.taken("restart ! a bolt squealed")
    found.taken("stage")
    found.taken("")
    found.taken("renewed")
    assert found.at == "gasket-on"
    assert found.state.condition.mark("head-on") is None


def test_whether_fasteners_are_torque_to_yield_is_asked_and_never_inferred() -> None:
    unknown = SPECS.replace('yield: {value: "yes", source: leaflet}', "yield: {none: yes}")
    found = bench("two@4", unknown)
    found.taken("restart ! a bolt squealed")
    found.taken("stage")
    assert found.asked.choices == ("renewed", "not torque-to-yield")
    never = SPECS.replace('value: "yes"', 'value: "no"')
    found = bench("two@4", never)
    found.taken("restart ! a bolt squealed")
    found.taken("stage")
    assert found.at == "head.gasket"


def test_torques_that_do_not_rise_are_stopped_on_the_spec_sheet() -> None:
    steps = STEPS.replace("    - loosen: free\n      turns: back\n", "")
    figures = FIGURES.replace("back: {kind: number, ask: Turns back?}\n", "")
    specs = SPECS.replace("back: {value: 1, source: leaflet}\n", "")
    late = specs.replace("second: {value: 45 lbf·ft, source: leaflet}\n", "")
    found = small(steps, figures=figures, specs=late, engine=ENGINE)
    assert found.refused("15 lbf·ft; leaflet").code == "rising"
    found.taken("45 lbf·ft; leaflet")


def test_a_wrench_out_of_its_range_is_stopped_once_a_stage() -> None:
    weak = SPECS.replace("10..100 lbf·ft", "5..40 lbf·ft")
    found = bench("two@4", weak)
    assert found.refused("").code == "wrench-range"
    found.taken(" ! it is the only one here")
    found.taken("")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('["4", "1", "2"]', '["4", "1"]', "quarter: the order misses 2"),
        ('["4", "1", "2"]', '["4", "1", "1"]', "quarter: place 1 stands twice in the order"),
        ('["4", "1", "2"]', '["4", "1", "3"]', "quarter: the order names “3”, which is no place"),
        ('["1", "2", "4"]', '["1", "9"]', "quarter: “only” names “9”, no place of the group"),
        ("group: front", 'group: front\n      only: ["a"]', "no torque or angle goes over b of"),
        ("group: front", "group: frnot", "“frnot”, is not there (did you mean “front”?)"),
        ("    - accept: reached", "    - do: reached", "“figure” is no field here"),
        ("- do: last", "- do: even.renew", "the id “even.renew” is the container's own"),
        ("- do: last", "- angle: last\n  figure: turn", "stands in a container “stages” only"),
        ("figure: turn\n", "figure: first\n", "“figure” needs a figure of angle"),
        ("turns: back", "turns: first", "“turns” needs a figure of number or angle"),
    ],
)  # fmt: skip
def test_a_mistake_in_stages_is_told(old: str, new: str, said: str) -> None:
    assert old in STEPS
    with pytest.raises(BuildError) as raised:
        small(STEPS.replace(old, new, 1), figures=FIGURES, engine=ENGINE)
    assert said in str(raised.value)
