"""Steps and fields that are right each by itself and make no sense together."""

from collections.abc import Callable, Iterable, Iterator

from snugset.files.naming import BRACES
from snugset.files.problems import Mark, Problems, all_of, an, did_you_mean, one_of, quote
from snugset.files.steps import Procedure, Step
from snugset.plan.containers import Around, walk
from snugset.plan.suits import done
from snugset.units import UNITS
from snugset.values import dataclass, field

_CYLINDERS = ("cylinders", "bridges")
_VALVES = (*_CYLINDERS, "valves")
_ANYWHERE = ("fasteners", *_VALVES)
_PLACED = {
    "place": _ANYWHERE,
    "key": _ANYWHERE,
    "cylinder": _VALVES,
    "length": ("fasteners", "valves"),
    "hole": ("fasteners",),
}
"""Names in braces that read something at such places only."""


@dataclass(slots=True)
class _Seen:
    """What the steps before one have done."""

    counts: dict[str, bool] = field(default_factory=dict)
    """Steps, and whether each counts something."""
    ledgers: dict[str, tuple[str, Step]] = field(default_factory=dict)
    """The kind of what is written in each ledger, and the step that does so first."""
    kinds: set[str] = field(default_factory=set)
    marks: set[str] = field(default_factory=set)


Wrong = tuple[str, str]
"""What is wrong, and the word of the step's fields that it is about."""


def check_together(procedure: Procedure, into: Problems) -> None:
    """Add what the steps of a procedure say that cannot be done, or not as it is meant."""
    seen = _Seen()
    for phase in procedure.phases:
        there = {step.id for step in done(phase.steps, procedure.expects)}
        for step, around in walk(phase.steps):
            for look in _LOOKS if step.id in there else ():
                for wrong, word in look(step, around, seen):
                    at = step.field_marks.get(word) or _field(step, word)
                    into.add(at, f"{step.id}: {wrong}", (word,) if word else ())
            _remember(step, seen)
    for figure in procedure.figures.values():
        for wrong in _twice(figure.choices):
            into.add(figure.mark, f"{figure.name}: {wrong}", (figure.name,))


def _field(step: Step, name: str) -> Mark:
    """Give where a field of a step stands, else where the step does."""
    fields = {} if step.source is None else step.source.fields
    return fields[name][0].mark if name in fields else step.mark


def _remember(step: Step, seen: _Seen) -> None:
    block = step.block
    seen.kinds.add(step.kind)
    seen.counts[step.id] = bool(getattr(block, "count", ""))
    seen.marks.add(getattr(block, "marks", ""))
    ledger, kind = _ledger(step)
    if kind:
        seen.ledgers.setdefault(ledger, (kind, step))


def _ledger(step: Step) -> tuple[str, str]:
    """Give the ledger that a step writes in and the kind of what it writes."""
    unit = getattr(step.block, "unit", "")
    return getattr(step.block, "figure", ""), UNITS.get(unit, "") if unit else ""


_OF_LEAVES = ("caution", "tools", "people", "meanwhile", "needs")
"""Fields of every step that say nothing on a container; a crank's first two stand at its turns."""


def _containers(step: Step, _around: Around, _seen: _Seen) -> Iterator[Wrong]:
    if step.kind not in ("each", "crank", "rounds", "stages") or step.source is None:
        return
    for name in _OF_LEAVES[2:] if step.kind == "crank" else _OF_LEAVES:
        if name in step.source.fields:
            yield f"“{name}” is not used on {an(step.kind)}; put it on a step that it holds", name


def _units(step: Step, _around: Around, _seen: _Seen) -> Iterator[Wrong]:
    known: tuple[str, ...] = getattr(step.block, "UNITS", ())
    unit = getattr(step.block, "unit", "")
    if known and unit not in known:
        yield f"{quote(unit)} is not {one_of(known)}{did_you_mean(unit, known)}", unit


def _counting(step: Step, _around: Around, seen: _Seen) -> Iterator[Wrong]:
    block = step.block
    count = getattr(block, "count", "")
    same = getattr(block, "same_as", "")
    for name, value in (("same-as", same), ("equals", getattr(block, "equals", ""))):
        if value and not count:
            yield (
                f"“{name}” holds a count against another; say under “count” what is counted",
                value,
            )
    if same and count and seen.counts.get(same) is False:
        yield f"“same-as” names {quote(same)}, which counts nothing; give that a “count”", same
    if count and getattr(block, "choices", ()):
        yield "it asks for a count and offers choices; a step asks for one of them", count
    if count and getattr(block, "marks", "") == "hole":
        yield "“marks: hole” asks what the hole is; a step with it counts nothing", count


def _choices(step: Step, _around: Around, _seen: _Seen) -> Iterator[Wrong]:
    offered = getattr(step.block, "choices", ()) or (
        tuple(step.children) if step.kind == "choose" else ()
    )
    for wrong in _twice(offered):
        yield wrong, offered[0]
    if step.kind in ("do", "turn") and len(offered) == 1:
        yield f"{quote(offered[0])} is its only choice; give two or more, or none", offered[0]
    if offered and getattr(step.block, "marks", "") == "hole":
        yield "“marks: hole” has its own answers; leave the choices out", offered[0]


def _twice(choices: Iterable[str]) -> Iterator[str]:
    seen: set[str] = set()
    for choice in choices:
        plain = " ".join(choice.lower().split())
        if plain in seen:
            yield f"{quote(choice)} is offered twice; each choice has words of its own"
        seen.add(plain)


def _ledgers(step: Step, _around: Around, seen: _Seen) -> Iterator[Wrong]:
    ledger, kind = _ledger(step)
    before = seen.ledgers.get(ledger)
    if kind and before is not None and before[0] != kind:
        said = (
            f"{quote(ledger)} is a ledger of {before[0]}, by {before[1].id}, and this reading is "
            f"of {kind}; give it a ledger of its own"
        )
        yield said, ledger


_GUARDS: tuple[tuple[str, Callable[[_Seen], bool], str], ...] = (
    ("lash", lambda before: "lash" in before.kinds, "a lash step"),
    ("preload", lambda before: bool(before.kinds & {"preload", "nut"}), "a preload or nut step"),
    ("studs", lambda before: "stud" in before.marks, "a step with “marks: stud”"),
)


def _guards(step: Step, _around: Around, seen: _Seen) -> Iterator[Wrong]:
    guards = getattr(step.block, "guards", ())
    for guard, can_hold, wanted in _GUARDS:
        if guard in guards and not can_hold(seen):
            yield f"the guard {guard} can never hold: {wanted} must stand before it", guard


def _words(step: Step, around: Around, _seen: _Seen) -> Iterator[Wrong]:
    over = around.over or ("fasteners" if around.stages or step.kind == "tighten" else "")
    for text in (step.say, step.why, *step.caution):
        left = BRACES.sub("", text)
        if "{" in left or "}" in left:
            yield (
                "a brace stands alone in its words; a name stands between two, as in {place}",
                text,
            )
        if step.children and step.kind != "choose":
            continue
        for name in dict.fromkeys(BRACES.findall(text)):
            at = _PLACED.get(name)
            if at is None or over in at:
                continue
            here = f"it stands at {over}" if over else "it stands at no place"
            yield (
                f"{{{name}}} reads nothing here: {here}; it reads at {all_of(at)}",
                f"{{{name}}}",
            )


_LOOKS = (_containers, _units, _counting, _choices, _ledgers, _guards, _words)
