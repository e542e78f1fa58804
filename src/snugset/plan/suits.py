"""Steps that have no place on an engine of some features, and are not kept off it by an if."""

from collections.abc import Iterable, Iterator, Mapping

from snugset.files.conditions import Condition
from snugset.files.problems import Problems, an
from snugset.files.steps import Procedure, Step

_LIFTERS = {
    "lash": ("solid", "a hydraulic lifter has no lash to set"),
    "preload": ("hydraulic", "a solid lifter has no plunger to read"),
    "nut": ("hydraulic", "a solid lifter has no plunger to press; set it by lash"),
    "judge": ("hydraulic", "a solid lifter has no preload to judge"),
}
"""The lifters that a kind of step is for, and why."""


def check_suits(
    procedure: Procedure, features: Mapping[str, str], into: Problems, *, expected: bool = False
) -> None:
    """Add each step that is done on an engine of these features and cannot be.

    `features` may be some only; with `expected` they are those of no engine yet.
    """
    for phase in procedure.phases:
        for step in done(phase.steps, features):
            wrong = _wrong(step, features, expected=expected)
            if wrong:
                into.add(step.mark, f"{step.id}: {wrong}", ("rockers", "lifters", "expects"))


def done(steps: Iterable[Step], features: Mapping[str, str]) -> Iterator[Step]:
    """Walk the steps that features, or those of them that are known, do not rule out."""
    for step in steps:
        if all(_may_hold(condition, features) for condition in step.conditions):
            yield step
            for inner in step.children.values():
                yield from done(inner, features)


def _may_hold(condition: Condition, features: Mapping[str, str]) -> bool:
    if condition.about != "feature" or condition.name not in features:
        return True
    return (features[condition.name] == condition.words[0]) != condition.negated


def _wrong(step: Step, features: Mapping[str, str], *, expected: bool) -> str:
    rockers, lifters = features.get("rockers"), features.get("lifters")
    whose = ("by “expects” the rockers", "by “expects” they")
    rocker_words, lifter_words = whose if expected else ("this engine's rockers", "this engine's")
    if getattr(step.block, "over", "") == "bridges" and rockers not in (None, "bridged"):
        return (
            f"it goes over bridges, and {rocker_words} are on {_on(str(rockers))}; go over "
            "cylinders, or write “if: rockers are bridged”"
        )
    wanted, why = _LIFTERS.get(step.kind, ("", ""))
    if wanted and lifters not in (None, wanted):
        return (
            f"{an(step.kind)} is for {wanted} lifters, and {lifter_words} are {lifters}: {why}; "
            f"write “if: lifters are {wanted}”, or take it out"
        )
    return ""


def _on(rockers: str) -> str:
    return {"pedestal": "pedestals", "shaft": "a shaft", "stud": "studs"}.get(rockers, rockers)
