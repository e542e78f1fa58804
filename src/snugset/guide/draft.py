"""A state being written: its mappings are copied once, so that a fold stays linear."""

from collections.abc import Mapping
from decimal import Decimal

from snugset.guide.address import Address
from snugset.guide.state import (
    Break,
    Condition,
    Fact,
    Given,
    Hold,
    Judged,
    Mark,
    Note,
    Override,
    Photograph,
    Planned,
    Reading,
    SetAside,
    Spec,
    State,
)
from snugset.values import dataclass


@dataclass(slots=True, kw_only=True)
class Draft:
    """The same parts as a State, open to change; see there for what each is."""

    name: str
    sequence: int
    answer: int
    given: list[Given]
    specs: dict[str, Spec]
    facts: dict[Address, Fact]
    readings: dict[Address, Reading]
    planned: dict[str, Planned]
    judged: dict[Address, Judged]
    holds: dict[Address, Hold]
    crank: Decimal | None
    marks: dict[tuple[str, str], Mark]
    set_aside: list[SetAside]
    overrides: list[Override]
    notes: list[Note]
    photographs: list[Photograph]
    breaks: list[Break]
    returning: bool
    begun_at: str
    last_at: str
    last_person: str
    people: list[str]

    @classmethod
    def of(cls, state: State) -> "Draft":
        """Open a copy of a state."""
        return cls(
            name=state.name,
            sequence=state.sequence,
            answer=state.answer,
            given=list(state.given),
            specs=dict(state.specs),
            facts=dict(state.facts),
            readings=dict(state.readings),
            planned=dict(state.planned),
            judged=dict(state.judged),
            holds=dict(state.holds),
            crank=state.condition.crank,
            marks=dict(state.condition.marks),
            set_aside=list(state.set_aside),
            overrides=list(state.overrides),
            notes=list(state.notes),
            photographs=list(state.photographs),
            breaks=list(state.breaks),
            returning=state.returning,
            begun_at=state.begun_at,
            last_at=state.last_at,
            last_person=state.last_person,
            people=list(state.people),
        )

    def freeze(self) -> State:
        """Give the state as written so far; the draft is not used after."""
        marks: Mapping[tuple[str, str], Mark] = self.marks
        return State(
            name=self.name,
            sequence=self.sequence,
            answer=self.answer,
            given=tuple(self.given),
            specs=self.specs,
            facts=self.facts,
            readings=self.readings,
            planned=self.planned,
            judged=self.judged,
            holds=self.holds,
            condition=Condition(crank=self.crank, marks=marks),
            set_aside=tuple(self.set_aside),
            overrides=tuple(self.overrides),
            notes=tuple(self.notes),
            photographs=tuple(self.photographs),
            breaks=tuple(self.breaks),
            returning=self.returning,
            begun_at=self.begun_at,
            last_at=self.last_at,
            last_person=self.last_person,
            people=tuple(self.people),
        )
