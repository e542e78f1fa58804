"""Holds a build sheet against what every one must be: a sound page, JSON by its schema, CSV."""

import csv
import json
import re
from base64 import b64encode
from collections.abc import Iterator
from copy import deepcopy
from hashlib import sha256
from itertools import pairwise
from typing import Any
from xml.etree.ElementTree import Element

import html5lib  # type: ignore[import-untyped]
from jsonschema import Draft202012Validator

from snugset.sheet import Sheet, as_csv, as_json
from snugset.sheet.page import html
from snugset.sheet.schema import sheet_schema

TAGS = frozenset(
    re.findall(
        "[a-z0-9]+",
        "html head meta title style body header main section nav p h1 h2 h3 dl dt dd div ul ol li "
        "a strong small span code bdi br time table caption thead tbody tr th td figure figcaption "
        "img svg desc rect line circle path text",
    )
)
"""All elements that a page has; what people typed adds none."""
LINKS = frozenset({"href", "src", "srcset", "action", "data", "poster", "background", "formaction"})
UNSEEN = re.compile(
    "[\0-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2028\u2029\u2066-\u2069\ufeff"
    "\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff]"
)
"""What HTML forbids, drives a terminal, or turns the direction of reading."""


def name(element: Element) -> str:
    """Give an element's name without its namespace."""
    return str(element.tag).rpartition("}")[2]


def said(element: Element) -> str:
    """Give all text of an element, on one line."""
    return " ".join("".join(element.itertext()).split())


def parsed(text: str) -> Element:
    """Parse a page by the standard's algorithm; any parse error ends it."""
    parser = html5lib.HTMLParser(strict=True)
    root: Element = parser.parse(text)
    assert not parser.errors
    return root


def page_of(sheet: Sheet, attached: dict[str, bytes] | None = None) -> Element:
    """Make the page of a sheet, and see that it is sound."""
    text = html(sheet, attached)
    root = parsed(text)
    every = [each for each in root.iter() if isinstance(each.tag, str)]
    assert {name(each) for each in every} <= TAGS
    assert not UNSEEN.search(text), UNSEEN.search(text)
    _ids(every)
    _outline(every)
    _tables(every)
    _charts(every)
    _closed(every, text)
    return root


def _ids(every: list[Element]) -> None:
    ids = [each.attrib["id"] for each in every if "id" in each.attrib]
    assert len(ids) == len(set(ids))
    for each in every:
        for pointing in ("aria-labelledby", "aria-describedby"):
            for one in each.attrib.get(pointing, "").split():
                assert one in ids, one
        if each.attrib.get("href", "").startswith("#"):
            assert each.attrib["href"][1:] in ids


def _outline(every: list[Element]) -> None:
    """One first heading, and none that skips a level."""
    assert every[0].attrib["lang"] == "en"
    levels = [int(name(each)[1]) for each in every if re.fullmatch("h[1-6]", name(each))]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert all(said(each) for each in every if re.fullmatch("h[1-6]", name(each)))


def _tables(every: list[Element]) -> None:
    """Every table says what it is, heads its columns and rows, and is as wide in every row."""
    tables = [each for each in every if name(each) == "table"]
    assert tables
    for table in tables:
        caption, head, body = list(table)
        assert said(caption)
        assert name(head) == "thead"
        (row,) = head
        assert all(name(cell) == "th" and cell.attrib["scope"] == "col" for cell in row)
        for each in body:
            assert len(each) == len(row), said(caption)
            assert name(each[0]) == "th"
            assert each[0].attrib["scope"] == "row"


def _charts(every: list[Element]) -> None:
    """Every picture is one image to a screen reader, named and told."""
    for chart in (each for each in every if name(each) == "svg"):
        assert chart.attrib["role"] == "img"
        title, told, *_ = list(chart)
        assert (name(title), name(told)) == ("title", "desc")
        assert said(title)
        assert said(told)
        assert "nan" not in "".join(str(v) for each in chart.iter() for v in each.attrib.values())


def _closed(every: list[Element], text: str) -> None:
    """No script, no style but the page's own, nothing asked of anybody."""
    for each in every:
        assert not [key for key in each.attrib if key.startswith("on") or key == "style"]
        for key in LINKS & set(each.attrib):
            assert each.attrib[key].startswith(("#", "data:image/")), each.attrib[key]
    (style,) = [each for each in every if name(each) == "style"]
    assert "url(" not in said(style)
    assert "@import" not in said(style)
    (policy,) = [
        each.attrib["content"]
        for each in every
        if each.attrib.get("http-equiv") == "Content-Security-Policy"
    ]
    digest = b64encode(sha256(style.text.encode() if style.text else b"").digest()).decode()
    assert policy == (
        f"default-src 'none'; style-src 'sha256-{digest}'; img-src data:; base-uri 'none'; "
        "form-action 'none'"
    )
    assert "<script" not in text.lower()


def check_json(sheet: Sheet) -> dict[str, Any]:
    """See that a sheet holds to its schema, and writes no key that the schema does not name."""
    found: dict[str, Any] = json.loads(as_json(sheet))
    for schema in (sheet_schema(), narrow(sheet_schema())):
        wrong = [error.message[:200] for error in Draft202012Validator(schema).iter_errors(found)]
        assert not wrong, wrong[:3]
    return found


def narrow(schema: Any) -> Any:  # noqa: ANN401 - a schema
    """Allow an object no key beyond those named."""
    made = deepcopy(schema)
    for each in _objects(made):
        if "properties" in each:
            each["additionalProperties"] = False
    return made


def _objects(value: Any) -> Iterator[dict[str, Any]]:  # noqa: ANN401 - plain JSON
    if isinstance(value, dict):
        yield value
    for each in value.values() if isinstance(value, dict) else value:
        if isinstance(each, dict | list):
            yield from _objects(each)


def rows_of(sheet: Sheet) -> list[dict[str, str]]:
    """Read the CSV of a sheet back, and see that each row is whole."""
    text = as_csv(sheet)
    assert text.count("\n") == text.count("\r\n")
    assert not UNSEEN.search(text.replace("\r\n", ""))
    head, *lines = csv.reader(text.splitlines(keepends=True), strict=True)
    assert all(len(line) == len(head) for line in lines)
    count = sum(len(each.readings) for each in sheet.rounds)
    assert len(lines) == count + len(sheet.readings) + len(sheet.asides)
    return [dict(zip(head, line, strict=True)) for line in lines]
