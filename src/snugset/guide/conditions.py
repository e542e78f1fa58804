"""Whether conditions hold in a build as it stands."""

from collections.abc import Iterable

from snugset.files.conditions import ANYTHING, NOTHING, Condition
from snugset.files.figures import Figure
from snugset.files.steps import Step
from snugset.guide.state import State
from snugset.plan.plan import Plan


def hold(conditions: Iterable[Condition], plan: Plan, state: State) -> bool:
    """Tell whether all of some conditions hold.

    One on a figure that is not answered yet does not, nor does its opposite.
    """
    return all(_holds(condition, plan, state) for condition in conditions)


def absent(step: Step, plan: Plan, state: State) -> bool:
    """Tell whether a step, or a container that it stands in, is not done in this build."""
    return not all(
        hold(each.conditions, plan, state) for each in (*plan.above.get(step.id, ()), step)
    )


def _holds(condition: Condition, plan: Plan, state: State) -> bool:
    match condition.about:
        case "feature":
            same = plan.engine.features.get(condition.name) == condition.words[0]
            return same != condition.negated
        case "changed":
            return _changed(condition, plan, state)
    figure = plan.figure(condition.name)
    spec = state.specs.get(figure.name)
    if spec is None:
        return _never_asked(figure, plan, state) and condition.negated
    if condition.about == "had":
        return spec.had != condition.negated
    return spec.had and (spec.value == condition.words[0]) != condition.negated


def _never_asked(figure: Figure, plan: Plan, state: State) -> bool:
    """Tell whether a figure's own conditions keep it from being asked: then it is not had."""
    return bool(figure.conditions) and not hold(figure.conditions, plan, state)


def _changed(condition: Condition, plan: Plan, state: State) -> bool:
    for figure in plan.procedure.figures.values():
        spec = state.specs.get(figure.name)
        if figure.kind == "changes" and spec is not None and isinstance(spec.value, str):
            words = spec.value.split(", ")
            anything = ANYTHING in condition.words and words != [NOTHING]
            return anything or any(word in words for word in condition.words)
    return False
