"""What taking back the newest answer would come to, said before it is done."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.answer import Answer
from snugset.guide.apply import fold
from snugset.guide.ask import prompt
from snugset.guide.decide import decide
from snugset.guide.events import Record
from snugset.guide.ruling import Refusal
from snugset.guide.said import said
from snugset.guide.state import State
from snugset.guide.walk import occurrences
from snugset.plan.plan import Plan
from snugset.values import dataclass

_MOST = 4
"""Records, places or marks that are named; a whole stage is one answer with many."""
_TORQUE = ("tighten", "torque", "torque-to", "verify", "accept")
_TURNED = ("angle", "loosen")
AGAIN = "It corrects the record, not the engine: what was done there still is."


@dataclass(frozen=True, slots=True, kw_only=True)
class Undoing:
    """What goes, what is asked then, what changes, and what stays as it is in metal."""

    lines: tuple[str, ...]
    metal: bool
    """Whether something was done to the engine that taking back does not take off again."""
    possible: bool
    """Whether there is anything to take back now."""


def follows(
    plan: Plan, records: Sequence[Record], state: State, moment: datetime
) -> tuple[str, ...]:
    """Give, a line each, what taking back the newest answer would come to."""
    return undoing(plan, records, state, moment).lines


def undoing(plan: Plan, records: Sequence[Record], state: State, moment: datetime) -> Undoing:
    """Work out what taking back the newest answer would come to, keeping nothing."""
    come = decide(
        plan,
        state,
        Answer(address=Address("back"), sequence=state.sequence, verb="back"),
        moment,
    )
    if isinstance(come, Refusal):
        return Undoing(lines=(come.words,), metal=False, possible=False)
    newest = state.given[-1]
    mine = [r for r in records if r.answer == newest.number and r.kind != "undone"]
    last = records[-1]
    undone = [
        Record(
            sequence=last.sequence + number,
            answer=state.answer + 1,
            at=last.at,
            person=last.person,
            kind=event.kind,
            body=event.body,
        )
        for number, event in enumerate(come.events, 1)
    ]
    before = fold([*records, *undone])
    asked = prompt(plan, before, moment)
    metal = list(_metal(plan, mine))
    lines = _few("Still so in metal", metal)
    lines += [f"Out of the record: {said(record)}" for record in mine[:_MOST]]
    if len(mine) > _MOST:
        lines.append(f"… and {len(mine) - _MOST} more of the same answer")
    now = f"{asked.address}: {asked.words}" if asked else "nothing: the build is finished"
    lines.append(f"Asked again then: {now}")
    lines += _opened(plan, state, before, moment, asked.address if asked else None)
    lines += _changes(state, before)
    lines.append(AGAIN)
    return Undoing(lines=tuple(lines), metal=bool(metal), possible=True)


def _few(what: str, found: Sequence[str]) -> list[str]:
    """Name some things after a word, and how many more there are."""
    if not found:
        return []
    more = f" and {len(found) - _MOST} more" if len(found) > _MOST else ""
    return [f"{what}: {'; '.join(found[:_MOST])}{more}"]


def _opened(
    plan: Plan, now: State, then: State, moment: datetime, asked: Address | None
) -> list[str]:
    """Say what else becomes open, and what is no longer part of the work."""
    are = {found.address: found.open for found in occurrences(plan, now, moment)}
    were = {found.address: found.open for found in occurrences(plan, then, moment)}
    opened = [a for a, is_open in were.items() if is_open and not are.get(a, True) and a != asked]
    gone = [address for address in are if address not in were and address in now.facts]
    return [
        *_few("Open again too", [str(address) for address in opened]),
        *_few("No longer asked, though it was answered", [str(address) for address in gone]),
    ]


def _metal(plan: Plan, mine: Sequence[Record]) -> Iterator[str]:
    """Say what these records did to the engine: it stays so until somebody undoes it by hand."""
    for record in mine:
        if record.kind != "done":
            continue
        address = Address.parse(str(record.body["at"]))
        step = plan.steps.get(address.step)
        value = record.body.get("value", "")
        effects = [each for each in record.body.get("effects", ()) if each["value"] is not None]
        if any(each["set"] == "crank" for each in effects):
            yield "the crank stands where it was turned to"
        elif step is not None and step.kind in _TORQUE:
            yield f"{address.place or address.step} has {value or 'its torque'}"
        elif step is not None and step.kind in _TURNED:
            turned = "was turned by its angle" if step.kind == "angle" else "is loosened"
            yield f"{address.place or address.step} {turned}"
        elif step is None or _by_hand(step):
            yield from (f"{each['set']} {each['place']}".strip() for each in effects)


def _by_hand(step: Step) -> bool:
    """Tell whether what a step records was done to the engine, not only looked up."""
    return bool(getattr(step.block, "marks", "")) and getattr(step.block, "marks", "") != "hole"


def _changes(now: State, then: State) -> list[str]:
    """Say what of the engine's condition the record would hold otherwise."""
    lines = []
    if now.condition.crank != then.condition.crank:
        crank = then.condition.crank
        stands = (
            "unknown: number one is proven again"
            if crank is None
            else f"{crank % 360:.0f}° past the mark"
        )
        lines.append(f"The crank then counts as {stands}.")
    marks, were = now.condition.marks, then.condition.marks
    changed = [key for key in {**marks, **were} if marks.get(key) != were.get(key)]
    for what, place in sorted(changed)[:_MOST]:
        found = were.get((what, place))
        at = f" at {place}" if place else ""
        lines.append(f"{what}{at}: {found.value if found else 'not recorded'}")
    if len(changed) > _MOST:
        lines.append(f"… and {len(changed) - _MOST} more of what is recorded of the engine")
    gone = set(now.holds) - set(then.holds)
    back = set(then.holds) - set(now.holds)
    lines += [f"No longer waited for: {now.holds[at].what}" for at in sorted(gone)]
    lines += [f"Waited for again: {then.holds[at].what}" for at in sorted(back)]
    restored = [n for n in now.specs if n in then.specs and now.specs[n] != then.specs[n]]
    lines += [f"{name}: again {then.specs[name].typed}" for name in restored]
    lines += [f"{name}: not answered" for name in now.specs if name not in then.specs]
    return lines
