"""The clay under the valve cover, and what the builder's own instruments add to a prompt."""

import re

import pytest

from driving import Table, small, table
from snugset.guide.address import Address
from snugset.guide.kinds.feelers import leaves_for
from snugset.guide.offers import offers
from snugset.guide.state import Reading
from snugset.trade.calculators import figure
from snugset.units import Quantity, read, read_list

NO_WRENCH = "  head-wrench:\n    none: yes\n"


def bench(*, under: str = "drawn", old: str = "0.125 in", new: str = "0.1875 in") -> Table:
    """A build at its clay: over a .125 gasket, .060 wanted, crushed 30 %."""
    given = {
        "cover-clearance": "0.060 in",
        "clay-under": under,
        "cover-gasket-old": old,
        "cover-gasket-new": new,
        "cover-gasket-crush": "0.3",
    }

    def edit(text: str) -> str:
        for name, value in given.items():
            entry = f"value: {value}\n    source: tried" if value else "none: yes"
            text, found = re.subn(
                rf"(  {name}:\n)    value: .*\n    source: .*\n", rf"\1    {entry}\n", text
            )
            assert found == 1, name
        return text

    return table(edit=edit).until("clearance")


def reading(at: Table) -> Reading:
    return at.state.readings[Address("clearance")]


def test_the_clearance_is_worked_out_from_clay_and_gaskets() -> None:
    at = bench()
    assert at.asked.facts[-1] == "Drawn down; new gasket 0.1875 in, 30 % crush"
    at.taken(".045")
    found = reading(at)
    assert str(found.value) == "0.0888 in"  # .089, invented case
    assert (found.typed, found.verdict, str(found.low)) == (".045", "in", "0.060 in")
    assert str(found.uncertainty) == "0.005 in"
    formula, judged = found.working
    assert formula == (
        "clearance = clay + new·(1 − crush) − under: "
        "0.045 in + 0.1875 in × (1 − 0.3) − 0.125 in × (1 − 0.3) = 0.0888 in"
    )
    assert judged == "0.0888 in = 2.256 mm ± 0.005 in: in"


def test_a_cover_that_was_only_laid_on_fails_and_the_gasket_that_would_do_is_named() -> None:
    at = bench(under="laid")
    refusal = at.refused(".045")
    assert (refusal.code, refusal.overridable) == ("low", True)
    assert "0.0513 in" in refusal.words
    assert "(at least 0.060 in). A gasket of 0.2072 in or thicker would do." in refusal.words
    assert bench(under="laid", new="0.2072 in").taken(".045").said[-1].endswith(": in")
    at.taken(".045 ! a low baffle, bent up by hand")
    assert (str(reading(at).value), reading(at).verdict) == ("0.0513 in", "low")
    assert reading(at).reason == "a low baffle, bent up by hand"


def test_on_the_bare_head_no_old_gasket_is_needed() -> None:
    at = bench(under="bare", old="")
    at.taken("0.38 mm + 0.02 mm")
    assert str(reading(at).value) == "3.734 mm"
    assert reading(at).working[0].endswith("0.40 mm + 0.1875 in × (1 − 0.3) − 0 = 3.734 mm")


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"new": ""}, "good for a gasket like the old one"),
        ({"under": "bare", "new": ""}, "a gasket only adds to it"),
        ({"under": "laid", "old": ""}, "a gasket drawn down leaves less"),
    ],
)
def test_without_the_gaskets_figures_the_clay_is_judged_as_it_is(
    changed: dict[str, str], said: str
) -> None:
    at = bench(**changed)
    assert at.asked.facts[-1].startswith("The clay alone is judged; ")
    assert said in at.asked.facts[-1]
    assert at.asked.calculator == "decide"
    assert at.refused(".045").code == "low"
    assert at.refused(".058").code == "not-proved"
    at.taken(".070")
    assert (str(reading(at).value), reading(at).verdict) == ("0.070 in", "in")


def test_the_prompts_calculator_says_what_is_recorded() -> None:
    at = bench()
    asked = at.asked
    result = figure(asked.calculator, {**asked.inputs, asked.reading_key: ".045"})
    at.taken(".045")
    assert result.outputs["clearance"].value == reading(at).value
    assert result.outputs["verdict"].value == reading(at).verdict


def test_a_slip_of_the_unit_is_stopped_before_the_gaskets_hide_it() -> None:
    refusal = bench().refused("45")
    assert refusal.code == "factor"
    assert any("45 thou" in text for text in refusal.suggest)


