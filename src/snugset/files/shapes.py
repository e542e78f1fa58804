"""Declarative typed readers: from one declaration come value, mistakes and JSON Schema."""

from snugset.files.amounts import Amount, AmountList, AmountWindow, CamshaftCard
from snugset.files.blocks import Block, Field, ListOf, Located, MapOf
from snugset.files.scalars import Choice, Flag, Number, Pattern, Text, Whole, Word
from snugset.files.shape import Misfit, Schema, Shape

__all__ = [
    "Amount",
    "AmountList",
    "AmountWindow",
    "Block",
    "CamshaftCard",
    "Choice",
    "Field",
    "Flag",
    "ListOf",
    "Located",
    "MapOf",
    "Misfit",
    "Number",
    "Pattern",
    "Schema",
    "Shape",
    "Text",
    "Whole",
    "Word",
]
