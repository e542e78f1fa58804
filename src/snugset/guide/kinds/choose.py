"""choose: a question, and the steps that its answer leads to."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import ClassVar

from snugset.files.shapes import Block, Field, Word
from snugset.files.steps import KindBlock, Step
from snugset.guide.answer import Answer
from snugset.guide.conditions import chosen, settled
from snugset.guide.kinds.do import pick
from snugset.guide.kinds.kind import Kind, Unfold, prompt_for
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling
from snugset.guide.scene import Occurrence, Scene


@dataclass(frozen=True, slots=True, kw_only=True)
class Choose:
    """The block of a choose container."""

    FIGURES: ClassVar[Mapping[str, str]] = {"figure": "choice"}

    figure: str = ""


BLOCK = KindBlock(
    name="choose",
    block=Block(
        Choose,
        {"figure": Field(Word(), default="", help="the choice that settles it, where it is had")},
    ),
    branches="options",
)


def _walk(step: Step, scene: Scene, unfold: Unfold) -> Iterator[Occurrence]:
    address = scene.address(step)
    if not settled(step, scene.state):
        yield Occurrence(step=step, address=address, scene=scene, open=not scene.closed(address))
    yield from unfold(step.children.get(chosen(step, scene.state, address), ()), scene)


def _ask(found: Occurrence) -> Prompt:
    return prompt_for(found, asks="choice", choices=tuple(found.step.children))


def _decide(found: Occurrence, answer: Answer) -> Decision:
    ruling = Ruling(answer, found.address)
    value = pick(answer.text, tuple(found.step.children))
    ruling.done(value)
    ruling.said.append(f"{found.place or found.step.id}: {value}")
    return ruling.decision()


KIND = Kind(name="choose", block=BLOCK, walk=_walk, ask=_ask, decide=_decide)
