"""The largest build that the bars speak of: a V8, 34 fasteners in four stages, 5,000 events."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

from snugset.clock import utc
from snugset.files.answers import Say
from snugset.guide.answer import parse_answer
from snugset.guide.apply import apply, fold
from snugset.guide.decide import decide
from snugset.guide.events import Event, Record
from snugset.guide.ruling import Decision
from snugset.guide.state import State
from snugset.guide.walk import current
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.opening import pin, pin_shared, spec_records
from snugset.plan.plan import Pinned, Plan
from snugset.play import read_answers_file
from snugset.shipped import root
from snugset.stored import begun, compiled, head_of, recorded

EVENTS = 5000
TIGHTEN = "head-tighten"
"""The step of which two stages and part of the third are done."""
_WALK = Path(__file__).parents[1] / "walk"
_ANSWERS = _WALK / "v8-bridged-hydraulic-answers.yaml"
_MORE = 14
"""Fasteners more than the engine file has."""


def pinned() -> tuple[Pinned, Pinned, dict[str, Pinned], Pinned]:
    """Give procedure, engine with 34 head fasteners, shared groups, and specs with four stages."""
    file = root() / "procedures" / "v8-bridged-hydraulic.yaml"
    procedure = pin(file)
    engine = pin(root() / "procedures" / "engines" / "quarry-eight.yaml")
    specs = pin(_WALK / "v8-bridged-hydraulic-specs.yaml")
    names = [f"m{number}" for number in range(1, _MORE + 1)]
    places = [
        f'      "{name}": {{x: {number * 1.2:.1f} in, y: 6.25 in, hole: dry through}}\n'
        for number, name in enumerate(names)
    ]
    more = "".join(f', "{name}"' for name in names)
    wider = (
        engine.text.replace('"r1", "r10"]', f'"r1", "r10"{more}]')
        .replace("right inner, left", "right inner, middle, left", 1)
        .replace("    places:\n", f"    places:\n{''.join(places)}", 1)
    )
    four = specs.text.replace("25, 50, 70 lbf·ft", "25, 50, 65, 70 lbf·ft")
    return (
        procedure,
        Pinned(file=engine.file, text=wider),
        pin_shared(file, procedure),
        Pinned(file=specs.file, text=four),
    )


class Largest:
    """The build as it stands halfway through the third stage, with as many notes as it takes."""

    def __init__(self, events: int = EVENTS) -> None:
        procedure, engine, shared, specs = pinned()
        self.moment = datetime(2026, 9, 7, 7, 30, tzinfo=UTC)
        self.plan: Plan = compiled(procedure, engine, shared)
        first = begun(
            "Largest", procedure, engine, at=utc(self.moment), person="Wren", shared=shared
        )
        self.records: list[Record] = [first]
        self.state: State = fold(self.records)
        self.records += spec_records(self.plan, specs, self.state, "Wren", self.moment)
        self.state = fold(self.records)
        self._work(f"{TIGHTEN}@3.m1")
        self._note(events)

    def _work(self, until: str) -> None:
        """Answer as the answers file does, and where the build is larger as best fits."""
        typed = {e.at: e.text for e in read_answers_file(_ANSWERS).answers if isinstance(e, Say)}
        while (found := current(self.plan, self.state, self.moment)) is not None:
            at = str(found.address)
            if at == until:
                return
            self.moment += timedelta(seconds=20)
            text = typed.get(at, "")
            if not any(map(self._say, (text, "", "34", f"{text} ! as counted", "skip not here"))):
                raise SystemExit(f"nothing is taken at {at}")
        raise SystemExit(f"{until} is never asked")

    def _say(self, text: str) -> bool:
        found = current(self.plan, self.state, self.moment)
        if found is None:
            return False
        answer = parse_answer(
            text, address=found.address, sequence=self.state.sequence, person="Wren"
        )
        decision = decide(self.plan, self.state, answer, self.moment)
        if isinstance(decision, Decision):
            self._keep(decision.events)
        return isinstance(decision, Decision)

    def _note(self, events: int) -> None:
        found = current(self.plan, self.state, self.moment)
        while found is not None and len(self.records) < events:
            body = {"at": str(found.address), "text": f"Note {len(self.records)}: nothing new."}
            self._keep((Event("note", body),))

    def _keep(self, events: tuple[Event, ...]) -> None:
        kept = recorded(
            events,
            after=self.state.sequence,
            answer=self.state.answer + 1,
            at=utc(self.moment),
            person="Wren",
        )
        for record in kept:
            self.state = apply(self.state, record)
        self.records += kept

    def store(self, data: Path) -> Path:
        """Make its folder in a data folder, as if the last answer was given this moment."""
        owner = Owner.here(person="Wren", since="")
        folder = data / "builds" / "largest"
        head = head_of(self.plan, self.state, self.moment)
        Journal.create(folder, owner=owner, records=self.records, head=head).close()
        return folder
