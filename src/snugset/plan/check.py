"""What only procedure and engine together show: names that lead nowhere, figures never used."""

from snugset.files.engine import Engine
from snugset.files.naming import every_step, named
from snugset.files.problems import Mark, Problems, quote
from snugset.files.shared import Shared
from snugset.files.steps import Procedure, Step
from snugset.plan.containers import check_containers
from snugset.plan.reachable import check_reachable
from snugset.plan.references import check_figure_use, check_figures_used, check_needs, known
from snugset.plan.stages import check_stages


def all_steps(procedure: Procedure) -> tuple[Step, ...]:
    """Give every step of a procedure, containers and leaves."""
    return tuple(s for phase in procedure.phases for s in every_step(phase.steps))


def check_procedure(procedure: Procedure, into: Problems) -> None:
    """Add what is wrong with a procedure taken by itself: references, figures, containers."""
    steps = all_steps(procedure)
    ids = dict.fromkeys(step.id for step in steps)
    holders = {step.id for step in steps if step.children and step.kind != "choose"}
    used = check_figure_use(steps, procedure.figures, into)
    for step in steps:
        for name, field in named(step, "STEPS"):
            known(name, ids, f"the step that “{field}” names", step, into)
        for name in step.needs:
            if name in holders:
                into.add(
                    step.mark,
                    f"{step.id}: it needs {quote(name)}, which holds steps; name the last of them",
                    (name,),
                )
    check_figures_used(procedure.figures, used, into)
    check_needs(steps, into)
    check_containers(procedure, into)
    for phase in procedure.phases:
        check_reachable(phase.steps, procedure.expects, phase.mark.file, into)


def check_shared(shared: Shared, into: Problems) -> None:
    """Add what is wrong with shared groups taken by themselves: figures, conditions."""
    steps = [step for group in shared.groups.values() for step in every_step(group)]
    used = check_figure_use(steps, shared.figures, into)
    check_figures_used(shared.figures, used, into)


def check_against(procedure: Procedure, engine: Engine, at: Mark, into: Problems) -> None:
    """Add what this engine lacks for this procedure."""
    for feature, wanted in procedure.expects.items():
        have = engine.features.get(feature)
        if have != wanted:
            verb = "are" if feature.endswith("s") else "is"
            into.add(
                at,
                f"the procedure is for an engine whose {feature} {verb} {wanted}; this one's "
                f"{verb} {have}",
                (feature,),
            )
    for step in all_steps(procedure):
        if getattr(step.block, "over", "") == "fasteners" and not engine.fasteners:
            into.add(
                at, f"{step.id} goes through fasteners; this engine's file has none", ("fasteners",)
            )
        one = step.kind == "crank" and getattr(step.block, "over", "") == "valves"
        if one and engine.rockers == "bridged" and _applies(step, engine):
            into.add(
                at,
                f"{step.id} sets valve by valve; this engine's rockers are bridged, and while "
                "one valve is set the bridge holds its partner: go over bridges",
                ("rockers",),
            )
        if step.kind == "stages":
            check_stages(step, engine, into)
        for name, field in named(step, "GROUPS"):
            known(
                name, engine.fasteners, f"the engine's fasteners that “{field}” names", step, into
            )


def _applies(step: Step, engine: Engine) -> bool:
    """Tell whether a step is done on an engine of these features."""
    return all(
        (engine.features.get(c.name) == c.words[0]) != c.negated
        for c in step.conditions
        if c.about == "feature"
    )
