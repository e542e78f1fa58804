"""choose: a question, and the steps that its answer leads to."""

from collections.abc import Iterator, Mapping
from typing import ClassVar

from snugset.files.naming import every_step
from snugset.files.problems import one_of
from snugset.files.shapes import Block, Field, Word
from snugset.files.steps import KindBlock, Step
from snugset.guide.address import Address
from snugset.guide.answer import Answer
from snugset.guide.kinds.do import pick
from snugset.guide.kinds.kind import Kind, Unfold, prompt_for
from snugset.guide.kinds.setting import Crank, too_thin
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.guide.state import State
from snugset.values import dataclass


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


def settled(step: Step, state: State) -> str:
    """Give the option that the spec sheet settles, empty where it is asked."""
    name = step.block.figure if isinstance(step.block, Choose) else ""
    found = state.spec(name) if name else None
    return found if isinstance(found, str) and found in step.children else ""


def chosen(state: State, address: Address) -> str:
    """Give the option that was answered, empty where none was yet or it was skipped."""
    fact = state.facts.get(address)
    return fact.value if fact is not None and fact.kind == "done" else ""


def _walk(step: Step, scene: Scene, unfold: Unfold) -> Iterator[Occurrence]:
    option = settled(step, scene.state)
    if not option:
        address = scene.address(step)
        yield Occurrence(step=step, address=address, scene=scene, open=not scene.closed(address))
        option = chosen(scene.state, address)
    yield from unfold(step.children.get(option, ()), scene)


def withheld(found: Occurrence) -> Mapping[str, str]:
    """Give the options that cannot be offered, each with why: a list whose margin does not hold."""
    thin = {
        option: why
        for option, steps in found.step.children.items()
        for step in every_step(steps)
        if isinstance(step.block, Crank)
        if (why := too_thin(found.scene, step.block))
    }
    return thin if len(thin) < len(found.step.children) else {}


def _ask(found: Occurrence) -> Prompt:
    thin = withheld(found)
    facts = tuple(f"Not offered, {option}: {why}." for option, why in thin.items())
    choices = tuple(option for option in found.step.children if option not in thin)
    return prompt_for(found, asks="choice", choices=choices, facts=facts)


def _decide(found: Occurrence, answer: Answer) -> Decision:
    ruling = Ruling(answer, found.address)
    thin = withheld(found)
    offered = tuple(option for option in found.step.children if option not in thin)
    typed = " ".join(answer.text.lower().split())
    for option, why in thin.items():
        meant = typed and option.lower().startswith(typed)
        if meant and not any(other.lower().startswith(typed) for other in offered):
            stop("margin", f"“{option}” is not offered: {why}. Take {one_of(offered)}.", *offered)
    value = pick(answer.text, offered)
    ruling.done(value)
    ruling.said.append(f"{found.place or found.step.id}: {value}")
    return ruling.decision()


KIND = Kind(name="choose", block=BLOCK, walk=_walk, ask=_ask, decide=_decide)
