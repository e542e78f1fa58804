"""The page: sound, complete, and deaf to whatever people and files put into it."""

import re
from base64 import b64encode
from typing import Any

import pytest

from paper import check_json, name, page_of, rows_of, said
from snugset.sheet import Sheet, sheet_of
from snugset.sheet.page import html
from snugset.sheet.photographs import Photograph
from snugset.units import Quantity
from snugset.values import names, replace

from .conftest import DIGEST
from .driver import begin

EVIL = (
    "</td></title></style></svg><script>alert(1)</script><img src=x onerror=alert(2)>"
    "\"'` &lt;b&gt; &#60; {{ 7 * 7 }} {% x %} javascript:alert(3) http://x.example/ ]]>-->"
    "\u202egnp\u202c\u2066\x00\x1b[31m\x07\x9b\ud800\ufdd0\ufffe\U0001ffff\ufeff\u2028\r\n\t"
)
_KEPT = frozenset(
    {"address", "addresses", "step", "steps", "stood", "voided", "state", "outcome", "how", "kind"}
)
"""Never a person's words: ids that the reader of a file lets through, and closed sets."""
_EXACT = re.compile(r"-?\d+(\.\d+)?|\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ|")


def poisoned(value: Any, key: str = "") -> Any:  # noqa: ANN401 - any part of a sheet
    """Put hostile text before every text of a sheet, the same wherever the text is the same."""
    if isinstance(value, str):
        return value if key in _KEPT or _EXACT.fullmatch(value) else EVIL + value
    if isinstance(value, tuple):
        return tuple(poisoned(each, key) for each in value)
    if names(value) and not isinstance(value, type | Quantity):
        made = {each: poisoned(getattr(value, each), each) for each in names(value)}
        return replace(value, **made)
    return value


@pytest.fixture(scope="module")
def evil(sheet: Sheet) -> Sheet:
    found = poisoned(sheet)
    assert isinstance(found, Sheet)
    return found


def test_the_page_of_an_eventful_build_is_sound_and_says_it_all(sheet: Sheet) -> None:
    text = said(page_of(sheet))
    for words in (
        "Pump six",
        "Wren, Ash",
        "skimmed twice; allowed by the gasket's maker",
        "no mark on this gasket",
        "straightedge checked, it is so",
        "it weeps",
        "wet through not as on the map",
        "9 days later",
        "overall, over the oil-hole ends",
        "10.300 in = 261.62 mm",
        "Not measured",
        "plate lent out",
        "Answers taken back",
        "reading 60; 61",
        DIGEST,
        "snugset verify",
    ):
        assert words in text, words
    for row in sheet.specs:
        assert row.name in text
        assert row.source in text
    for each in sheet.instruments:
        assert f"{each.figure} " in text


def test_every_reading_stands_in_a_table(sheet: Sheet) -> None:
    tables = [" ".join(map(said, e)) for e in page_of(sheet).iter() if name(e) == "tr"]
    for each in sheet.rounds:
        for row in each.readings:
            begin_with = f"{row.place} {row.value.value:f}"
            assert any(line.startswith(begin_with) for line in tables), begin_with
    for row in sheet.readings:
        assert any(line.startswith(row.address) for line in tables), row.address


def test_a_build_that_has_only_begun_has_a_page() -> None:
    bench = begin()
    root = page_of(sheet_of(bench.plan, bench.records, DIGEST))
    assert "▲ not finished" in said(root)


def test_the_same_sheet_gives_the_same_page(sheet: Sheet) -> None:
    assert html(sheet) == html(sheet)


def test_hostile_text_in_every_field_is_but_text(evil: Sheet) -> None:
    root = page_of(evil)
    (title,) = [each for each in root.iter() if name(each) == "h1"]
    assert said(title).startswith("</td></title></style></svg><script>alert(1)</script><img src=x")
    assert "{{ 7 * 7 }} {% x %}" in said(title)
    pictures = [said(each) for each in root.iter() if name(each) == "svg"]
    assert pictures
    assert all("<script>alert(1)</script>" in each for each in pictures)


def test_hostile_text_does_nothing_in_rows_and_json(evil: Sheet) -> None:
    assert rows_of(evil)[0]["build"].startswith("</td></title>")
    check_json(evil)


def test_a_note_that_begins_like_a_formula_gets_a_mark_before_it(sheet: Sheet) -> None:
    (first, *_), *_ = [each.readings for each in sheet.rounds]
    for begun in ("=1+1", "+1", "-1", "@x", "\uff1d1", "'=1"):
        spoilt = replace(first, typed=begun, person=begun)
        rounds = (replace(sheet.rounds[0], readings=(spoilt,)), *sheet.rounds[1:])
        row = rows_of(replace(sheet, rounds=rounds))[0]
        assert row["typed"] == row["person"] == f"'{begun}"


def test_rows_hold_what_the_sheet_holds(sheet: Sheet) -> None:
    rows = rows_of(sheet)
    readings = [row for each in sheet.rounds for row in each.readings] + list(sheet.readings)
    for row, reading in zip(rows, readings, strict=False):
        assert (row["stands"], row["address"]) == ("yes", reading.address)
        assert (row["value"], row["value_unit"]) == (f"{reading.value.value:f}", reading.value.unit)
        assert (row["verdict"], row["at"]) == (reading.verdict, reading.at)
        assert row["uncertainty"] == (
            f"{reading.uncertainty.value:f}" if reading.uncertainty else ""
        )
    assert [row["stands"] for row in rows[len(readings) :]] == [each.how for each in sheet.asides]


def test_a_sheet_that_breaks_its_schema_is_caught(sheet: Sheet) -> None:
    broken = replace(sheet, begun=7)  # type: ignore[arg-type]
    with pytest.raises(AssertionError, match="7 is not of type 'string'"):
        check_json(broken)


def _photo(name: str, media: str, caption: str) -> Photograph:
    return Photograph(
        name=name,
        digest=name[0] * 64,
        media=media,
        size=4,
        caption=caption,
        address="deck-flat",
        where="",
        phase="",
        at="2026-03-07T10:00:00Z",
        person="Wren",
    )


def test_a_photograph_stands_in_the_page_itself(sheet: Sheet) -> None:
    photos = (
        _photo("a.png", "image/png", 'gasket" onload="x'),
        _photo("b.heic", "image/heic", "deck"),
        _photo("c.png", "image/png", "lost"),
        _photo("d", 'image/png" onerror="x', ""),
    )
    pictured = replace(sheet, photographs=photos)
    every = {photo.digest: b"\x89PNG" for photo in photos if photo.name != "c.png"}
    root = page_of(pictured, every)
    (image,) = [each for each in root.iter() if name(each) == "img"]
    assert image.attrib == {
        "src": "data:image/png;base64," + b64encode(every["a" * 64]).decode(),
        "alt": 'gasket" onload="x',
    }
    figures = [said(e) for e in root.iter() if e.attrib.get("class") == "photo"]
    assert [("not shown here" in each) for each in figures] == [False, True, True, True]
    assert all(photo.digest in each for photo, each in zip(photos, figures, strict=True))
