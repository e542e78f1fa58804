"""A JSON Schema of the build sheet, from the same values that it is written from."""

from collections.abc import Mapping
from decimal import Decimal
from types import NoneType, UnionType
from typing import get_args, get_origin, get_type_hints

from snugset.sheet.as_json import VERSION
from snugset.sheet.contents import Sheet, Summary
from snugset.sheet.specs import SpecRow
from snugset.typed import Any, words
from snugset.units import Quantity
from snugset.values import names

Schema = dict[str, Any]
_TEXT: Schema = {"type": "string"}
_DECIMAL: Schema = {"type": "string", "pattern": "^-?[0-9]+(\\.[0-9]+)?$"}
_QUANTITY: Schema = {
    "type": "object",
    "required": ["value", "unit"],
    "properties": {"value": _DECIMAL, "unit": _TEXT},
}
_HELD: Schema = {"$ref": "#/$defs/Quantity"}
_VALUE: Schema = {
    "description": "a spec's value: a quantity, a window, a list, a step, a card, a text, or null",
    "anyOf": [
        _HELD,
        {
            "type": "object",
            "required": ["low", "high"],
            "properties": {"low": _HELD, "high": _HELD},
        },
        {
            "type": "object",
            "required": ["list"],
            "properties": {"list": {"type": "array", "items": _HELD}},
        },
        {"type": "object", "required": ["step"], "properties": {"step": _HELD}},
        {"type": "object", "required": ["camshaft"], "properties": {"camshaft": _TEXT}},
        {"type": ["string", "null"]},
    ],
}
_ADDRESSES: Schema = {"type": "array", "items": _TEXT}
_OTHERWISE: Mapping[tuple[type, str], Schema] = {
    (SpecRow, "value"): {"$ref": "#/$defs/Value"},
    (Summary, "final"): _ADDRESSES,
    (Summary, "doubtful"): _ADDRESSES,
}
"""What is written in another way than its type says."""


def sheet_schema() -> Schema:
    """Give the schema of a sheet in its present version; keys that it does not name are allowed."""
    known: dict[str, Schema] = {"Quantity": _QUANTITY, "Value": _VALUE}
    whole = _object(Sheet, known)
    return {
        "description": "A build sheet, as “snugset sheet BUILD --as json” writes it.",
        "type": "object",
        "required": ["snugset", *whole["required"]],
        "properties": {"snugset": {"const": VERSION}, **whole["properties"]},
        "$defs": dict(sorted(known.items())),
    }


def _object(made: type, known: dict[str, Schema]) -> Schema:
    hints = get_type_hints(made)
    named = names(made)
    return {
        "type": "object",
        "required": list(named),
        "properties": {
            name: _OTHERWISE.get((made, name)) or _schema(hints[name], known) for name in named
        },
    }


def _schema(hint: Any, known: dict[str, Schema]) -> Schema:  # noqa: ANN401 - any annotation
    simple: Mapping[object, Schema] = {
        str: _TEXT,
        int: {"type": "integer"},
        bool: {"type": "boolean"},
        NoneType: {"type": "null"},
        Decimal: _DECIMAL,
        Quantity: _HELD,
    }
    if hint in simple:
        return simple[hint]
    if only := words(hint):
        return {"enum": list(only)}
    if isinstance(hint, UnionType):
        return {"anyOf": [_schema(each, known) for each in get_args(hint)]}
    if get_origin(hint) is tuple:
        return {"type": "array", "items": _schema(get_args(hint)[0], known)}
    if isinstance(hint, type) and names(hint):
        if hint.__name__ not in known:
            known[hint.__name__] = {}  # a place held, for values that hold their own kind
            known[hint.__name__] = _object(hint, known)
        return {"$ref": f"#/$defs/{hint.__name__}"}
    raise TypeError(f"{hint} has no place in a build sheet")
