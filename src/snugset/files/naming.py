"""What a step names: figures, steps, groups of fasteners; in its fields, words and conditions."""

from collections.abc import Iterable, Iterator, Mapping

from snugset.files.figures import Figure
from snugset.files.placed import BRACES
from snugset.files.steps import Step

__all__ = [
    "BRACES",
    "every_step",
    "figures_in",
    "figures_of",
    "hangs_on_changes",
    "named",
    "needed_figures",
]


def every_step(steps: Iterable[Step]) -> Iterator[Step]:
    """Walk steps and all they hold, in order of writing."""
    for step in steps:
        yield step
        for inner in step.children.values():
            yield from every_step(inner)


def named(step: Step, which: str) -> Iterator[tuple[str, str]]:
    """Yield (name, field) for the fields of a block that are declared to name such a thing.

    `which` is FIGURES, STEPS or GROUPS, as blocks declare them. A field may hold several names.
    """
    for field in getattr(step.block, which, ()):
        value = getattr(step.block, field)
        for name in value if isinstance(value, tuple) else (value,):
            if name:
                yield name, field.rstrip("_").replace("_", "-")


def figures_in(text: str) -> list[str]:
    """Give the names of the figures that a text shows."""
    return [n.removeprefix("figure.") for n in BRACES.findall(text) if n.startswith("figure.")]


def figures_of(step: Step) -> set[str]:
    """Give the figures that a step itself uses by name, whichever way."""
    found = {name for name, _ in named(step, "FIGURES")}
    for text in (step.say, step.why, *step.caution):
        if "{" in text:
            found.update(figures_in(text))
    if step.conditions:
        found.update(c.figure for c in step.conditions if c.figure)
    return found


def hangs_on_changes(steps: Iterable[Step]) -> bool:
    """Tell whether a step asks what was changed."""
    return any(c.about == "changed" for step in steps for c in step.conditions)


def needed_figures(steps: Iterable[Step], figures: Mapping[str, Figure]) -> set[str]:
    """Give the figures that steps use, and those that these hang on in turn."""
    steps = list(every_step(steps))
    found: set[str] = set()
    open_ = set().union(*map(figures_of, steps))
    if hangs_on_changes(steps):
        open_.update(name for name, figure in figures.items() if figure.kind == "changes")
    while open_:
        name = open_.pop()
        if name in found or name not in figures:
            continue
        found.add(name)
        figure = figures[name]
        open_.update(filter(None, (figure.within, figure.wrench, figure.same_assumes)))
        open_.update(c.figure for c in figure.conditions if c.figure)
        if any(c.about == "changed" for c in figure.conditions):
            open_.update(n for n, other in figures.items() if other.kind == "changes")
    return found
