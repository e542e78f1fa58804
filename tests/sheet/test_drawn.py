"""The charts hold the figures: where a mark stands is what was read."""

from decimal import Decimal
from itertools import combinations
from math import hypot, isclose
from xml.etree.ElementTree import Element, fromstring

from hypothesis import given
from hypothesis import strategies as st

from snugset.sheet import Sheet
from snugset.sheet.drawn import Svg, crank, holes, ledger, stages
from snugset.sheet.drawn.ledger import MOST
from snugset.sheet.drawn.scale import Scale, nice
from snugset.sheet.drawn.stages import Row
from snugset.sheet.drawn.svg import element, plain
from snugset.sheet.readings import ReadingRow
from snugset.units import Quantity
from snugset.values import replace


def drawn(picture: Svg) -> Element:
    return fromstring(picture)  # noqa: S314 - made here


def of(root: Element, tag: str, look: str) -> list[Element]:
    return [each for each in root.iter(tag) if each.attrib.get("class") == look]


def number(each: Element, key: str) -> float:
    return float(each.attrib[key])


def test_a_reading_stands_between_the_limits_as_it_does_in_figures(sheet: Sheet) -> None:
    rows = sheet.rounds[1].readings
    root = drawn(ledger("x", "Preload", rows)[0])
    high, low = sorted(number(each, "y1") for each in of(root, "line", "limit"))
    marks = of(root, "circle", "mark")
    assert len(marks) == len(rows)
    for mark, row in zip(marks, rows, strict=True):
        assert row.low is not None
        assert row.high is not None
        bottom, top = row.low.in_("thou"), row.high.in_("thou")
        share = float((row.value.in_("thou") - bottom) / (top - bottom))
        assert isclose((low - number(mark, "cy")) / (low - high), share, abs_tol=0.002)


def test_a_whisker_is_as_long_as_the_doubt(sheet: Sheet) -> None:
    rows = sheet.rounds[1].readings
    root = drawn(ledger("x", "Preload", rows)[0])
    high, low = sorted(number(each, "y1") for each in of(root, "line", "limit"))
    thou = (low - high) / 40  # the window is 0.020 to 0.060 in
    upright = [e for e in of(root, "line", "whisker") if e.attrib["x1"] == e.attrib["x2"]]
    for whisker, row in zip(upright, rows, strict=True):
        assert row.uncertainty is not None
        long = 2 * float(row.uncertainty.in_("thou")) * thou
        assert isclose(number(whisker, "y2") - number(whisker, "y1"), long, abs_tol=0.3)


def test_rounds_are_told_apart_by_number_and_fill(sheet: Sheet) -> None:
    rows = [row for each in sheet.rounds for row in each.readings]
    root = drawn(ledger("x", "Preload", rows)[0])
    newest = {row.place: row.round for row in rows}
    assert len(of(root, "circle", "mark")) == len(newest)
    assert len(of(root, "circle", "mark earlier")) == len(rows) - len(newest)
    assert {each.text for each in of(root, "text", "in-mark earlier")} == {"1"}


def test_many_places_are_shared_out_among_pictures(sheet: Sheet) -> None:
    (row, *_) = sheet.rounds[0].readings
    rows = [replace(row, place=f"{n}I") for n in range(1, 2 * MOST + 2)]
    parts = [drawn(each) for each in ledger("x", "Preload", rows)]
    assert [len(of(each, "circle", "mark")) for each in parts] == [MOST, MOST, 1]
    assert len({each.attrib["id"] for each in parts}) == 3


def test_a_ledger_without_limit_or_doubt_is_drawn(sheet: Sheet) -> None:
    (row, *_) = sheet.rounds[0].readings
    bare: ReadingRow = replace(row, low=None, high=None, uncertainty=None, verdict="loose")
    root = drawn(ledger("x", "Bare", [bare])[0])
    assert not of(root, "line", "limit")
    assert len(of(root, "rect", "mark")) == 1
    assert ledger("x", "None", []) == ()


