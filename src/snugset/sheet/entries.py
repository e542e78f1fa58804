"""One leaf of the work that was closed, and the build seen as such leaves."""

from collections.abc import Iterator, Mapping
from datetime import datetime
from decimal import Decimal, InvalidOperation

from snugset.files.fasteners import words
from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.apply import fold
from snugset.guide.events import Record
from snugset.guide.kinds.crank import Crank
from snugset.guide.kinds.each import Each
from snugset.guide.kinds.rounds import Rounds
from snugset.guide.kinds.stage_blocks import Stages
from snugset.guide.kinds.torque import Tighten
from snugset.guide.scene import Scene, when
from snugset.guide.state import State
from snugset.plan.places import bridges, cylinders, valves
from snugset.plan.plan import Plan
from snugset.plan.stages import Stage
from snugset.typed import Literal
from snugset.units import Quantity, UnitError
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One leaf as it stands closed."""

    address: str
    step: str
    place: str
    """The key of the place, empty without one."""
    round: int
    """The round of measuring, 0 outside rounds."""
    kind: str
    """The step's kind: do, read, torque …"""
    outcome: Literal["done", "reading", "skipped", "judged"]
    value: str
    """The count, choice, setting or verdict; why it was skipped; empty for a tick."""
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Home:
    """Where in the plan a step stands."""

    over: str = ""
    """What its places are: fasteners, cylinders, bridges, valves."""
    group: str = ""
    rounds: str = ""
    """The container of rounds that holds it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A build as the sheet reads it: the plan, the records, and their fold."""

    plan: Plan
    records: tuple[Record, ...]
    standing: tuple[Record, ...]
    """The records of answers that were not taken back, and of what no answer made."""
    state: State
    now: datetime
    """The last record's moment: the sheet has no clock of its own."""
    homes: Mapping[str, Home]
    entries: tuple[Entry, ...]
    """Every closed leaf, in the order in which they were closed."""

    @property
    def scene(self) -> Scene:
        """The plan and state as the step kinds' own functions ask for them."""
        return Scene(plan=self.plan, state=self.state, now=self.now)

    def home(self, step: str) -> Home:
        """Give where a step stands; ``points.turn`` stands with points."""
        return self.homes.get(step) or self.homes.get(step.rpartition(".")[0]) or Home()

    def block(self, step: str) -> object:
        """Give what the step's kind made of its fields; None for what the guide itself asks."""
        found = self.plan.steps.get(step)
        return None if found is None else found.block

    def where(self, step: str, place: str) -> str:
        """Say a place in words: ``intake of 1``; empty where it has none."""
        home, engine = self.home(step), self.plan.engine
        if home.over == "fasteners":
            staged = isinstance(self.block(step), Tighten)
            key = place.partition(".")[2] if staged else place
            group = engine.fasteners.get(home.group)
            return words(group, key) if group is not None and key in group.places else ""
        sites = {"valves": valves, "bridges": bridges, "cylinders": cylinders}.get(home.over)
        if sites is None:
            return ""
        return next((site.words for site in sites(engine) if site.key == place), "")

    def phase(self, address: str) -> str:
        """Give the title of the phase that an address stands in."""
        return self.plan.phase(Address.parse(address).step)


def view_of(plan: Plan, records: tuple[Record, ...]) -> View:
    """Fold the records of a build; ValueError unless they begin where the build did."""
    if not records or records[0].kind != "begun":
        raise ValueError("a build sheet needs every record of its build, from the first one on")
    undone = {record.body["answer"] for record in records if record.kind == "undone"}
    state = fold(records)
    return View(
        plan=plan,
        records=records,
        standing=tuple(r for r in records if r.answer == 0 or r.answer not in undone),
        state=state,
        now=when(records[-1].at),
        homes=dict(_homes(plan)),
        entries=tuple(_entries(plan, state)),
    )


def _entries(plan: Plan, state: State) -> Iterator[Entry]:
    for address, fact in sorted(state.facts.items(), key=lambda pair: pair[1].sequence):
        step = plan.steps.get(address.step)
        yield Entry(
            address=str(address),
            step=address.step,
            place=address.place,
            round=address.round,
            kind="crank-turn" if step is None else step.kind,
            outcome=fact.kind,
            value=fact.value,
            at=fact.at,
            person=fact.person,
        )


def _homes(plan: Plan) -> Iterator[tuple[str, Home]]:
    first = next(iter(plan.engine.fasteners), "")
    for phase in plan.phases:
        yield from _inside(phase.steps, Home(), first)


def _inside(steps: tuple[Step, ...], outer: Home, first: str) -> Iterator[tuple[str, Home]]:
    for step in steps:
        home = outer
        match step.block:
            case Each():
                group = step.block.group or first if step.block.over == "fasteners" else ""
                home = Home(over=step.block.over, group=group, rounds=outer.rounds)
            case Crank():
                home = Home(over=step.block.over, rounds=outer.rounds)
            case Rounds():
                home = Home(rounds=step.id)
            case Tighten():
                home = Home(over="fasteners", group=step.block.group, rounds=outer.rounds)
            case Stages():
                home = Home(over="fasteners", group=step.block.group)
            case Stage():
                home = Home(over="fasteners", group=step.block.group or outer.group)
        yield step.id, home
        for inner in step.children.values():
            yield from _inside(inner, home, first)


def quantity_of(text: str) -> Quantity | None:
    """Read a setting as a leaf keeps it, ``30 lbf·ft``; None for anything else."""
    value, _, unit = text.partition(" ")
    try:
        return Quantity(Decimal(value), unit)
    except (InvalidOperation, UnitError):
        return None
