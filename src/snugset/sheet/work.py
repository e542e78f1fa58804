"""The work as it was done: every closed leaf by phase, what was counted and what was chosen."""

from snugset.guide.address import Address
from snugset.guide.guards import count_before
from snugset.guide.kinds.do import Do
from snugset.guide.kinds.turn import Turn
from snugset.sheet.entries import Entry, View
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PhaseRow:
    """One stretch of the work."""

    title: str
    entries: tuple[Entry, ...]
    """In the order in which they were closed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """Something that was counted."""

    address: str
    what: str
    count: str
    same_as: str
    """The step whose count it must equal; empty for none."""
    before: str
    """That count; empty where there is none."""
    agrees: bool | None
    """None where there is nothing to agree with."""
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoiceRow:
    """A question of the procedure and its answer."""

    address: str
    where: str
    answer: str
    wants: str
    """The answer that goes on without a reason; empty where every one does."""
    at: str
    person: str


def phases(view: View) -> tuple[PhaseRow, ...]:
    """Give what was closed in each phase, in the order of the procedure."""
    by_title: dict[str, list[Entry]] = {phase.title: [] for phase in view.plan.phases}
    for entry in view.entries:
        by_title.setdefault(view.plan.phase(entry.step), []).append(entry)
    return tuple(
        PhaseRow(title=title, entries=tuple(entries)) for title, entries in by_title.items()
    )


def counts(view: View) -> tuple[Count, ...]:
    """Give everything that was counted, in order."""
    found = []
    for entry in view.entries:
        block = view.block(entry.step)
        if not isinstance(block, Do) or not block.count or entry.outcome != "done":
            continue
        before = _before(view, block.same_as, entry.round) if block.same_as else ""
        found.append(
            Count(
                address=entry.address,
                what=block.count,
                count=entry.value,
                same_as=block.same_as,
                before=before,
                agrees=before == entry.value if before else None,
                at=entry.at,
                person=entry.person,
            )
        )
    return tuple(found)


def _before(view: View, step: str, round_: int) -> str:
    fact = count_before(view.scene, step, round_)
    return fact.value if fact is not None and fact.kind == "done" else ""


def choices(view: View) -> tuple[ChoiceRow, ...]:
    """Give every question that was answered by a choice, in order; holes stand with fasteners."""
    found = []
    for entry in view.entries:
        block = view.block(entry.step)
        if isinstance(block, Do | Turn) and block.choices and entry.outcome == "done":
            found.append(
                ChoiceRow(
                    address=entry.address,
                    where=view.where(entry.step, Address.parse(entry.address).place),
                    answer=entry.value,
                    wants=block.wants,
                    at=entry.at,
                    person=entry.person,
                )
            )
    return tuple(found)
