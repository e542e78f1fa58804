"""What is typed for a firing order, a camshaft card, an engine; how help says it."""

from collections.abc import Mapping

import pytest

from snugset.trade.asked import as_typed, asked
from snugset.trade.calculator import Form, Input
from snugset.trade.calculators import CALCULATORS, FigureError, figure, shown
from snugset.typed import words

from .amounts import q

CARD = "IVO 12 IVC 48 EVO 52 EVC 10 at seat"
SIX: Mapping[str, str] = {"firing_order": "1-5-3-6-2-4", "camshaft": CARD}


def knows(text: str) -> Mapping[str, str]:
    assert text == "pump"
    return {**SIX, "intervals": "", "stroke": "4.25 in"}


def test_an_engine_serves_what_is_left_blank() -> None:
    by_hand = figure("valves", {**SIX, "angle": "30"})
    by_name = figure("valves", {"engine": " pump ", "angle": "30"}, engines=knows)
    assert by_name == by_hand


def test_what_is_typed_beside_an_engine_comes_first() -> None:
    found = figure(
        "valves",
        {"engine": "pump", "angle": "0", "camshaft": "IVO 12 IVC 48 EVO 52 EVC 10 at .050 in"},
        engines=knows,
    )
    assert "number one: at top on compression, both valves closed" in found.working
    margin = found.outputs["margin"].value
    assert isinstance(margin, Mapping)
    # 35° less at each end of the arc than at the seat.
    assert str(margin["1E"]) == "93 deg"


def test_an_engine_that_cannot_be_looked_up_is_refused() -> None:
    with pytest.raises(FigureError) as refused:
        figure("valves", {"engine": "pump", "angle": "0"})
    assert str(refused.value) == (
        "engine: no engine can be looked up here; give firing_order, intervals, camshaft, angle,"
        " margin instead"
    )


def test_what_the_looking_up_raises_passes_through() -> None:
    def none(text: str) -> Mapping[str, str]:
        raise FileNotFoundError(text)

    with pytest.raises(FileNotFoundError):
        figure("valves", {"engine": "no.yaml", "angle": "0"}, engines=none)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"firing_order": "1-5-3-6-2"},
         "firing_order: “1-5-3-6-2” does not name each cylinder from 1 on once; write 1-5-3-6-2-4"),
        ({"firing_order": "1-1"},
         "firing_order: “1-1” does not name each cylinder from 1 on once; write 1-5-3-6-2-4"),
        ({"firing_order": "one"},
         "firing_order: “one” does not name each cylinder from 1 on once; write 1-5-3-6-2-4"),
        ({"camshaft": "IVO 12 IVC 48 EVO 52 at seat"},
         f"camshaft: EVC is missing; write the card as {CARD}"),
        ({"camshaft": "IVO 12 IVC 48 EVO 52 EVC 10"},
         ("camshaft: the checking lift is missing; end with “at seat”, “at advertised” or “at .050"
          " in”")),
        ({"intervals": "120, 120 deg"},
         "intervals: 2 firing intervals for 6 cylinders; give one each"),
        ({"intervals": "120, 120, 120, 120, 120, 100 deg"},
         "intervals: firing intervals sum to 700°, not to 720°"),
        ({"angle": "9000 deg"}, "angle: 9000 deg; the cycle has 720, give 0 to 720"),
        ({"camshaft": ""},
         ("camshaft: needed: the camshaft card, with its checking lift: seat, advertised or .050"
          f" in; write it as camshaft={CARD}")),
    ],
)  # fmt: skip
def test_a_refusal_names_the_key_and_the_fix(change: Mapping[str, str], message: str) -> None:
    with pytest.raises(FigureError) as refused:
        figure("valves", {**SIX, "angle": "0", **change})
    assert str(refused.value) == message


def test_uneven_intervals_move_the_others() -> None:
    """150 and 90 in turn: three is at its own dead centre 240° after one."""
    found = figure("valves", {**SIX, "intervals": "150, 90, 150, 90, 150, 90", "angle": "240"})
    assert "number three: at top on compression, both valves closed" in found.working
    assert "3" in shown(found.outputs["cylinders"].value).split(", ")


def test_on_the_valves_that_may_be_set_at_a_dead_centre() -> None:
    """TM 5-3895-383-24 p. 6-60: 1-3-4-2 at number one's: intake 1 2, exhaust 1 3."""
    found = figure("valves", {"firing_order": "1-3-4-2", "camshaft": CARD, "angle": "0"})
    free = found.outputs["valves"].value
    assert isinstance(free, tuple)
    assert {"1I", "2I", "1E", "3E"} <= set(free)
    degrees, then = (found.outputs[key].value for key in ("degrees", "next"))
    assert isinstance(degrees, Mapping)
    assert isinstance(then, Mapping)
    # Its exhaust opens 52° before bottom.
    assert (then["1E"], degrees["1E"]) == ("opens", q("128 deg"))


def test_every_form_says_how_it_is_typed() -> None:
    assert len(words(Form)) > 5
    for form in words(Form):
        choices = ("a", "b") if form == "choice" else ()
        assert asked(Input(key="x", words="x", form=form, choices=choices)), form


def test_how_a_key_is_typed() -> None:
    takes, window, *_, state = CALCULATORS["preload"].inputs
    assert asked(takes) == "17+18; 18+18 (thou)"
    assert asked(window) == "low..high (thou), or left out"
    assert asked(state) == "dry|filled|bled, else dry"
    assert asked(CALCULATORS["convert"].inputs[0]) == "a figure with its unit"
    assert as_typed(CALCULATORS["wrench"])[0] == "'torque=300 lbf·in'"
