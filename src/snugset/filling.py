"""A build's spec sheet filled from a file: every figure through the same rules as if typed."""

from datetime import datetime

from snugset.bench import Bench
from snugset.clock import utc
from snugset.files.figures import show_value
from snugset.files.problems import Problem, Problems
from snugset.files.specs import Spec, SpecSheet, read_specs
from snugset.files.tree import Node
from snugset.files.whole import read_whole
from snugset.guide.address import Address
from snugset.guide.answer import Answer
from snugset.guide.apply import apply
from snugset.guide.decide import decide
from snugset.guide.events import Record
from snugset.guide.ruling import Decision, Refusal
from snugset.guide.state import Spec as Had
from snugset.guide.state import State
from snugset.plan.plan import Pinned, Plan
from snugset.printable import counted
from snugset.stored import BuildError, recorded
from snugset.values import dataclass, replace


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One figure that a file gives anew."""

    name: str
    before: str
    """As it stands now, in words; empty where it was not answered yet."""
    after: str
    said: tuple[str, ...]
    """What follows from it, beyond the figure itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """What a spec sheet file comes to in a build."""

    records: list[Record]
    wrong: list[Problem]
    """What the rules stop; nothing is kept then."""
    changes: tuple[Change, ...]
    same: int
    """How many figures stand so already."""


def sheet_in(plan: Plan, specs: Pinned, into: Problems) -> SpecSheet | None:
    """Read a spec sheet's text for a plan; None once a mistake was found in it."""

    def read(node: Node, into: Problems) -> SpecSheet | None:
        return read_specs(node, plan.procedure.figures, into)

    return read_whole(specs.text, specs.file, read, into)


def proposed(plan: Plan, specs: Pinned, state: State, person: str, moment: datetime) -> Answered:
    """Say what filling a build from a file would come to, keeping nothing.

    BuildError with every mistake of the file: a line each, and under it the place with a caret.
    """
    into = Problems()
    sheet = sheet_in(plan, specs, into)
    wrong = list(into.items)
    if sheet is not None:
        found = answered(plan, sheet, state, person, moment)
        if not found.wrong:
            return found
        wrong = found.wrong
    raise BuildError("\n".join(f"{one}\n{Problems.caret(one, specs.text)}" for one in wrong))


def take(bench: Bench, specs: Pinned) -> Answered:
    """Keep what a file gives, all of it at once; BuildError, and nothing kept, at a mistake.

    JournalError if it could not be written.
    """
    bench.notice()  # a break is kept before anything is decided
    found = proposed(bench.plan, specs, bench.state, bench.person, bench.clock())
    bench.keep(found.records)
    return found


def answered(plan: Plan, sheet: SpecSheet, state: State, person: str, moment: datetime) -> Answered:
    """Answer each figure's prompt with what the sheet says, as the builder would.

    Each is held against the others of the sheet, not against those that they take the place of;
    one that a rule stops is tried again after the others.
    """
    records: list[Record] = []
    changes: list[Change] = []
    left = [sheet.figures[name] for name in plan.procedure.figures if name in sheet.figures]
    same = [spec for spec in left if _stands(spec, state.specs.get(spec.name), plan)]
    # Those with a reason come last: then the rule that they go against is broken by them.
    left = sorted((s for s in left if s not in same), key=lambda spec: bool(spec.reasons))
    ungiven = {spec.name for spec in left}
    wrong: dict[str, Problem] = {}
    while left:
        stopped = []
        for spec in left:
            had = state.specs.get(spec.name)
            answer = _answer(spec, had, state, person)
            decision = _decided(plan, answer, state, ungiven - {spec.name}, moment)
            if isinstance(decision, Refusal):
                wrong[spec.name] = Problem(spec.mark, decision.words)
                stopped.append(spec)
                continue
            kept = recorded(
                decision.events,
                after=state.sequence,
                answer=state.answer + 1,
                at=utc(moment),
                person=person,
            )
            for record in kept:
                state = apply(state, record)
            records += kept
            ungiven.discard(spec.name)
            changes.append(
                Change(
                    name=spec.name,
                    before=words(had),
                    after=words(state.specs.get(spec.name)),
                    said=decision.said[1:],
                )
            )
        if len(stopped) == len(left):
            break
        left = stopped
    return Answered(
        records=records,
        wrong=[problem for name, problem in wrong.items() if name in ungiven],
        changes=tuple(changes),
        same=len(same),
    )


def _decided(
    plan: Plan, answer: Answer, state: State, others: set[str], moment: datetime
) -> Decision | Refusal:
    """Decide one figure: without those that are still to be given anew, else with them."""
    left = {name: have for name, have in state.specs.items() if name not in others}
    decision = decide(plan, replace(state, specs=left), answer, moment, anywhere=True)
    if isinstance(decision, Refusal) and len(left) < len(state.specs):
        return decide(plan, state, answer, moment, anywhere=True)
    return decision


NO_CHANGE = "The file changes nothing."


def changed_lines(found: Answered) -> list[str]:
    """Say what a file changes: each figure as it stands and as it would, and what follows."""
    lines = []
    for one in found.changes:
        lines.append(f"{one.name}: {one.after}")
        if one.before:
            lines.append(f"    now {one.before}")
        lines += [f"    {said}" for said in one.said]
    if found.same:
        lines.append(f"{counted(found.same, 'figure stands', 'figures stand')} so already.")
    if not found.changes:
        lines.append(NO_CHANGE)
    return lines


def words(spec: Had | None) -> str:
    """Give a figure as it stands in a build, in one line; empty where it is not answered yet."""
    if spec is None:
        return ""
    if not spec.had:
        return "I don't have it"
    assumes = f", assumes {spec.assumes}" if spec.assumes else ""
    return f"{show_value(spec.value)} — {spec.source or 'no source yet'}{assumes}"


def _stands(spec: Spec, had: Had | None, plan: Plan) -> bool:
    """Tell whether a build has a figure just so."""
    if had is None or had.had == spec.none:
        return False
    if spec.none:
        return True
    sourced = plan.procedure.figures[spec.name].kind == "changes" or had.source == _flat(
        spec.source
    )
    return had.value == spec.value and sourced and (had.assumes or "") == spec.assumes


def _answer(spec: Spec, had: Had | None, state: State, person: str) -> Answer:
    text = "none" if spec.none and had is not None else ""
    if not spec.none:
        text = "; ".join((_flat(spec.text), _flat(spec.source), spec.assumes)).rstrip("; ")
    return Answer(
        address=Address(f"spec.{spec.name}"),
        sequence=state.sequence,
        verb="again" if had is not None else "none" if spec.none else "say",
        text=text,
        reasons=spec.reasons,
        person=person,
    )


def _flat(text: str) -> str:
    """Keep a semicolon from ending a part of the answer."""
    return text.replace(";", ",")
