"""What a step kind is: its block in files, how it unfolds, what it asks, how it answers."""

from collections.abc import Callable, Iterator
from typing import Protocol, cast

from snugset.files.steps import KindBlock, Step
from snugset.guide.answer import Answer
from snugset.guide.events import Body
from snugset.guide.prompt import Prompt, View
from snugset.guide.ruling import Decision
from snugset.guide.scene import Occurrence, Scene
from snugset.guide.usual import usual_words
from snugset.guide.words import fill
from snugset.typed import Any
from snugset.values import dataclass, replace


class Unfold(Protocol):
    """Unfolds steps in a scene; handed to containers."""

    def __call__(self, steps: tuple[Step, ...], scene: Scene) -> Iterator[Occurrence]:
        """Yield every leaf that the steps stand for now, in order."""
        ...


Walk = Callable[[Step, Scene, Unfold], Iterator[Occurrence]]
Ask = Callable[[Occurrence], Prompt]
Decide = Callable[[Occurrence, Answer], Decision]


def walk_leaf(step: Step, scene: Scene, _unfold: Unfold) -> Iterator[Occurrence]:
    """Unfold a leaf to itself."""
    address = scene.address(step)
    yield Occurrence(step=step, address=address, scene=scene, open=not scene.closed(address))


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One step kind. A container has neither ask nor decide."""

    name: str
    block: KindBlock | None = None
    """Its fields in a procedure file; None for what the guide itself asks."""
    walk: Walk = walk_leaf
    ask: Ask | None = None
    decide: Decide | None = None
    skippable: bool = True
    instead: str = ""
    """What is done where it cannot be skipped."""
    skipped: Callable[[Occurrence], tuple[Body, ...]] | None = None
    """What skipping it makes of the engine's condition."""
    literal: Callable[[Occurrence], bool] | None = None
    """Whether words are taken as they are here, verbs among them."""
    verbs: frozenset[str] = frozenset({"say"})
    """The verbs it answers itself, besides skip, note and back."""


def said(step: Step, scene: Scene, group: str = "") -> str:
    """Give a step's words here; the usual ones of its kind where it has none."""
    if step.say:
        return fill(step.say, scene, group)
    words = usual_words(step)
    return fill(words if scene.site else words.removeprefix("{place}: "), scene, group)


def _of_container(step: Step, scene: Scene) -> str:
    """Give why the innermost container says it is done, else that container's own words."""
    above = scene.plan.above.get(step.id, ())
    inner = above[-1] if above and above[-1].kind != "choose" else None
    return "" if inner is None else inner.why or inner.say


def prompt_for(found: Occurrence, **changes: Any) -> Prompt:  # noqa: ANN401 - Prompt's own fields
    """Make the prompt that every kind begins with, with some of it changed."""
    step, scene = found.step, found.scene
    group = getattr(step.block, "group", "")
    plain = Prompt(
        address=found.address,
        sequence=scene.state.sequence,
        phase=scene.plan.phase(step.id),
        words=said(step, scene, group),
        asks="tick",
        place=found.place,
        view=cast("View", step.view),
        why=fill(step.why or _of_container(step, scene), scene, group),
        caution=tuple(fill(text, scene, group) for text in step.caution),
        tools=step.tools,
        people=step.people,
    )
    return replace(plain, **changes)


def fastener_facts(found: Occurrence) -> tuple[str, ...]:
    """Give the fastener in words, where the step's own words do not say it already."""
    words = said(found.step, found.scene, getattr(found.step.block, "group", ""))
    named = found.place.casefold() in words.casefold()
    return () if named else (f"Fastener {found.place}",)