def test_closed_spans_are_drawn_whole_round_the_cycle(sheet: Sheet) -> None:
    (points, *_) = sheet.points
    root = drawn(crank("x", "Crank", points))
    bars = of(root, "rect", "closed")
    scale = (number(bars[0], "width"), points.closed)
    assert scale
    degrees = sum(float(each.high.value - each.low.value) for each in points.closed)
    drawn_wide = sum(number(each, "width") for each in bars)
    grid = [number(each, "x1") for each in root.iter("line") if each.attrib["class"] == "grid"]
    assert isclose(drawn_wide, degrees * (max(grid) - min(grid)) / 720, rel_tol=0.005)
    assert min(number(each, "x") for each in bars) >= min(grid)
    marks = list(root.iter("path"))
    assert len(marks) == sum(len(point.places) for point in points.points)


def test_the_map_is_to_scale(sheet: Sheet) -> None:
    (group, *_) = sheet.fasteners
    root = drawn(holes("x", "Map", group))
    spots = [(number(e, "cx"), number(e, "cy")) for e in of(root, "circle", "hole")]
    real = [(float(f.x.in_("in")), float(f.y.in_("in"))) for f in group.fasteners]
    ratios = [
        hypot(a[0] - b[0], a[1] - b[1]) / hypot(c[0] - d[0], c[1] - d[1])
        for (a, b), (c, d) in zip(combinations(spots, 2), combinations(real, 2), strict=True)
    ]
    assert max(ratios) / min(ratios) < 1.01
    wet = [f for f in group.fasteners if "wet" in (f.hole.value if f.hole else f.mapped)]
    assert len(of(root, "circle", "wet")) == len(wet) > 0


def test_a_single_fastener_has_a_map(sheet: Sheet) -> None:
    (group, *_) = sheet.fasteners
    one = replace(group, fasteners=group.fasteners[:1], order=(group.fasteners[0].key,))
    assert len(of(drawn(holes("x", "Map", one)), "circle", "hole")) == 1


def test_stages_stand_in_time_and_breaks_are_cut_out() -> None:
    rows = [
        Row(name="1", times=("2026-03-06T10:00:00Z", "2026-03-06T10:10:00Z"), of=2),
        Row(name="2", times=("2026-03-08T10:30:00Z",), undone=("2026-03-06T10:05:00Z",), of=2),
    ]
    root = drawn(stages("x", "Stages", rows))
    first, last, later = [number(e, "x1") for e in of(root, "line", "stroke")]
    (again,) = [number(e, "x1") for e in of(root, "line", "stroke earlier")]
    assert isclose(again, (first + last) / 2, abs_tol=0.2)
    (gap,) = of(root, "rect", "break")
    assert last < number(gap, "x") < number(gap, "x") + number(gap, "width") < later
    assert "2 days" in {each.text for each in root.iter("text")}


@given(st.floats(-1e6, 1e6), st.floats(1e-4, 1e6))
def test_round_figures_lie_in_the_span_and_are_few(low: float, wide: float) -> None:
    found = list(nice(low, low + wide))
    assert all(low - wide * 1e-6 <= each <= low + wide * (1 + 1e-6) for each in found)
    assert 1 <= len(found) <= 8


def test_a_scale_of_one_figure_has_it_in_the_middle() -> None:
    scale = Scale.over((5.0, 5.0), (100.0, 0.0))
    assert scale(5.0) == 50.0


@given(st.text())
def test_any_text_in_a_picture_is_but_text(words: str) -> None:
    found = fromstring(element("text", text=words, id=words))  # noqa: S314 - made here
    assert (found.text or "") == plain(words)
    assert found.attrib["id"] == plain(words)
    assert not list(found)


def test_a_limit_in_another_unit_stands_where_it_should(sheet: Sheet) -> None:
    (row, *_) = sheet.rounds[1].readings
    metric = replace(
        row, low=Quantity(Decimal("0.508"), "mm"), high=Quantity(Decimal("1.524"), "mm")
    )
    assert ledger("x", "P", [metric]) == ledger("x", "P", [row])
