"""Who worked: everybody with initials, who took over from whom, who looked a second time."""

from snugset.guide.kinds.second_look import SUFFIX, looked_at
from snugset.guide.people import initials
from snugset.sheet.entries import View
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody who answered."""

    name: str
    initials: str
    """Nobody else's in this build."""
    answers: int
    """How many, those too that were taken back."""
    first: str
    last: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Handover:
    """Another person went on: as was said, or because somebody else came to the build."""

    former: str
    person: str
    """Who went on."""
    said: bool
    """Whether it was said at the bench; otherwise it shows from who answered next."""
    at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondLook:
    """What a second person looked at."""

    address: str
    """Of the look."""
    step: str
    where: str
    by: str
    """Who looked; empty where nobody but who did it could."""
    reason: str
    """Why it went on without one; empty where somebody looked."""
    at: str
    person: str
    """Who answered then."""


def people(view: View) -> tuple[Person, ...]:
    """Give everybody, in the order in which they came."""
    short = initials(view.state.people)
    found = []
    for name in view.state.people:
        theirs = [r for r in view.records if r.person == name]
        found.append(
            Person(
                name=name,
                initials=short[name],
                answers=len({r.answer for r in theirs if r.answer and r.kind != "handover"}),
                first=theirs[0].at,
                last=theirs[-1].at,
            )
        )
    return tuple(found)


def handovers(view: View) -> tuple[Handover, ...]:
    """Give every change of who answers, in order."""
    return tuple(
        Handover(
            former=before.person,
            person=record.person,
            said=record.kind == "handover",
            at=record.at,
        )
        for before, record in zip(view.records, view.records[1:], strict=False)
        if record.person != before.person
    )


def second_looks(view: View) -> tuple[SecondLook, ...]:
    """Give every second look that stands, in order."""
    found = []
    for entry in view.entries:
        if not entry.step.endswith(SUFFIX):
            continue
        step = looked_at(entry.step)
        why = [o.reason for o in view.state.overrides if str(o.address) == entry.address]
        found.append(
            SecondLook(
                address=entry.address,
                step=step,
                where=view.where(step, entry.place),
                by=entry.value,
                reason=why[-1] if why and not entry.value else "",
                at=entry.at,
                person=entry.person,
            )
        )
    return tuple(found)
