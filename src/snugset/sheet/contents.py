"""The build sheet: everything that is left of the work, as one frozen value."""

from collections.abc import Iterable
from decimal import Decimal

from snugset.guide.events import Record
from snugset.guide.kinds.kind import said
from snugset.guide.kinds.lash import Lash
from snugset.guide.kinds.nut import Nut
from snugset.guide.kinds.rounds import Rounds
from snugset.guide.scene import Occurrence
from snugset.guide.walk import current, occurrences
from snugset.plan.plan import Plan
from snugset.sheet.again import (
    LashChange,
    Passes,
    Revision,
    lash_changes,
    passes,
    revisions,
)
from snugset.sheet.entries import View, view_of
from snugset.sheet.fastened import FastenerGroup, Torqued, groups, torqued
from snugset.sheet.happened import (
    Aside,
    Overridden,
    Remark,
    Repeated,
    TakenBack,
    asides,
    notes,
    overrides,
    repeated,
    skips,
    taken_back,
)
from snugset.sheet.instruments import Instrument, instruments
from snugset.sheet.pauses import BreakRow, Reopened, Wait, breaks, reopened, waits
from snugset.sheet.people import (
    Handover,
    Person,
    SecondLook,
    handovers,
    people,
    second_looks,
)
from snugset.sheet.photographs import Photograph, photographs
from snugset.sheet.points import Points, points
from snugset.sheet.readings import Missing, NotDue, ReadingRow, final, missing, not_due, rows
from snugset.sheet.rounds import Pushrods, Round, pushrods, rounds
from snugset.sheet.specs import SpecRow, specs
from snugset.sheet.work import ChoiceRow, Count, PhaseRow, choices, counts, phases
from snugset.values import dataclass

CHECK = (
    "To hold the journal against this sheet: snugset verify BUILD, where the build is or where its "
    "backup was put back. It works the chain out again from the first record and prints how many "
    "records there are and the digest; both must be those that stand here."
)
"""How a reader proves that a journal is the one that this sheet was made from."""
CAVEAT = (
    "The chain of digests in the journal finds a record that was changed, added or taken out. That "
    "its last records were cut off shows only against this digest, kept elsewhere than the journal."
)
"""What the digest is good for, and what it is not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineRow:
    """The engine, as its file has it."""

    name: str
    file: str
    layout: str
    cylinders: int
    firing_order: tuple[int, ...]
    running: str
    """Seen from the front."""
    rockers: str
    lifters: str
    ratio: Decimal
    """Valve lift over lifter lift."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ProcedureRow:
    """The procedure, as its file has it."""

    name: str
    file: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where the build stands."""

    finished: bool
    address: str
    """The open step; empty when finished."""
    phase: str
    where: str
    words: str
    """What is to be done there."""
    closed: int
    """Leaves of the plan that are closed …"""
    known: int
    """… and how many there are, as far as is known now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """What matters to whoever takes the engine apart."""

    final: tuple[ReadingRow, ...]
    """The newest reading of every place that is measured in rounds, or set by lash or by nut."""
    doubtful: tuple[ReadingRow, ...]
    """Of those, and of the other readings, the ones that are not proved inside."""
    missing: tuple[Missing, ...]
    """Readings that were skipped, or not come to."""
    not_due: tuple[NotDue, ...]
    """Readings of the procedure that are no part of this build."""
    not_had: tuple[str, ...]
    """Figures that the builder did not have, by name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JournalRow:
    """What this sheet can be held against."""

    records: int
    digest: str
    """The chain's digest after the last of them."""
    check: str
    """How a reader holds a journal against it."""
    caveat: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A build sheet. All times are RFC 3339 in UTC."""

    name: str
    engine: EngineRow
    procedure: ProcedureRow
    begun: str
    last: str
    """When the last answer was given; when it was begun, where there is none."""
    people: tuple[Person, ...]
    handovers: tuple[Handover, ...]
    second_looks: tuple[SecondLook, ...]
    standing: Standing
    summary: Summary
    specs: tuple[SpecRow, ...]
    instruments: tuple[Instrument, ...]
    fasteners: tuple[FastenerGroup, ...]
    torqued: tuple[Torqued, ...]
    points: tuple[Points, ...]
    rounds: tuple[Round, ...]
    pushrods: Pushrods
    readings: tuple[ReadingRow, ...]
    """Those that are measured outside the rounds' own figure."""
    asides: tuple[Aside, ...]
    phases: tuple[PhaseRow, ...]
    counts: tuple[Count, ...]
    choices: tuple[ChoiceRow, ...]
    waits: tuple[Wait, ...]
    overrides: tuple[Overridden, ...]
    skips: tuple[Remark, ...]
    notes: tuple[Remark, ...]
    photographs: tuple[Photograph, ...]
    breaks: tuple[BreakRow, ...]
    passes: tuple[Passes, ...]
    """Stages that went over a group with the same torque again."""
    lash_changes: tuple[LashChange, ...]
    revisions: tuple[Revision, ...]
    reopened: tuple[Reopened, ...]
    repeated: tuple[Repeated, ...]
    taken_back: tuple[TakenBack, ...]
    journal: JournalRow


