"""rounds: measure every place, judge, change the pushrods, measure again until it is accepted."""

from collections.abc import Iterator
from itertools import count

from snugset.files.shapes import Block, Field, Word
from snugset.files.steps import KindBlock, Step
from snugset.guide.kinds.kind import Kind, Unfold
from snugset.guide.scene import Occurrence, Scene
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Rounds:
    """The block of a rounds container."""

    figure: str


BLOCK = KindBlock(
    name="rounds",
    block=Block(Rounds, {"figure": Field(Word(), needed=True, help="the ledger it fills")}),
    children=("steps", "judge", "again"),
)


def _walk(step: Step, scene: Scene, unfold: Unfold) -> Iterator[Occurrence]:
    for number in count(1):
        here = scene.at(rounds=step, round=number)
        yield from unfold(step.children["steps"], here)
        judge = step.children["judge"][0]
        yield from unfold((judge,), here)
        fact = scene.state.facts.get(here.address(judge))
        if fact is None or fact.value != "order":
            return
        yield from unfold(step.children["again"], here)


KIND = Kind(name="rounds", block=BLOCK, walk=_walk)
