"""The order list: what, by difference from which, how many, and what is renewed."""

import json
from functools import cache

from driving import Table, entries, small, table
from snugset.files.answers import Say
from snugset.sheet.order import OrderList, order_of
from snugset.sheet.order_text import WIDTH, order_json, order_text
from snugset.values import replace


def _list(bench: Table) -> OrderList:
    return order_of(bench.plan, bench.records)


@cache
def _at_the_order() -> Table:
    return table().until("post#1")


def _ordered() -> Table:
    """Give the demo build as it stands when its pushrods are to be ordered, to go on with."""
    told = _at_the_order()
    return replace(told, records=list(told.records))


def test_before_a_round_is_judged_nothing_is_decided() -> None:
    found = _list(table())
    assert (found.pushrods, found.renewals) == (None, ())
    text = order_text(found)
    assert "No round of readings is judged yet" in text
    assert "Nothing is to be ordered." in text


def test_an_order_says_how_many_by_what_difference_from_which_and_why() -> None:
    """By hand: 10.340 in hand, 0.040 shorter is 10.300; readings 70.5 to 84.5 less 40 thou."""
    bench = _ordered()
    found = _list(bench).pushrods
    assert found is not None
    assert (found.status, found.convention, str(found.tolerance)) == (
        "to-order",
        "overall",
        "0.002 in",
    )
    (line,) = found.lines
    assert (line.count, str(line.length), str(line.change)) == (12, "10.300 in", "−0.040 in")
    assert str(line.measured) == "10.340 in"
    assert line.read is not None
    assert line.predicted is not None
    assert [str(q) for q in (*line.read, *line.predicted)] == [
        "70.5 thou",
        "84.5 thou",
        "30.5 thou",
        "44.5 thou",
    ]
    text = order_text(_list(bench))
    assert "  12 x 10.300 in = 261.62 mm\n" in text
    assert "0.040 in shorter than the measured one of 10.340 in" in text
    assert "Length convention: overall" in text
    assert "Tolerance: 0.002 in either way" in text


def test_it_tells_how_far_the_order_has_come() -> None:
    bench = _ordered()
    seen: list[str] = ["to-order"]
    for entry in list(entries())[bench.position :]:
        bench.enter(entry)
        if isinstance(entry, Say) and entry.at.startswith(("post", "old-away", "lengths")):
            found = _list(bench).pushrods
            seen.append("accepted" if found is None else found.status)
    assert list(dict.fromkeys(seen)) == [
        "to-order",
        "waited-for",
        "arrived",
        "fitted",
        "accepted",
    ]


def test_it_fits_a_message_whatever_people_typed() -> None:
    evil = "overall × [b]‘x’<i>é " + "y" * 120
    bench = table(edit=lambda t: t.replace("assumes: overall", f'assumes: "{evil[:60]}"'))
    text = order_text(_list(bench.until("post#1")))
    assert max(map(len, text.splitlines())) <= WIDTH
    assert not set("×·±°–—−…“”‘’²³\t\x1b") & set(text)
    assert text.endswith("\n")


def test_as_json_it_is_plain_and_versioned() -> None:
    whole = json.loads(order_json(_list(_ordered())))
    assert whole["snugset"] == "order-list/1"
    line = whole["pushrods"]["lines"][0]
    assert (line["count"], line["change"]) == (12, {"value": "-0.040", "unit": "in"})
    assert list(whole) == [
        "snugset",
        "build",
        "engine",
        "as_of",
        "pushrods",
        "renewals",
        "none",
    ]


STAGES = """\
- do: lay-gasket
- stages: down
  group: head
  yield: stretch
  gasket: lay-gasket
  steps:
    - torque-to: first
      figure: torque
    - torque-to: second
      figure: more
"""
FIGURES = """\
stretch: {kind: choice, choices: ["yes", "no"], ask: Torque-to-yield?, none: It is asked.}
torque: {kind: torque, unit: lbf·ft, ask: First?}
more: {kind: torque, unit: lbf·ft, ask: Second?}
"""
SPECS = """\
stretch: {value: "yes", source: leaflet}
torque: {value: "30", source: leaflet}
more: {value: "60", source: leaflet}
"""


def _stretched(specs: str = SPECS) -> Table:
    return small(STAGES, figures=FIGURES, specs=specs)


def test_fasteners_that_stretch_are_ordered_new_until_they_are_in() -> None:
    bench = _stretched()
    (first,) = _list(bench).renewals
    assert (first.what, first.count) == ("head studs", 14)
    assert first.detail == ("3 x 5.625 in = 142.875 mm", "11 x 4.375 in = 111.125 mm")
    assert first.why == "torque-to-yield: used once"
    assert "RENEW: 14 x head studs" in order_text(_list(bench))
    bench.until_step("first@4")
    assert _list(bench).renewals == ()


def test_fasteners_that_do_not_stretch_are_not_ordered() -> None:
    assert _list(_stretched(SPECS.replace('"yes"', '"no"'))).renewals == ()


def test_beginning_again_wants_new_fasteners_and_perhaps_a_gasket() -> None:
    bench = _stretched()
    bench.until_step("first@4")
    bench.taken("restart ! it slipped")
    studs, gasket = _list(bench).renewals
    assert studs.why == "begun again (it slipped); torque-to-yield: used once"
    assert studs.address == "down.renew"
    assert (gasket.what, gasket.count) == ("head gasket", 1)
    assert "ask its maker" in gasket.why
    bench.taken("stage")
    bench.taken("")
    assert bench.at == "down.gasket"
    assert [each.what for each in _list(bench).renewals] == ["head gasket"]
    bench.taken("renewed")
    (gasket,) = _list(bench).renewals
    assert gasket.why == "it was clamped and let go, and is renewed"
    bench.taken("")
    assert _list(bench).renewals == ()


def test_a_gasket_that_stays_is_not_ordered() -> None:
    bench = _stretched()
    bench.until_step("first@4")
    bench.taken("restart ! it slipped")
    bench.taken("stage")
    bench.taken("")
    bench.taken("stays")
    assert _list(bench).renewals == ()


def test_taking_back_takes_it_off_the_list() -> None:
    bench = _ordered()
    while bench.at != "lengths#1":
        bench.taken("back")
    assert _list(bench).pushrods is None