def sheet_of(plan: Plan, records: Iterable[Record], digest: str) -> Sheet:
    """Make the sheet of a build from its plan, all its records and the chain's digest.

    The same records give the same sheet: no clock is read. ValueError unless the records begin
    with the build's first.
    """
    view = view_of(plan, tuple(records))
    leaves = tuple(occurrences(plan, view.state, view.now))
    not_there = missing(view, leaves)
    in_rounds = {s.block.figure for s in plan.steps.values() if isinstance(s.block, Rounds)}
    at_valves = {s.block.figure for s in plan.steps.values() if isinstance(s.block, Lash | Nut)}
    newest = final(view, sorted(in_rounds | at_valves))
    others = rows(view, (r for r in view.state.readings.values() if r.figure not in in_rounds))
    sheet = specs(view)
    answers = [record.at for record in view.records if record.answer]
    return Sheet(
        name=view.state.name,
        engine=_engine(view),
        procedure=ProcedureRow(name=plan.procedure.name, file=_file(view, "procedure")),
        begun=view.state.begun_at,
        last=answers[-1] if answers else view.state.begun_at,
        people=people(view),
        handovers=handovers(view),
        second_looks=second_looks(view),
        standing=_standing(view, leaves),
        summary=Summary(
            final=newest,
            doubtful=tuple(row for row in dict.fromkeys((*newest, *others)) if row.doubts),
            missing=not_there,
            not_due=not_due(view),
            not_had=tuple(row.name for row in sheet if row.state == "not-had"),
        ),
        specs=sheet,
        instruments=instruments(view, sheet),
        fasteners=groups(view),
        torqued=torqued(view),
        points=points(view),
        rounds=rounds(view, not_there),
        pushrods=pushrods(view),
        readings=others,
        asides=asides(view),
        phases=phases(view),
        counts=counts(view),
        choices=choices(view),
        waits=waits(view),
        overrides=overrides(view),
        skips=skips(view),
        notes=notes(view),
        photographs=photographs(view),
        breaks=breaks(view),
        passes=passes(view),
        lash_changes=lash_changes(view),
        revisions=revisions(view),
        reopened=reopened(view),
        repeated=repeated(view),
        taken_back=taken_back(view),
        journal=JournalRow(records=len(view.records), digest=digest, check=CHECK, caveat=CAVEAT),
    )


def _file(view: View, which: str) -> str:
    return str(view.records[0].body[which]["file"])


def _engine(view: View) -> EngineRow:
    engine = view.plan.engine
    return EngineRow(
        name=engine.name,
        file=_file(view, "engine"),
        layout=engine.layout,
        cylinders=engine.cylinders,
        firing_order=engine.firing_order,
        running=engine.running,
        rockers=engine.rockers,
        lifters=engine.lifters,
        ratio=engine.ratio,
    )


def _standing(view: View, leaves: tuple[Occurrence, ...]) -> Standing:
    found = current(view.plan, view.state, view.now)
    closed = sum(not leaf.open for leaf in leaves)
    if found is None:
        return Standing(
            finished=True,
            address="",
            phase="",
            where="",
            words="",
            closed=closed,
            known=len(leaves),
        )
    return Standing(
        finished=False,
        address=str(found.address),
        phase=view.plan.phase(found.step.id) or "Coming back",
        where=found.place,
        words=said(found.step, found.scene),
        closed=closed,
        known=len(leaves),
    )
