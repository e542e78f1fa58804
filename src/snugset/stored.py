"""A build as records: begun, with their files compiled, folded, and put in a head."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import datetime

from snugset.clock import utc
from snugset.files.problems import Problems
from snugset.guide.apply import fold
from snugset.guide.ask import prompt
from snugset.guide.bodies import RecordError, check_records
from snugset.guide.events import Event, Record
from snugset.guide.kinds import BLOCKS
from snugset.guide.state import State
from snugset.journal.errors import JournalError
from snugset.journal.head import Head
from snugset.plan.plan import Pinned, Plan, read_plan
from snugset.typed import Any


class BuildError(ValueError):
    """A build that cannot be begun or read; one sentence a line."""


def compiled(procedure: Pinned, engine: Pinned, shared: Mapping[str, Pinned] | None = None) -> Plan:
    """Compile pinned files; BuildError with every mistake in them.

    `shared` holds the shared groups that the procedure names, by the bare names of their files.
    """
    into = Problems()
    plan = read_plan(procedure, engine, BLOCKS, into, shared)
    if plan is None:
        raise BuildError("\n".join(str(problem) for problem in into.items))
    return plan


def texts_of(records: tuple[Record, ...] | list[Record]) -> dict[str, Pinned]:
    """Give the newest files of a build: procedure, engine, and shared ones as ``shared NAME``."""
    if not records or records[0].kind != "begun":
        raise BuildError("This build's journal does not say with which files it was begun.")
    body = next(r.body for r in reversed(records) if r.kind in ("begun", "revised"))
    shared = {f"shared {name}": Pinned(**text) for name, text in body.get("shared", {}).items()}
    return {
        "procedure": Pinned(**body["procedure"]),
        "engine": Pinned(**body["engine"]),
        **shared,
    }


def plan_of(records: tuple[Record, ...] | list[Record]) -> Plan:
    """Compile the newest files of a build."""
    texts = texts_of(records)
    shared = {
        name.removeprefix("shared "): pinned
        for name, pinned in texts.items()
        if name.startswith("shared ")
    }
    return compiled(texts["procedure"], texts["engine"], shared)


@contextmanager
def fitting(build: str) -> Iterator[None]:
    """Turn what goes wrong when records are worked out into a BuildError about that build.

    A journal of a stranger may hold records that are each well-formed and mean nothing together:
    places that no engine has, a count that is no number. They are left as they are.
    """
    try:
        yield
    except (BuildError, JournalError):
        raise
    except (ArithmeticError, AttributeError, LookupError, TypeError, ValueError) as fault:
        why = str(fault) if isinstance(fault, RecordError) else type(fault).__name__
        raise BuildError(
            f"{build}: its records do not go with its files ({why}); "
            "the journal is left as it is: restore a backup"
        ) from fault


def stood(records: tuple[Record, ...] | list[Record], build: str) -> tuple[Plan, State]:
    """Give the plan and the state of a stored build; BuildError if its records make none."""
    with fitting(build):
        check_records(records)
        return plan_of(records), fold(records)


def begun(
    name: str,
    procedure: Pinned,
    engine: Pinned,
    *,
    at: str,
    person: str,
    shared: Mapping[str, Pinned] | None = None,
) -> Record:
    """Make the first record of a build."""
    body: dict[str, Any] = {
        "name": name,
        "procedure": {"file": procedure.file, "text": procedure.text},
        "engine": {"file": engine.file, "text": engine.text},
    }
    if shared:
        body["shared"] = {
            bare: {"file": pinned.file, "text": pinned.text} for bare, pinned in shared.items()
        }
    return Record(sequence=1, answer=0, at=at, person=person, kind="begun", body=body)


def recorded(
    events: tuple[Event, ...], *, after: int, answer: int, at: str, person: str
) -> list[Record]:
    """Give events their place in the journal."""
    return [
        Record(
            sequence=number,
            answer=answer,
            at=at,
            person=person,
            kind=event.kind,
            body=event.body,
        )
        for number, event in enumerate(events, after + 1)
    ]


def head_of(plan: Plan, state: State, moment: datetime) -> Head:
    """Say where a build stands, for the list of builds."""
    asked = prompt(plan, state, moment)
    return Head(
        name=state.name,
        procedure=plan.procedure.name,
        engine=plan.engine.name,
        step="finished" if asked is None else str(asked.address),
        waiting_for="; ".join(sorted(hold.what for hold in state.holds.values())),
        updated=utc(moment),
    )
