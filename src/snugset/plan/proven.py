"""Crank containers that a build can come to without a step that proves number one.

Whether steps are there hangs on features, figures and answers. All that these can be is gone
through, as far as conditions name it; what is told is then certain.
"""

from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations, product
from math import prod

from snugset.files.conditions import ANYTHING, CHANGES, NOTHING, Condition
from snugset.files.engine import Engine
from snugset.files.engine_shape import FEATURES
from snugset.files.figures import Figure
from snugset.files.problems import Problems, quote
from snugset.files.steps import Procedure, Step
from snugset.values import dataclass

_MOST = 20_000
"""Cases gone through for one container; with more, nothing is said."""
_LOOKS = 300_000
"""Steps looked at in cases, for all containers together; then nothing more is said."""
_NOT_HAD = "\0not had"
_NEVER = "\0never asked"
_OTHER = "\0other"

Case = Mapping[str, str]
"""What features, figures, changes and answers are, by a name of each."""


@dataclass(frozen=True, slots=True)
class _Way:
    """A step and all that it takes to come to it."""

    step: Step
    conditions: tuple[Condition, ...]
    options: tuple[tuple[Step, str], ...]
    """Each choose above it, and under which answer."""

    def holds(self, case: Case) -> bool:
        """Tell whether a build of this case comes to it."""
        return all(_holds(c, case) for c in self.conditions) and all(
            case[f"choose {choose.id}"] == option for choose, option in self.options
        )


def check_proven(procedure: Procedure, engine: Engine | None, into: Problems) -> None:
    """Add each crank container that some build comes to with number one never proven.

    Says nothing where no turn stands before it at all: that is told of every procedure.
    """
    proofs: list[_Way] = []
    left = _LOOKS
    for phase in procedure.phases:
        for way in _ways(phase.steps, (), ()):
            if way.step.kind == "crank" and proofs and left > 0:
                left -= _check(way, proofs, procedure, engine, into)
            if getattr(way.step.block, "prove", False):
                proofs.append(way)


def _ways(
    steps: Iterable[Step],
    conditions: tuple[Condition, ...],
    options: tuple[tuple[Step, str], ...],
) -> Iterator[_Way]:
    for step in steps:
        held = (*conditions, *step.conditions)
        yield _Way(step, held, options)
        for field, inner in step.children.items():
            option = ((step, field),) if step.kind == "choose" else ()
            yield from _ways(inner, held, (*options, *option))


def _check(
    way: _Way,
    proofs: list[_Way],
    procedure: Procedure,
    engine: Engine | None,
    into: Problems,
) -> int:
    """Add the container if it is one of those; how many steps were looked at."""
    ways = (way, *proofs)
    looks = len(ways)
    if any(not proof.conditions and not proof.options for proof in proofs):
        return looks
    domains = _domains(ways, procedure, engine)
    if prod(map(len, domains.values())) > _MOST:
        return looks
    for values in product(*domains.values()):
        looks += len(ways)
        if looks > _LOOKS:
            break
        case = dict(zip(domains, values, strict=True))
        if not _can_be(case, procedure, ways) or not way.holds(case):
            continue
        if not any(proof.holds(case) for proof in proofs):
            into.add(way.step.mark, _told(way, proofs, case), ("prove",))
            break
    return looks


def _told(way: _Way, proofs: list[_Way], case: Case) -> str:
    last = proofs[-1]
    only = [quote(c.text) for c in last.conditions if not _holds(c, case)]
    only += [
        f"{quote(choose.id)} is answered {quote(option)}"
        for choose, option in last.options
        if case[f"choose {choose.id}"] != option
    ]
    return (
        f"{way.step.id}: the crank can be used here with number one not proven; {last.step.id} "
        f"proves it only where {' and '.join(only)}: give this the same condition, or put a turn "
        "with “prove: yes” before it for the other case"
    )


def _domains(
    ways: tuple[_Way, ...], procedure: Procedure, engine: Engine | None
) -> dict[str, tuple[str, ...]]:
    """Give what each thing that the ways hang on can be."""
    found: dict[str, tuple[str, ...]] = {}
    open_ = [c for way in ways for c in way.conditions]
    for choose, _ in (pair for way in ways for pair in way.options):
        found[f"choose {choose.id}"] = tuple(choose.children)
        figure = getattr(choose.block, "figure", "")
        if figure in procedure.figures:
            _figure(procedure.figures[figure], found, open_)
    words: dict[str, set[str]] = {}
    while open_:
        condition = open_.pop()
        if condition.about == "feature":
            words.setdefault(condition.name, set()).add(condition.words[0])
        elif condition.about == "changed":
            sets = [combinations(CHANGES, n) for n in range(1, len(CHANGES) + 1)]
            found["changed"] = (NOTHING, *(", ".join(each) for many in sets for each in many))
        elif condition.figure in procedure.figures:
            _figure(procedure.figures[condition.figure], found, open_)
    for name, said in words.items():
        known = getattr(FEATURES[name], "words", None)
        fixed = engine.features.get(name) if engine else procedure.expects.get(name)
        rest = tuple(known) if known else (*sorted(said), _OTHER)
        found[f"feature {name}"] = (fixed,) if fixed else rest
    return found


def _figure(figure: Figure, found: dict[str, tuple[str, ...]], open_: list[Condition]) -> None:
    """Add what a figure can be, and the conditions under which it is asked."""
    if f"figure {figure.name}" in found:
        return
    had = figure.choices or (_OTHER,)
    none = (_NOT_HAD,) if figure.none else ()
    never = (_NEVER,) if figure.conditions else ()
    found[f"figure {figure.name}"] = (*had, *none, *never)
    open_.extend(figure.conditions)


def _can_be(case: Case, procedure: Procedure, ways: tuple[_Way, ...]) -> bool:
    """Tell whether a case does not contradict itself."""
    for name, value in case.items():
        sort, _, what = name.partition(" ")
        if sort == "figure":
            asked = all(_holds(c, case) for c in procedure.figures[what].conditions)
            if asked == (value == _NEVER):
                return False
    for choose, _ in (pair for way in ways for pair in way.options):
        settled = case.get(f"figure {getattr(choose.block, 'figure', '')}", "")
        if settled in choose.children and case[f"choose {choose.id}"] != settled:
            return False
    return True


def _holds(condition: Condition, case: Case) -> bool:
    """Tell whether a condition holds, as the guide reads it."""
    if condition.about == "feature":
        return (case[f"feature {condition.name}"] == condition.words[0]) != condition.negated
    if condition.about == "changed":
        changed = case["changed"].split(", ")
        anything = ANYTHING in condition.words and changed != [NOTHING]
        return anything or any(word in changed for word in condition.words)
    value = case.get(f"figure {condition.figure}", _NEVER)
    if value == _NEVER:
        return condition.negated
    if condition.about == "had":
        return (value != _NOT_HAD) != condition.negated
    return value != _NOT_HAD and (value == condition.words[0]) != condition.negated
