"""The steps of a bench card: words, figures, cautions, as one build does them."""

from collections.abc import Iterator

from snugset.files.naming import named
from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.conditions import hold
from snugset.guide.kinds.choose import chosen, settled
from snugset.guide.words import fill
from snugset.sheet.entries import View
from snugset.sheet.specs import both
from snugset.values import dataclass

_EACH = {
    "{place}": "each one",
    "{key}": "each",
    "{cylinder}": "each",
    "{length}": "the length on its list",
    "{hole}": "as its hole is",
}
"""What stands on a card for a name that is another at every place."""
_OVER = {
    "each": "At each of the {over}{where}:",
    "crank": "At each of the {over}, in the order of the setting points:",
    "rounds": "Round by round, until one is accepted:",
    "stages": "Fastener by fastener, stage by stage:",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class CardStep:
    """One step, as it is read off the wall."""

    id: str
    depth: int
    """How many containers it stands in."""
    words: str
    figures: tuple[tuple[str, str], ...]
    """What it is done by: field and figure, in both systems; “not given” where it is not had."""
    caution: tuple[str, ...]
    tools: tuple[str, ...]
    people: int
    second_look: bool


def card_steps(view: View, steps: tuple[Step, ...], depth: int) -> Iterator[CardStep]:
    """Give what is done in this build, containers with what they hold below them."""
    for step in steps:
        if not hold(step.conditions, view.plan, view.state):
            continue
        yield CardStep(
            id=step.id,
            depth=depth,
            words=_filled(view, step, step.say) or _container(step),
            figures=tuple(figures_for(view, step)),
            caution=tuple(_filled(view, step, text) for text in step.caution),
            tools=step.tools,
            people=step.people,
            second_look=step.second_look,
        )
        answered = taken(view, step)
        for name, inner in step.children.items():
            if step.kind == "choose" and inner:
                if answered in ("", name):
                    yield from _option(view, name, inner, depth + 1)
            else:
                yield from card_steps(view, inner, depth + 1)


def taken(view: View, step: Step) -> str:
    """Give the answer of a choice, by the spec sheet or the bench; empty while it is open."""
    if step.kind != "choose":
        return ""
    return settled(step, view.state) or chosen(view.state, Address(step.id))


def _option(view: View, name: str, inner: tuple[Step, ...], depth: int) -> Iterator[CardStep]:
    """Give the steps that one answer leads to, the answer before them."""
    yield CardStep(
        id="",
        depth=depth,
        words=f"If “{name}”:",
        figures=(),
        caution=(),
        tools=(),
        people=1,
        second_look=False,
    )
    yield from card_steps(view, inner, depth + 1)


def _container(step: Step) -> str:
    where = getattr(step.block, "where", "")
    over = getattr(step.block, "over", "")
    return _OVER.get(step.kind, "").format(over=over, where=f", the {where} ones" if where else "")


def _filled(view: View, step: Step, text: str) -> str:
    for name, each in _EACH.items():
        text = text.replace(name, each)
    return fill(text, view.scene, getattr(step.block, "group", "")) if text else ""


def figures_for(view: View, step: Step) -> Iterator[tuple[str, str]]:
    """Give each field of a step with its figure, in both systems, or “not given”."""
    for name, field in named(step, "FIGURES"):
        spec = view.state.specs.get(name)
        value = None if spec is None else spec.value
        shown = "not given" if value is None else both(value)
        yield field, f"{shown} ({name})" if name != field else shown
