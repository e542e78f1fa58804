"""The sheet as JSON: it parses, holds the same facts, and is documented."""

import json
import re
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any, cast

import pytest

from snugset.sheet import Sheet, as_json, sheet_of
from snugset.values import replace

from .conftest import DIGEST
from .driver import Bench, begin

DOC = Path(__file__).parents[2] / "docs" / "build-sheet.md"


@pytest.fixture(scope="module")
def parsed(sheet: Sheet) -> dict[str, Any]:
    def refuse(text: str) -> float:
        raise AssertionError(text)

    return cast("dict[str, Any]", json.loads(as_json(sheet), parse_float=refuse))


def test_it_begins_with_its_version(parsed: dict[str, Any], sheet: Sheet) -> None:
    assert as_json(sheet).startswith('{\n  "snugset": "build-sheet/1",\n  "name": "Pump six",')
    assert parsed["journal"]["digest"] == DIGEST


def test_it_holds_the_same_readings(parsed: dict[str, Any], sheet: Sheet) -> None:
    for found, each in zip(parsed["rounds"], sheet.rounds, strict=True):
        for row, reading in zip(found["readings"], each.readings, strict=True):
            assert row["address"] == reading.address
            assert row["value"] == {"value": f"{reading.value.value:f}", "unit": reading.value.unit}
            assert row["typed"] == reading.typed
            assert row["verdict"] == reading.verdict
    six = parsed["rounds"][1]["readings"][7]
    assert six["address"] == "gap@6E#2"
    assert six["predicted"] == {"value": "38.5", "unit": "thou"}
    assert six["reason"] == "straightedge checked, it is so"


def test_the_summary_names_readings_by_address(parsed: dict[str, Any]) -> None:
    assert parsed["summary"]["doubtful"] == ["gap@6E#2", "deck-flat"]
    assert parsed["summary"]["missing"][0]["reason"] == "plate lent out"
    addresses = {row["address"] for each in parsed["rounds"] for row in each["readings"]}
    assert set(parsed["summary"]["final"]) <= addresses


def test_spec_values_are_structured(parsed: dict[str, Any]) -> None:
    values = {row["name"]: row["value"] for row in parsed["specs"]}
    assert values["head-stages"]["list"][0] == {"value": "30", "unit": "lbf·ft"}
    assert values["preload-window"]["high"] == {"value": "0.060", "unit": "in"}
    assert values["pushrod-catalogue"] == {"step": {"value": "0.020", "unit": "in"}}
    assert values["camshaft"] == {"camshaft": "IVO 10 IVC 46 EVO 50 EVC 8 at seat"}
    assert values["head-thread"] is None


def test_what_went_wrong_is_there(parsed: dict[str, Any]) -> None:
    assert [each["reason"] for each in parsed["overrides"]] == [
        "skimmed twice; allowed by the gasket's maker",
        "one was seen to burn",
        "straightedge checked, it is so",
    ]
    assert [each["text"] for each in parsed["skips"]] == [
        "no mark on this gasket",
        "plate lent out",
    ]
    assert parsed["breaks"][1]["seconds"] == 9 * 86400
    assert parsed["taken_back"][0]["was"] == ["reading 60; 61"]
    assert parsed["asides"][1]["code"] == "old"


def test_the_same_records_give_the_same_bytes(sheet: Sheet, finished: Bench) -> None:
    again = sheet_of(finished.plan, tuple(finished.records), DIGEST)
    assert as_json(again).encode() == as_json(sheet).encode()


def test_the_journal_s_order_of_keys_does_not_matter(sheet: Sheet, finished: Bench) -> None:
    stored = [
        replace(record, body=json.loads(json.dumps(record.body, sort_keys=True)))
        for record in finished.records
    ]
    assert as_json(sheet_of(finished.plan, stored, DIGEST)) == as_json(sheet)


def test_hostile_text_stays_as_it_was_typed() -> None:
    evil = '"}\\ <b> \u202e \x00 \ud7ff'
    bench = begin(evil)
    assert json.loads(as_json(sheet_of(bench.plan, bench.records, DIGEST)))["name"] == evil


def test_a_number_is_decimal_text_and_a_float_is_refused(sheet: Sheet) -> None:
    large = replace(sheet.engine, ratio=Decimal("1E+2"))
    assert json.loads(as_json(replace(sheet, engine=large)))["engine"]["ratio"] == "100"
    wrong = replace(sheet.engine, ratio=1.6)  # type: ignore[arg-type]
    with pytest.raises(TypeError, match="float has no place"):
        as_json(replace(sheet, engine=wrong))


def keys(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        yield from value
    inner: list[object] = []
    if isinstance(value, dict):
        inner = list(value.values())
    elif isinstance(value, list):
        inner = value
    for each in inner:
        yield from keys(each)


def test_every_key_is_documented(parsed: dict[str, Any]) -> None:
    documented = set(re.findall(r"`([a-z_]+)`", DOC.read_text(encoding="utf-8")))
    assert set(keys(parsed)) - documented == set()
