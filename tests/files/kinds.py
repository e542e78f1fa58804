"""A few step kinds, for tests of the reader."""

from snugset.files.procedure import KindBlock
from snugset.files.shapes import Block, Choice, Field, Text, Whole, Word

KINDS = {
    "do": KindBlock(name="do", block=Block(dict, {"count": Field(Text(), default="")})),
    "read": KindBlock(name="read", block=Block(dict, {"times": Field(Whole(1, 3), default=1)})),
    "judge": KindBlock(name="judge", block=Block(dict, {})),
    "torque": KindBlock(name="torque", block=Block(dict, {"read": Field(Word(), default="")})),
    "each": KindBlock(
        name="each",
        block=Block(
            dict, {"over": Field(Choice("fasteners", "cylinders"), needed=True, help="What.")}
        ),
        children=("steps",),
    ),
    "rounds": KindBlock(
        name="rounds",
        block=Block(dict, {}),
        children=("steps", "judge", "again"),
        optional=("again",),
    ),
}
