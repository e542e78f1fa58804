"""Conditions that can never hold: against what is expected, or against one another."""

from collections.abc import Iterable, Mapping

from snugset.files.conditions import NOTHING, Condition
from snugset.files.problems import Problems, quote
from snugset.files.steps import Step


def check_reachable(
    steps: Iterable[Step], expects: Mapping[str, str], file: str, into: Problems
) -> None:
    """Add each condition that can never hold: against what is expected, or against another one.

    Looks at what stands in one file only: a shared group may be written for several procedures.
    """
    for step in steps:
        _unreachable(step, {}, expects, file, into)


_Held = dict[tuple[object, ...], Condition]
"""Conditions that hold, by all that another can clash with: one look-up tells, however many."""


def _unreachable(
    step: Step, above: _Held, expects: Mapping[str, str], file: str, into: Problems
) -> None:
    held = dict(above) if step.conditions else above
    for condition in step.conditions:
        wrong = _contradicts(condition, held, expects)
        if wrong and condition.mark.file == file:
            into.add(
                condition.mark,
                f"{step.id}: it is never done, for {wrong}; mend one of them",
                ("expects",),
            )
        _hold(held, condition)
    for inner in step.children.values():
        for each in inner:
            _unreachable(each, held, expects, file, into)


def _hold(held: _Held, condition: Condition) -> None:
    about = condition.about, condition.name
    if condition.about == "changed":
        held.setdefault((*about, NOTHING in condition.words), condition)
        return
    held.setdefault((*about, condition.words, condition.negated), condition)
    if not condition.negated:
        first = held.setdefault((*about, "first"), condition)
        if first.words != condition.words:
            held.setdefault((*about, "second"), condition)


def _clash(held: _Held, condition: Condition) -> Condition | None:
    """Give a condition that cannot hold together with this one; None where there is none."""
    about = condition.about, condition.name
    if condition.about == "changed":
        return held.get((*about, NOTHING not in condition.words))
    opposite = held.get((*about, condition.words, not condition.negated))
    if opposite is not None or condition.negated:
        return opposite
    first = held.get((*about, "first"))
    if first is None or first.words != condition.words:
        return first
    return held.get((*about, "second"))


def _contradicts(condition: Condition, held: _Held, expects: Mapping[str, str]) -> str:
    if condition.about == "feature" and condition.name in expects:
        same = expects[condition.name] == condition.words[0]
        if same == condition.negated:
            return f"the procedure expects {condition.name}: {expects[condition.name]}"
    other = _clash(held, condition)
    return "" if other is None else f"it stands under {quote(other.text)}"
