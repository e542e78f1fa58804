"""The fields that every step of a procedure has, whatever its kind."""

from collections.abc import Mapping

from snugset.files.conditions import MOST, ConditionShape
from snugset.files.shapes import Block, Choice, Field, Flag, ListOf, Located, Text, Whole, Word
from snugset.files.steps import VIEWS
from snugset.typed import Any

WORD = Word()
"""An id, as steps have it."""
_LINES = ListOf(Text(400), lone=True)
COMMON: Block[dict[str, Any]] = Block(
    dict,
    {
        "say": Field(Text(), default="", help="What to do, in the trade's words."),
        "why": Field(Text(), default="", help="What it is for."),
        "caution": Field(_LINES, default=(), help="What can go wrong here."),
        "tools": Field(_LINES, default=(), help="What must be at hand."),
        "people": Field(Whole(1, 6), default=1, help="How many persons it takes."),
        "second-look": Field(
            Flag(), default=False, help="Whether another person must confirm that it is done."
        ),
        "needs": Field(
            ListOf(Located(WORD), lone=True), default=(), help="Steps that must be done before."
        ),
        "meanwhile": Field(Flag(), default=False, help="Whether it fits while something waits."),
        "view": Field(Choice(*VIEWS), default="", help="What is shown beside it."),
        "if": Field(
            ListOf(ConditionShape(), lone=True, most=MOST), default=(), help="When it is done."
        ),
    },
)
"""Those that stand beside the fields of the kind."""
USE = "use"
"""The field of an entry that stands for a shared group of steps."""
USED: Block[Mapping[str, Any]] = Block(
    dict,
    {
        USE: Field(WORD, needed=True, help="The shared group whose steps stand here."),
        "if": COMMON.fields["if"],
    },
)
"""An entry that stands for a shared group."""
