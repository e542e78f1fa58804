"""What taking back the newest answer would come to, said before it is done."""

from collections.abc import Sequence
from datetime import datetime

from snugset.guide.apply import fold
from snugset.guide.ask import prompt
from snugset.guide.events import Record
from snugset.guide.said import said
from snugset.guide.state import State
from snugset.plan.plan import Plan

_MOST = 4
"""Records of one answer that are named; a whole stage is one answer with many."""


def follows(
    plan: Plan, records: Sequence[Record], state: State, moment: datetime
) -> tuple[str, ...]:
    """Give, a line each: what goes out of the record, what is asked then, what changes with it."""
    if not state.given:
        return ("Nothing has been answered yet: there is nothing to take back.",)
    newest = state.given[-1]
    mine = [r for r in records if r.answer == newest.number and r.kind != "undone"]
    before = fold([*records, _undone(records, newest.number, newest.what)])
    asked = prompt(plan, before, moment)
    lines = [f"Out of the record: {said(record)}" for record in mine[:_MOST]]
    if len(mine) > _MOST:
        lines.append(f"… and {len(mine) - _MOST} more of the same answer")
    now = f"{asked.address}: {asked.words}" if asked else "nothing: the build is finished"
    lines.append(f"Asked again then: {now}")
    lines += _changes(state, before)
    lines.append("It corrects the record, not the engine: what was done there still is.")
    return tuple(lines)


def _undone(records: Sequence[Record], number: int, what: str) -> Record:
    last = records[-1]
    return Record(
        sequence=last.sequence + 1,
        answer=max(r.answer for r in records) + 1,
        at=last.at,
        person=last.person,
        kind="undone",
        body={"answer": number, "at": what},
    )


def _changes(now: State, then: State) -> list[str]:
    """Say what of the engine's condition the record would hold otherwise."""
    lines = []
    if now.condition.crank != then.condition.crank:
        crank = then.condition.crank
        stands = "unknown" if crank is None else f"{crank % 360:.0f}° past the mark"
        lines.append(f"The crank then counts as {stands}.")
    marks, were = now.condition.marks, then.condition.marks
    changed = [key for key in {**marks, **were} if marks.get(key) != were.get(key)]
    for what, place in sorted(changed)[:_MOST]:
        found = were.get((what, place))
        at = f" at {place}" if place else ""
        lines.append(f"{what}{at}: {found.value if found else 'not recorded'}")
    gone = set(now.holds) - set(then.holds)
    back = set(then.holds) - set(now.holds)
    lines += [f"No longer waited for: {now.holds[at].what}" for at in sorted(gone)]
    lines += [f"Waited for again: {then.holds[at].what}" for at in sorted(back)]
    restored = [n for n in now.specs if n in then.specs and now.specs[n] != then.specs[n]]
    lines += [f"{name}: again {then.specs[name].typed}" for name in restored]
    return lines
