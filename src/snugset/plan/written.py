"""What a file being written should not say, and what a build begun with it can live with.

Builds keep their files: what opens them is not held against rules that came later.
"""

from snugset.files.engine import Engine
from snugset.files.naming import every_step, named
from snugset.files.problems import Problems, quote
from snugset.files.steps import Procedure, Step
from snugset.plan.check import all_steps
from snugset.plan.order import check_order
from snugset.plan.proven import check_proven
from snugset.plan.references import check_agrees, check_choices
from snugset.plan.stages import groups_of
from snugset.plan.suits import check_suits, done
from snugset.plan.together import check_together


def check_written(procedure: Procedure, into: Problems) -> None:
    """Add what is wrong with a procedure being written, taken by itself."""
    for step in all_steps(procedure):
        for name, field in named(step, "FIGURES"):
            if name in procedure.figures:
                check_choices(procedure.figures[name], field, step, into)
        check_agrees(step, procedure.figures, into)
    check_order(procedure.phases, into)
    check_proven(procedure, None, into)
    check_together(procedure, into)
    check_suits(procedure, procedure.expects, into, expected=True)


def check_written_for(procedure: Procedure, engine: Engine, into: Problems) -> None:
    """Add what is wrong with a procedure being written for this engine.

    An engine of another sort than it expects is told as such, and nothing more of it.
    """
    if any(engine.features.get(name) != word for name, word in procedure.expects.items()):
        return
    check_suits(procedure, engine.features, into)
    check_tightened(procedure, engine, into)


def check_tightened(procedure: Procedure, engine: Engine, into: Problems) -> None:
    """Add each group of the engine that the procedure neither tightens nor says that it leaves."""
    tightened: set[str] = set()
    first = next(iter(engine.fasteners), "")
    for phase in procedure.phases:
        for step in done(phase.steps, engine.features):
            if step.kind == "stages":
                tightened.update(groups_of(step))
            elif step.kind == "tighten":
                tightened.update(name for name, _ in named(step, "GROUPS"))
            elif getattr(step.block, "over", "") == "fasteners" and "torque" in _kinds(step):
                tightened.add(getattr(step.block, "group", "") or first)
    left = dict(procedure.leaves)
    for name, group in engine.fasteners.items():
        if name not in tightened and name not in left:
            into.add(
                group.mark,
                f"no step of the procedure tightens the group {quote(name)}; give it a tighten or "
                f"stages there, or say under “leaves” that it stays as it is: leaves: [{name}]"
                f"{into.near(name, left)}",
                (name, "fasteners", "leaves"),
            )
    for name, mark in procedure.leaves:
        if name in tightened:
            into.add(
                mark,
                f"{quote(name)} stands under “leaves”, and a step tightens it; take it out here",
                (name,),
            )


def _kinds(step: Step) -> set[str]:
    return {inner.kind for held in step.children.values() for inner in every_step(held)}
