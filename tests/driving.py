"""Drives the guide in memory: plan, state and a clock, with no journal and no screen."""

from collections.abc import Callable, Iterator, Mapping
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from textwrap import indent
from typing import NamedTuple

from snugset.clock import utc
from snugset.files.answers import Answers, Person, Say, Wait
from snugset.guide.address import Address
from snugset.guide.answer import parse_answer
from snugset.guide.apply import apply, fold
from snugset.guide.ask import prompt
from snugset.guide.decide import decide
from snugset.guide.events import Event, Record
from snugset.guide.prompt import Prompt
from snugset.guide.returning import came_back
from snugset.guide.ruling import Decision, Refusal
from snugset.guide.state import State
from snugset.opening import pin, pin_shared, spec_records
from snugset.plan.plan import Pinned, Plan
from snugset.play import read_answers_file
from snugset.stored import begun, compiled, recorded
from snugset.values import dataclass, field

ROOT = Path(__file__).parent.parent
PROCEDURE = ROOT / "procedures" / "inline-six-bridged-hydraulic.yaml"
ENGINE = ROOT / "procedures" / "engines" / "barn-pump-six.yaml"
SPECS = ROOT / "demo" / "specs.yaml"
ANSWERS = ROOT / "demo" / "answers.yaml"
START = datetime(2026, 3, 6, 17, 40, tzinfo=UTC)


class Stop(NamedTuple):
    """Where a walk of the demo stands after so many of its entries."""

    at: str
    records: int
    state: State
    now: datetime
    person: str


class Trail(NamedTuple):
    """The demo's walk with one spec sheet, as far as a table has gone it: nobody goes it twice."""

    records: list[Record]
    stops: list[Stop]


@dataclass(slots=True)
class Table:
    """A build in memory."""

    plan: Plan
    procedure: Pinned
    engine: Pinned
    shared: Mapping[str, Pinned] = field(default_factory=dict)
    records: list[Record] = field(default_factory=list)
    state: State = field(default_factory=State)
    now: datetime = START
    person: str = "Wren"
    position: int = 0
    """How many of the demo's entries were given."""
    trail: Trail | None = None
    """The demo's own walk, which the table is on until it is told anything else."""
    _known: tuple[Plan, State, datetime, Prompt | None] | None = None
    """The prompt that was looked at last, with what it was worked out from."""

    def begin(self, specs: Pinned | None = None) -> "Table":
        """Keep the first record and the spec sheet's."""
        first = begun(
            "Test six",
            self.procedure,
            self.engine,
            at=utc(self.now),
            person="Wren",
            shared=self.shared,
        )
        self._keep([first])
        if specs is not None:
            self._keep(spec_records(self.plan, specs, self.state, "Wren", self.now))
        return self

    def _keep(self, records: list[Record]) -> None:
        self.records += records
        if any(r.kind == "undone" for r in records):
            self.state = fold(self.records)
        for record in records:
            if record.kind != "undone":
                self.state = apply(self.state, record)

    def keep(self, events: tuple[Event, ...], answer: int) -> None:
        """Record events as the shell does."""
        self._keep(
            recorded(
                events,
                after=self.state.sequence,
                answer=answer,
                at=utc(self.now),
                person=self.person,
            )
        )

    @property
    def asked(self) -> Prompt:
        """The prompt; fails where the build is finished."""
        found = self._prompt()
        assert found is not None
        return found

    @property
    def at(self) -> str:
        """The address asked now, empty when the build is finished."""
        found = self._prompt()
        return "" if found is None else str(found.address)

    def _prompt(self) -> Prompt | None:
        """Work the prompt out once for a state and a moment: tests look at it again and again."""
        known, now = self._known, self.now
        if known and known[0] is self.plan and known[1] is self.state and known[2] == now:
            return known[3]
        found = prompt(self.plan, self.state, now)
        self._known = (self.plan, self.state, now, found)
        return found

    def say(self, typed: str, at: str = "") -> Decision | Refusal:
        """Answer, a moment later."""
        self.now += timedelta(seconds=45)
        address = Address.parse(at) if at else self.asked.address
        answer = parse_answer(
            typed, address=address, sequence=self.state.sequence, person=self.person
        )
        outcome = decide(self.plan, self.state, answer, self.now)
        if isinstance(outcome, Decision):
            self.person = outcome.person or self.person
            self.keep(outcome.events, self.state.answer + 1)
        return outcome

    def refused(self, typed: str, at: str = "") -> Refusal:
        """Answer; fails unless it is refused with the state unchanged."""
        before = self.state
        outcome = self.say(typed, at)
        assert isinstance(outcome, Refusal), outcome
        assert self.state is before
        return outcome

    def taken(self, typed: str, at: str = "") -> Decision:
        """Answer; fails unless it is taken."""
        outcome = self.say(typed, at)
        assert isinstance(outcome, Decision), outcome
        return outcome

    def away(self, span: timedelta) -> None:
        """Go away and come back."""
        self.now += span
        self.keep(came_back(self.plan, self.state, self.now), 0)

    def until(self, address: str) -> "Table":
        """Give the demo's answers up to an address."""
        every = demo_answers().answers
        while trail := self._on_trail():
            for position, stop in enumerate(trail.stops[self.position :], self.position):
                if stop.at == address:
                    return self._stand(trail, position)
            self._stand(trail, len(trail.stops) - 1)
            if self.position == len(every):
                break
            self._go(every[self.position])
            more = self.records[len(trail.records) :]
            trail.records.extend(more)
            trail.stops.append(self._stop())
        while self.at != address and self.position < len(every):
            self._go(every[self.position])
        assert self.at == address, self.at
        return self

    def _go(self, entry: Say | Wait | Person) -> None:
        self.position += 1
        self.enter(entry)

    def _stop(self) -> Stop:
        return Stop(self.at, len(self.records), self.state, self.now, self.person)

    def _on_trail(self) -> Trail | None:
        """Give the trail, unless anything was said or done beside it."""
        if self.trail is None or self.position >= len(self.trail.stops):
            return None
        stop = self.trail.stops[self.position]
        here = (len(self.records), self.now, self.person)
        on = self.state is stop.state and here == (stop.records, stop.now, stop.person)
        return self.trail if on else None

    def _stand(self, trail: Trail, position: int) -> "Table":
        self.position, stop = position, trail.stops[position]
        self.records[:] = trail.records[: stop.records]
        self.state, self.now, self.person = stop.state, stop.now, stop.person
        return self

    def until_step(self, address: str) -> None:
        """Take every proposal until an address is asked; fails at a refusal."""
        while self.at != address:
            self.taken("")

    def enter(self, entry: Say | Wait | Person) -> None:
        """Do one entry of an answers file."""
        if isinstance(entry, Wait):
            self.away(timedelta(seconds=entry.time.number("s")))
        elif isinstance(entry, Person):
            self.now -= timedelta(seconds=45)  # a handover takes no time of its own
            self.say(f"person {entry.name}", "handover")
        else:
            self.say(entry.text, entry.at)