def test_a_gasket_given_again_asks_for_the_clay_again() -> None:
    at = bench()
    at.taken(".045")
    decision = at.taken("again 0.150 in; the thinner one", at="spec.cover-gasket-new")
    assert "clearance is to be worked out again" in " ".join(decision.said)
    assert Address("clearance") not in at.state.readings
    assert at.at == "clearance"
    at.taken(".045")
    assert (str(reading(at).value), reading(at).verdict) == ("0.0625 in", "inside")


@pytest.mark.parametrize(
    ("address", "said"),
    [
        ("head-tighten@1.11", "Wrench: 4 % of reading, checked last spring"),
        ("rocker-final@1", "Wrench: 4 % of reading, checked last spring"),
        ("cover-tighten@1.5", "Wrench: 4 % of reading by its leaflet, never checked"),
    ],
)
def test_torque_prompts_say_what_the_wrench_is_good_for(address: str, said: str) -> None:
    assert table().until(address).asked.facts[1] == said


def test_a_wrench_that_is_not_had_says_nothing() -> None:
    at = table(edit=lambda text: re.sub(r"  head-wrench:\n(    .*\n)+", NO_WRENCH, text))
    assert not [f for f in at.until("head-tighten@1.11").asked.facts if f.startswith("Wrench")]


def test_the_leaves_for_the_target_come_from_the_builders_own_set() -> None:
    at = table().until("gap@1I#1")
    assert "Leaves for it: 38 thou" in at.asked.facts
    owned = ", ".join(str(n) for n in (5, 12, 17, 25, *range(41, 46)))
    at.taken(f"again {owned} thou; what is left of it", at="spec.feeler-set")
    assert "Leaves for it, nearest: 25+12 = 37 thou" in at.asked.facts
    at.taken("again none", at="spec.feeler-set")
    assert not [fact for fact in at.asked.facts if fact.startswith("Leaves for it")]


def test_leaves_are_looked_for_in_a_set_of_any_size_and_unit() -> None:
    def leaves(text: str) -> tuple[Quantity, ...]:
        return read_list(text, unit="thou", kind="length")

    many = leaves(", ".join(str(n) for n in range(1, 61)))
    assert leaves_for(read("35.5 thou", unit="thou"), many) == ("Leaves for it, nearest: 35 thou",)
    metric = leaves("0.05, 0.10, 0.20, 0.50 mm")
    assert leaves_for(read("0.7 mm", unit="mm"), metric) == ("Leaves for it: 0.50+0.20 mm",)
    thick = leaves("50, 60 thou")
    assert leaves_for(read("38 thou", unit="thou"), thick) == ("Leaves for it, nearest: 50 thou",)


OVER_A_PISTON = """\
- clay: room
  figure: room
  unit: in
  at-least: wanted
  doubt: 0.005 in
  gasket-old: tried
  gasket-new: new
"""
GASKETS = """\
wanted: {kind: length, unit: in, ask: How much room?}
tried: {kind: length, unit: in, ask: The old gasket?, none: The clay alone.}
new: {kind: length, unit: in, ask: The new gasket?, none: The clay alone.}
"""


def over_a_piston(tried: str = "{value: 0.060 in, source: tried}") -> Table:
    given = "wanted: {value: 0.080 in, source: tried}\nnew: {value: 0.051 in, source: tried}\n"
    return small(OVER_A_PISTON, figures=GASKETS, specs=f"{given}tried: {tried}")


def test_clay_over_a_piston_loses_what_the_new_head_gasket_is_thinner() -> None:
    at = over_a_piston()
    assert at.asked.facts[-1] == (
        "Pressed on a gasket of 0.060 in, the new one has 0.051 in, both compressed"
    )
    assert at.asked.calculator == ""
    at.taken(".127")
    found = at.state.readings[Address("room")]
    assert (str(found.value), found.verdict) == ("0.118 in", "in")
    assert found.working[0] == (
        "room = clay + new gasket − old gasket, compressed: "
        "0.127 in + 0.051 in − 0.060 in = 0.118 in"
    )


def test_room_that_the_thinner_gasket_takes_away_is_stopped() -> None:
    at = over_a_piston()
    refusal = at.refused(".082")  # enough for the old gasket alone
    assert refusal.code == "low"
    assert "0.073 in" in refusal.words


def test_clay_over_a_piston_is_judged_alone_where_a_gasket_is_not_known() -> None:
    at = over_a_piston("{none: yes}")
    assert at.asked.facts[-1] == "The clay alone is judged; good for a gasket like the old one."
    at.taken(".127")
    assert str(at.state.readings[Address("room")].value) == "0.127 in"


def test_a_head_s_gaskets_are_not_offered_for_a_cover() -> None:
    at = over_a_piston()
    assert "gasket_old" not in offers(at.plan, at.state, None, "cover")
    cover = bench()
    assert offers(cover.plan, cover.state, None, "cover")["gasket_old"].text == "0.125 in"
