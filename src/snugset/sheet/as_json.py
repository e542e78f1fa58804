"""The build sheet as JSON, for programs: docs/build-sheet.md says what stands where."""

import json
from collections.abc import Mapping
from decimal import Decimal

from snugset.files.figures import value_to_json
from snugset.sheet.contents import Sheet, Summary
from snugset.sheet.specs import SpecRow
from snugset.typed import Any
from snugset.units import Quantity
from snugset.values import names

VERSION = "build-sheet/1"
"""Fields may be added under it; none is renamed, removed, or given another meaning."""


def as_json(sheet: Sheet) -> str:
    """Write a sheet as one JSON object, ending in a newline; its keys in an order that holds."""
    whole = {"snugset": VERSION, **plain(sheet)}
    return json.dumps(whole, ensure_ascii=False, allow_nan=False, indent=2) + "\n"


def plain(value: object) -> Any:  # noqa: ANN401 -- plain JSON
    """Give a value as plain JSON; TypeError for what has no place in a sheet, a float above all."""
    match value:
        case None | bool() | int() | str():
            return value
        case Decimal():
            return f"{value:f}"
        case Quantity():
            return value.to_json()
        case tuple():
            return [plain(each) for each in value]
        case SpecRow():
            return {**_fields(value), "value": value_to_json(value.value)}
        case Summary():
            rows = {"final": value.final, "doubtful": value.doubtful}
            by_address = {name: [row.address for row in each] for name, each in rows.items()}
            rest = {
                "missing": value.missing,
                "not_due": value.not_due,
                "not_had": value.not_had,
            }
            return by_address | {name: plain(each) for name, each in rest.items()}
    if names(value):
        return {name: plain(each) for name, each in _fields(value).items()}
    raise TypeError(f"{type(value).__name__} has no place in a build sheet")


def _fields(value: object) -> Mapping[str, object]:
    return {name: getattr(value, name) for name in names(value)}
