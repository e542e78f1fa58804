"""Plays a build over the shipped procedure with the pure core: no journal, no clock but its own."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

from snugset.clock import utc
from snugset.files.figures import read_value, value_to_json
from snugset.guide.address import Address
from snugset.guide.answer import parse_answer
from snugset.guide.apply import apply, fold
from snugset.guide.decide import decide
from snugset.guide.events import Event, Record
from snugset.guide.kinds import KINDS
from snugset.guide.kinds.do import Do
from snugset.guide.kinds.gap import Gap
from snugset.guide.kinds.hold import Wait
from snugset.guide.kinds.how_many import how_many
from snugset.guide.kinds.read import Measure
from snugset.guide.kinds.second_look import Looked
from snugset.guide.kinds.torque import Tighten
from snugset.guide.kinds.turn import Turn
from snugset.guide.returning import came_back
from snugset.guide.ruling import Decision, Refusal
from snugset.guide.scene import Occurrence
from snugset.guide.state import State
from snugset.guide.walk import current
from snugset.opening import pin_shared
from snugset.plan.plan import Pinned, Plan
from snugset.stored import begun, plan_of, recorded
from snugset.values import replace

ROOT = Path(__file__).parents[2]
SPECS = {
    "head-flatness": ("0.005 in", "shop leaflet, p. 3", ""),
    "deck-flatness": ("0.003 in", "shop leaflet, p. 3", ""),
    "sealant-open-time": ("3 h", "tin", ""),
    "head-stages": ("30, 60, 85 lbf·ft", "shop leaflet, p. 4", "engine oil"),
    "head-wrench": ("20..120 lbf·ft", "its scale", ""),
    "pushrod-runout": ("0.006 in", "shop leaflet, p. 5", ""),
    "pushrod-length": ("10.340 in", "long calliper", "overall, over the oil-hole ends"),
    "pushrod-catalogue": ("step 0.020 in", "list, p. 11", "overall"),
    "pushrod-tolerance": ("0.002 in", "list, p. 11", ""),
    "lifter-state": ("dry", "new", ""),
    "lifter-travel": ("0.150 in", "lifter card", ""),
    "preload-window": ("0.020..0.060 in", "lifter card", "cold engine"),
    "preload-target": ("0.038 in", "lifter card", ""),
    "camshaft": ("IVO 10 IVC 46 EVO 50 EVC 8 at seat", "camshaft card", ""),
    "rocker-torque": ("27 lbf·ft", "shop leaflet, p. 5", "engine oil"),
    "piston-intake-room": ("0.080 in", "camshaft card", ""),
    "piston-exhaust-room": ("0.100 in", "camshaft card", ""),
    "coil-bind-room": ("0.060 in", "spring card", ""),
    "cover-clearance": ("0.080 in", "shop leaflet, p. 6", ""),
    "cover-torque": ("72 lbf·in", "shop leaflet, p. 6", ""),
    "retorque": ("cold", "gasket sheet", ""),
    "retorque-torque": ("85 lbf·ft", "gasket sheet", "engine oil"),
    "changes": ("gasket", "seen", ""),
    "liners": ("no", "seen", ""),
}
"""Invented; the figures that are left out are not had."""
PROCEDURE = "procedures/inline-six-bridged-hydraulic.yaml"
MEASURED = {
    "clearance": ".120",
    "piston-intake": ".120",
    "piston-exhaust": ".120",
    "coil-bind": ".120",
    "new-length": ".001",
}
"""What is read where all goes well, by ledger."""
START = datetime(2026, 3, 7, 8, 0, tzinfo=UTC)


def pinned(path: str) -> Pinned:
    file = ROOT / path
    return Pinned(file=file.name, text=file.read_text(encoding="utf-8"))


@dataclass
class Bench:
    """A build in memory."""

    records: list[Record]
    plan: Plan
    state: State
    person: str = "Wren"
    now: datetime = START
    replies: dict[str, str] = field(default_factory=dict)
    """What is said at an address, once, in place of the plain answer."""
    gap: Callable[[Address], str] = lambda at: "78; 79" if at.round == 1 else "38; 39"

    def keep(self, events: tuple[Event, ...], answer: int) -> None:
        kept = recorded(
            events, after=self.state.sequence, answer=answer, at=utc(self.now), person=self.person
        )
        self.records += kept
        if any(record.kind == "undone" for record in kept):
            self.state = fold(self.records)
            return
        for record in kept:
            self.state = apply(self.state, record)

    def say(self, typed: str, at: str = "") -> Decision | Refusal:
        """Answer what is asked, or at another address, forty seconds after the last answer."""
        self.now += timedelta(seconds=40)
        found = current(self.plan, self.state, self.now)
        address = Address.parse(at) if at else found.address if found else Address("finished")
        answer = parse_answer(
            typed, address=address, sequence=self.state.sequence, person=self.person
        )
        outcome = decide(self.plan, self.state, answer, self.now)
        if isinstance(outcome, Decision):
            self.keep(outcome.events, self.state.answer + 1)
        return outcome

    def take(self, typed: str, at: str = "") -> None:
        """Answer, and see that it is taken."""
        outcome = self.say(typed, at)
        assert isinstance(outcome, Decision), outcome

    def leave(self, **away: int) -> None:
        """Go away and come back."""
        self.now += timedelta(**away)
        self.keep(came_back(self.plan, self.state, self.now), 0)

    def until(self, address: str) -> None:
        """Give plain answers, or the replies, until that address is asked; empty: to the end."""
        for _ in range(800):
            found = current(self.plan, self.state, self.now)
            if found is None or str(found.address) == address:
                assert (found is None) == (not address), found
                return
            self.now += timedelta(seconds=40)
            if found.address in self.state.holds:
                self.now += timedelta(hours=20)
            found = replace(found, scene=found.scene.at(now=self.now))
            typed = self.replies.pop(str(found.address), None)
            if typed is None:
                typed = self.plain(found)
            answer = parse_answer(
                typed,
                address=found.address,
                sequence=self.state.sequence,
                person=self.person,
            )
            kind = KINDS[found.step.kind]
            if answer.verb in kind.verbs and kind.decide is not None:
                self.keep(kind.decide(found, answer).events, self.state.answer + 1)
                continue
            outcome = decide(self.plan, self.state, answer, self.now)
            assert isinstance(outcome, Decision), outcome
            self.keep(outcome.events, self.state.answer + 1)
        raise AssertionError(f"never came to {address}")

    def plain(self, found: Occurrence) -> str:
        """What somebody says with whom all goes well."""
        match found.step.block:
            case Do(count=what, equals=equals, group=group) if what:
                return str(how_many(found.scene, equals, group)) if equals else "12"
            case Do(wants=wants, choices=choices) if choices:
                return wants or choices[0]
            case Turn(wants=wants) if wants:
                return wants
            case Measure(figure=figure):
                return MEASURED.get(figure, ".002")
            case Gap():
                return self.gap(found.address)
            case Wait() if found.address in self.state.holds:
                return "arrived"
            case Looked():
                return "Robin"
            case Tighten():
                return "stage"
        return ""


def begin(name: str = "Pump six") -> Bench:
    """Begin a build with an invented spec sheet on record."""
    procedure = pinned(PROCEDURE)
    engine = pinned("procedures/engines/barn-pump-six.yaml")
    shared = pin_shared(ROOT / PROCEDURE, procedure)
    first = begun(name, procedure, engine, at=utc(START), person="Wren", shared=shared)
    plan = plan_of([first])
    bench = Bench(records=[first], plan=plan, state=fold([first]))
    for number, figure in enumerate(plan.procedure.figures.values(), 1):
        text, source, assumes = SPECS.get(figure.name, (figure.none_value, "common practice", ""))
        body = {
            "at": f"spec.{figure.name}",
            "name": figure.name,
            "typed": text,
            "value": value_to_json(read_value(figure, text) if text else None),
            "had": figure.name in SPECS,
            "source": source if text else "",
            "assumes": assumes,
        }
        bench.keep((Event("spec", body),), number)
    return bench
