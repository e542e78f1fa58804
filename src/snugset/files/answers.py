"""An answers file: what somebody typed, step by step, to be played through a procedure."""

from datetime import UTC, datetime
from decimal import Decimal

from snugset.files.problems import Mark, Problems
from snugset.files.shape import ScalarShape
from snugset.files.shapes import Amount, Block, Field, ListOf, Misfit, Pattern, Schema, Text
from snugset.files.tree import Node
from snugset.files.versions import Version
from snugset.typed import Any
from snugset.units import Quantity
from snugset.values import dataclass

_ADDRESS = Pattern(
    r"[a-z0-9][a-z0-9.-]*(@[A-Za-z0-9.-]+)?(#[0-9]{1,4})?",
    "an address such as gap@1I#2: step, place, round",
)
_YEARS = range(1970, 2200)
"""No build begins before there are clocks of that sort, and all may run on for centuries."""
_EXPECT = Pattern(r"refused [a-z][a-z-]*", "an expectation such as refused unit")


@dataclass(frozen=True, slots=True, kw_only=True)
class Say:
    """Something typed at an address."""

    at: str
    """The address, as typed."""
    text: str
    """What is typed, empty for Enter alone; or the choice that is picked."""
    pick: bool
    """Whether a choice is picked by its words."""
    refused: str
    """The code of the refusal that must follow; empty when it must be taken."""
    mark: Mark


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait:
    """Time that passes with nobody there."""

    time: Quantity
    mark: Mark


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody else goes on."""

    name: str
    mark: Mark


Entry = Say | Wait | Person


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """A build to be played: its files, its clock, its people, its answers in order."""

    procedure: str
    """Path of the procedure file, as typed."""
    engine: str
    """Path of the engine file, as typed."""
    specs: str
    """Path of the spec sheet, as typed; empty without one."""
    name: str
    """What the build is called."""
    start: datetime
    """When it begins, in UTC."""
    person: str
    pace: Quantity
    """Time from one answer to the next."""
    answers: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class _Time(ScalarShape[datetime]):
    @property
    def wants(self) -> str:
        return "a time such as 2026-11-02T18:04:00Z"

    def read_text(self, text: str, mark: Mark, into: Problems) -> datetime | None:
        try:
            time = datetime.fromisoformat(text)
        except ValueError:
            time = None
        if time is None or time.tzinfo is None or "T" not in text:
            into.add(mark, f"this is not {self.wants}; give the date, the time and a Z for UTC")
            return None
        if time.year not in _YEARS:
            first, last = _YEARS[0], _YEARS[-1]
            into.add(mark, f"the year {time.year} is not from {first} to {last}; mend the date")
            return None
        return time.astimezone(UTC)

    def schema(self) -> Schema:
        return {"type": "string", "format": "date-time"}


def _entry(
    *,
    at: str | None,
    say: str | None,
    pick: str | None,
    expect: str | None,
    wait: Quantity | None,
    person: str | None,
    mark: Mark,
) -> Entry:
    given = {"at": at, "wait": wait, "person": person}
    which = [name for name, value in given.items() if value is not None]
    if len(which) != 1:
        said = " and ".join(f"“{name}”" for name in which) or "neither"
        raise Misfit(f"an entry has one of “at”, “wait” and “person”; this has {said}")
    if at is None:
        for name, value in (("say", say), ("pick", pick), ("expect", expect)):
            if value is not None:
                raise Misfit(f"“{name}” belongs to an entry with “at”; add the address", name)
        if wait is not None:
            return Wait(time=wait, mark=mark)
        return Person(name=person or "", mark=mark)
    if (say is None) == (pick is None):
        raise Misfit('an answer has either “say” or “pick”; write one, say: "" for Enter alone')
    return Say(
        at=at,
        text=say or pick or "",
        pick=pick is not None,
        refused=(expect or "").removeprefix("refused "),
        mark=mark,
    )


_ENTRY = Block(
    _entry,
    {
        "at": Field(_ADDRESS, help="The address of what is answered."),
        "say": Field(Text(2000, blank=True), help="What is typed there; empty for Enter alone."),
        "pick": Field(Text(400), help="The choice that is picked, by its words."),
        "expect": Field(_EXPECT, help="The refusal that must follow."),
        "wait": Field(Amount("min"), help="Time that passes with nobody there."),
        "person": Field(Text(120), help="Who goes on."),
    },
    marked=True,
)


def _answers(*, snugset: str, **fields: Any) -> Answers:  # noqa: ANN401, ARG001 -- as the shapes read
    return Answers(**fields)


ANSWERS = Block(
    _answers,
    {
        "snugset": Field(Version("answers"), needed=True, help="The sort of file and its version."),
        "procedure": Field(Text(400), needed=True, help="Path of the procedure file."),
        "engine": Field(Text(400), needed=True, help="Path of the engine file."),
        "specs": Field(Text(400), default="", help="Path of the spec sheet."),
        "name": Field(Text(120), needed=True, help="What the build is called."),
        "start": Field(_Time(), needed=True, help="When it begins."),
        "person": Field(Text(120), needed=True, help="Who begins."),
        "pace": Field(
            Amount("s"), default=Quantity(Decimal(40), "s"), help="Time from answer to answer."
        ),
        "answers": Field(ListOf(_ENTRY), needed=True, help="What is typed, in order."),
    },
)


def read_answers(node: Node, into: Problems) -> Answers | None:
    """Return the answers; None once a problem was added."""
    return ANSWERS.read(node, into)
