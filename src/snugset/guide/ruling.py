"""How a kind answers: events, or a refusal with the way through."""

from typing import NoReturn

from snugset.guide.address import Address
from snugset.guide.answer import Answer
from snugset.guide.events import Body, Event
from snugset.units import UnitError
from snugset.values import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """An answer that changed nothing."""

    code: str
    words: str
    suggest: tuple[str, ...] = ()
    """Texts that could be typed instead."""
    overridable: bool = False
    """The same answer with a reason goes through."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """An answer that was taken."""

    events: tuple[Event, ...]
    said: tuple[str, ...] = ()
    """What to tell the builder, a line each."""
    code: str = ""
    """Why the prompt stays open although something was recorded; empty otherwise."""
    person: str = ""
    """Who answers from now on, this answer among it; empty: whoever did."""


class Stop(Exception):  # noqa: N818 - it is a ruling, not an error
    """Carries a refusal out of a kind."""

    def __init__(self, refusal: Refusal) -> None:
        super().__init__(refusal.words)
        self.refusal = refusal


def stop(code: str, words: str, *suggest: str) -> NoReturn:
    """Refuse, with no way through."""
    raise Stop(Refusal(code=code, words=words, suggest=suggest))


@dataclass(slots=True)
class Ruling:
    """Gathers the events of one answer; a rule that is broken stops it unless a reason is given."""

    answer: Answer
    address: Address
    events: list[Event] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    used: int = 0
    """How many of the answer's reasons were used; one covers one rule."""

    @property
    def reason(self) -> str:
        """The reasons used so far, for what goes on against rules."""
        return "; ".join(self.answer.reasons[: self.used])

    @property
    def has_reason(self) -> bool:
        """Whether a reason is left for one more rule."""
        return self.used < len(self.answer.reasons)

    def rule(self, code: str, words: str, *suggest: str) -> None:
        """Stop here, or note the override when the answer carries one more reason."""
        if not self.has_reason:
            raise Stop(Refusal(code=code, words=words, suggest=suggest, overridable=True))
        reason = self.answer.reasons[self.used]
        self.used += 1
        self.add(
            "override",
            {
                "at": str(self.address),
                "code": code,
                "words": words,
                "reason": reason,
            },
        )
        self.said.append(f"Noted, against the rule ({code}): {reason}")

    def unit_error(self, error: UnitError) -> None:
        """Turn a units error into a ruling: a unit slip has a way through, bad text has none."""
        if error.code in ("factor", "band"):
            self.rule(error.code, error.message, *error.suggest)
        else:
            stop(error.code, error.message, *error.suggest)

    def add(self, kind: str, body: Body) -> None:
        """Add an event."""
        self.events.append(Event(kind, body))

    def done(
        self, value: str = "", effects: tuple[Body, ...] = (), address: Address | None = None
    ) -> None:
        """Close this leaf, or another of the same answer."""
        self.add(
            "done", {"at": str(address or self.address), "value": value, "effects": list(effects)}
        )

    def decision(self, code: str = "") -> Decision:
        """Give what was gathered; a reason that no rule asked for is kept as a note."""
        for reason in () if code else self.answer.reasons[self.used :]:
            self.add("note", {"at": str(self.address), "text": reason})
            self.said.append(f"No rule stopped this; kept as a note: {reason}")
        return Decision(events=tuple(self.events), said=tuple(self.said), code=code)


def effect(what: str, place: str = "", value: str | None = "yes") -> Body:
    """Make an effect on the engine's condition; a value of None takes the mark away."""
    return {"set": what, "place": place, "value": value}
