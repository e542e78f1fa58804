"""What only procedure and engine together show: names that lead nowhere, figures never used."""

from collections.abc import Iterable, Iterator, Mapping

from snugset.files.engine import Engine
from snugset.files.figures import Figure
from snugset.files.problems import Mark, Problems, did_you_mean, quote
from snugset.files.steps import Procedure, Step
from snugset.plan.containers import check_containers
from snugset.plan.fields import figures_in, unknown
from snugset.units import UNITS


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
    holders = {step.id for step in steps if step.children}
    figures = frozenset(procedure.figures)
    used: set[str] = set()
    for step in steps:
        for name, field in _named(step, "FIGURES"):
            used.add(name)
            if _known(name, figures, f"the figure that “{field}” names", step, into):
                _fits(procedure.figures[name], field, step, into)
        for name, field in _named(step, "STEPS"):
            _known(name, ids, f"the step that “{field}” names", step, into)
        for name in step.needs:
            if name in holders:
                into.add(
                    step.mark,
                    f"{step.id}: it needs {quote(name)}, which holds steps; name the last of them",
                )
        for text in (step.say, step.why, *step.caution):
            used.update(figures_in(text))
            for name in unknown(text, figures):
                into.add(
                    step.mark,
                    f"{step.id}: nothing fills {{{name}}} in its words; see docs/files.md",
                )
    _check_figures(procedure.figures, used, into)
    check_containers(procedure, into)


def _check_figures(figures: Mapping[str, Figure], used: set[str], into: Problems) -> None:
    for figure in figures.values():
        used.update(filter(None, (figure.within, figure.wrench)))
        if figure.kind == "choice" and "none" in figure.choices:
            into.add(
                figure.mark,
                f"{figure.name}: a choice called none could not be told from not having the "
                f"figure; call it otherwise",
            )
    for name, figure in figures.items():
        if name not in used:
            into.add(
                figure.mark,
                f"the figure {quote(name)} is asked for and never used; take it out or use it",
            )


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
        if getattr(step.block, "over", "") == "fasteners" and not engine.fasteners:
            into.add(at, f"{step.id} goes through fasteners; this engine's file has none")
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


def _known(name: str, known: Iterable[str], what: str, step: Step, into: Problems) -> bool:
    known = list(known)
    if name not in known:
        into.add(
            step.mark, f"{step.id}: {what}, {quote(name)}, is not there{did_you_mean(name, known)}"
        )
    return name in known


def _fits(figure: Figure, field: str, step: Step, into: Problems) -> None:
    """Hold a figure against what the field that names it needs: its kind, and its form."""
    needs: Mapping[str, str] = getattr(step.block, "FIGURES", {})
    kind, _, form = needs[field.replace("-", "_")].partition("/")
    if kind == "unit":
        kind = UNITS.get(getattr(step.block, "unit", ""), "")
    if figure.kind != kind or (form and figure.form != form):
        wanted = f"{kind} {form}".strip() if form != "one" else kind
        into.add(
            step.mark,
            f"{step.id}: “{field}” needs a figure of {wanted}; {quote(figure.name)} is of "
            f"{figure.kind}{'' if figure.form == 'one' else ' ' + figure.form}",
        )