@cache
def demo_answers() -> Answers:
    """Read the demo's answers once."""
    return read_answers_file(ANSWERS)


def entries(answers: Answers | None = None) -> Iterator[Say | Wait | Person]:
    """Give the entries of an answers file, the demo's without one."""
    yield from (answers or demo_answers()).answers


@cache
def shipped_plan() -> tuple[Plan, Pinned, Pinned, Mapping[str, Pinned]]:
    """Compile the shipped procedure and engine once."""
    procedure, engine = pin(PROCEDURE), pin(ENGINE)
    shared = pin_shared(PROCEDURE, procedure)
    return compiled(procedure, engine, shared), procedure, engine, shared


_TRAILS: dict[str, Trail] = {}
"""By the text of the spec sheet."""


def table(*, specs: bool = True, edit: Callable[[str], str] | None = None) -> Table:
    """Set a table with the shipped procedure; `edit` changes the spec sheet's text."""
    plan, procedure, engine, shared = shipped_plan()
    told = Table(plan, procedure, engine, shared)
    if not specs:
        return told.begin()
    sheet = pin(SPECS)
    if edit is not None:
        sheet = Pinned(file=sheet.file, text=edit(sheet.text))
    told.trail = _TRAILS.get(sheet.text)
    if told.trail is not None:
        return told._stand(told.trail, 0)
    told.begin(sheet)
    told.trail = _TRAILS[sheet.text] = Trail(list(told.records), [told._stop()])
    return told


def small(
    steps: str,
    *,
    figures: str = "",
    specs: str = "",
    engine: str = "",
    head: str = "",
    shared: Mapping[str, str] | None = None,
) -> Table:
    """Set a table with a procedure written for one test: its steps, as a list from column 1.

    `figures` and `specs` are lines from column 1 under their names, `head` other fields.
    """
    text = f"snugset: procedure/1\nname: Small\n{head}\n"
    text += f"figures:\n{indent(figures, '  ')}\n" if figures else ""
    text += f"phases:\n  - title: Work\n    steps:\n{indent(steps, '      ')}\n"
    procedure = Pinned(file="small.yaml", text=text)
    machine = Pinned(file="engine.yaml", text=engine or ENGINE.read_text("utf-8"))
    groups = {
        name: Pinned(file=f"shared/{name}.yaml", text=t) for name, t in (shared or {}).items()
    }
    plan = compiled(procedure, machine, groups)
    sheet = None
    if specs:
        body = "".join(f"  {line}\n" for line in specs.strip().split("\n"))
        sheet = Pinned(file="specs.yaml", text=f"snugset: specs/1\nfigures:\n{body}")
    return Table(plan, procedure, machine, groups).begin(sheet)
