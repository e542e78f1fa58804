"""What only procedure and engine together show: names that lead nowhere, figures never used."""

from collections.abc import Iterable, Iterator, Mapping

from snugset.files.engine import Engine
from snugset.files.figures import Figure
from snugset.files.problems import Mark, Problems, did_you_mean, quote
from snugset.files.steps import Procedure, Step
from snugset.plan.fields import figures_in, unknown


def every_step(steps: tuple[Step, ...]) -> Iterator[Step]:
    """Walk steps and all they hold, in order of writing."""
    for step in steps:
        yield step
        for inner in step.children.values():
            yield from every_step(inner)


def all_steps(procedure: Procedure) -> tuple[Step, ...]:
    """Give every step of a procedure, containers and leaves."""
    return tuple(s for phase in procedure.phases for s in every_step(phase.steps))


def check_procedure(procedure: Procedure, into: Problems) -> None:
    """Add what is wrong with a procedure taken by itself: references, figures, containers."""
    steps = all_steps(procedure)
    ids = {step.id for step in steps}
    figures = frozenset(procedure.figures)
    used: set[str] = set()
    for step in steps:
        for name, field in _named(step, "FIGURES"):
            used.add(name)
            _known(name, figures, f"the figure that “{field}” names", step, into)
        for name, field in _named(step, "STEPS"):
            _known(name, ids, f"the step that “{field}” names", step, into)
        for text in (step.say, step.why, *step.caution):
            used.update(figures_in(text))
            for name in unknown(text, figures):
                into.add(
                    step.mark,
                    f"{step.id}: nothing fills {{{name}}} in its words; see docs/files.md",
                )
    _check_figures(procedure.figures, used, into)
    _check_containers(procedure, into)


def _check_figures(figures: Mapping[str, Figure], used: set[str], into: Problems) -> None:
    for figure in figures.values():
        for field, other in (("within", figure.within), ("wrench", figure.wrench)):
            if other:
                used.add(other)
                if other not in figures:
                    into.add(
                        figure.mark,
                        f"{figure.name}: “{field}” names no figure {quote(other)}"
                        f"{did_you_mean(other, figures)}",
                    )
    for name, figure in figures.items():
        if name not in used:
            into.add(
                figure.mark,
                f"the figure {quote(name)} is asked for and never used; take it out or use it",
            )


def _check_containers(procedure: Procedure, into: Problems) -> None:
    proven = False
    for phase in procedure.phases:
        for step in every_step(phase.steps):
            proven = proven or bool(getattr(step.block, "prove", False))
            if step.kind == "crank" and not proven:
                into.add(
                    step.mark,
                    f"{step.id}: the crank is used before number one is proven; put a step "
                    f"“turn” with “prove: yes” before it",
                )
            if step.kind == "rounds" and [s.kind for s in step.children.get("judge", ())] != [
                "judge"
            ]:
                into.add(step.mark, f"{step.id}: “judge” holds one step of kind judge, no other")
        for step in _outside(phase.steps):
            into.add(step.mark, f"{step.id}: a step of kind {step.kind} stands inside rounds only")


def _outside(steps: Iterable[Step]) -> Iterator[Step]:
    """Yield the readings of preload and the judges that stand in no rounds."""
    for step in steps:
        if step.kind in ("preload", "judge"):
            yield step
        if step.kind != "rounds":
            for inner in step.children.values():
                yield from _outside(inner)


def check_against(procedure: Procedure, engine: Engine, at: Mark, into: Problems) -> None:
    """Add what this engine lacks for this procedure."""
    for feature, wanted in procedure.expects.items():
        have = engine.features.get(feature)
        if have != wanted:
            into.add(
                at,
                f"the procedure is for an engine whose {feature} is {wanted}; this one's is {have}",
            )
    for step in all_steps(procedure):
        for name, field in _named(step, "GROUPS"):
            _known(
                name, engine.fasteners, f"the engine's fasteners that “{field}” names", step, into
            )


def _named(step: Step, which: str) -> Iterator[tuple[str, str]]:
    """Yield what the fields of a block name that are declared to name such a thing."""
    for field in getattr(step.block, which, ()):
        name = getattr(step.block, field)
        if name:
            yield name, field.replace("_", "-")


def _known(name: str, known: Iterable[str], what: str, step: Step, into: Problems) -> None:
    known = list(known)
    if name not in known:
        into.add(
            step.mark, f"{step.id}: {what}, {quote(name)}, is not there{did_you_mean(name, known)}"
        )
