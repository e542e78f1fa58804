"""Playing an answers file through a procedure, with its own clock and people."""

from datetime import datetime, timedelta
from pathlib import Path

from snugset.bench import Bench
from snugset.files.answers import Answers, Person, Say, Wait, read_answers
from snugset.files.problems import Mark, Problems
from snugset.files.whole import read_whole
from snugset.guide.address import Address
from snugset.guide.events import Record
from snugset.guide.returning import IDLE
from snugset.guide.ruling import Decision, Refusal
from snugset.guide.state import State
from snugset.journal.owner import Owner
from snugset.journal.shelf import Shelf
from snugset.opening import begin, pin, pin_named, pin_shared
from snugset.stored import BuildError, head_of
from snugset.units import Quantity
from snugset.values import dataclass


class PlayError(ValueError):
    """An answer that went otherwise than the file says, with its place."""

    def __init__(self, mark: Mark, words: str) -> None:
        super().__init__(f"{mark.file}:{mark.line}:{mark.column}: {words}")


@dataclass(slots=True)
class Paced:
    """A clock that moves when it is told to."""

    moment: datetime

    def __call__(self) -> datetime:
        """Give the moment now."""
        return self.moment

    def advance(self, seconds: float) -> None:
        """Move on; OverflowError past the year 9999."""
        self.moment += timedelta(seconds=seconds)


@dataclass(frozen=True, slots=True, kw_only=True)
class Played:
    """What came of a replay."""

    folder: Path
    answers: int
    refused: int
    finished: bool


def read_answers_file(path: Path) -> Answers:
    """Read an answers file; BuildError with every mistake in it."""
    text = pin(path, str(path))
    into = Problems()
    answers = read_whole(text.text, text.file, read_answers, into)
    if answers is None:
        raise BuildError("\n".join(str(problem) for problem in into.items))
    return answers


class _AtOnce(Bench):
    """A bench that writes once, when it is closed: for a build that can be played again."""

    _waiting: tuple[Record, ...] = ()

    def _store(self, records: list[Record], _state: State, _moment: datetime) -> None:
        self._waiting += tuple(records)

    def close(self) -> None:
        """Make everything durable, and let the build go."""
        try:
            if self._waiting:
                self.journal.append(self._waiting, head_of(self.plan, self.state, self.clock()))
        finally:
            super().close()


def play(
    path: Path, shelf: Shelf, *, stop_before: int | None = None, at_once: bool = False
) -> Played:
    """Begin the build of an answers file and answer all its prompts; it stays on the shelf.

    `stop_before` leaves off before that entry, counted from 0. PlayError at the first answer that
    is refused and should not be, or the other way about; the build then stands where it stopped.
    `at_once` writes to disk once, at the end: many times faster, and all or nothing.
    """
    answers = read_answers_file(path)
    clock = Paced(answers.start)
    owner = Owner.here(person=answers.person, since="")
    work = path.parent / answers.procedure
    procedure = pin_named(work)
    folder = begin(
        shelf,
        name=answers.name,
        procedure=procedure,
        shared=pin_shared(work, procedure),
        engine=pin_named(path.parent / answers.engine),
        specs=pin_named(path.parent / answers.specs) if answers.specs else None,
        owner=owner,
        moment=clock(),
    )
    given = refused = 0
    kind = _AtOnce if at_once else Bench
    with kind.open(folder, owner=owner, clock=clock, fresh=True) as bench:
        bench.base = path.parent
        for entry in answers.answers[:stop_before]:
            if isinstance(entry, Wait):
                _pass(clock, entry.time, entry.mark)
                if entry.time.number("s") >= IDLE:
                    bench.came_back()
            elif isinstance(entry, Person):
                handed = bench.hand_over(entry.name)
                if isinstance(handed, Refusal):
                    raise PlayError(entry.mark, f"person {entry.name}: {handed.words}")
            else:
                _pass(clock, answers.pace, entry.mark)
                outcome = bench.say(entry.text, at=Address.parse(entry.at))
                refused += bool(_expected(entry, outcome))
                given += 1
        finished = bench.prompt() is None
    return Played(folder=folder, answers=given, refused=refused, finished=finished)


def _pass(clock: Paced, time: Quantity, mark: Mark) -> None:
    try:
        clock.advance(time.number("s"))
    except OverflowError:
        raise PlayError(mark, "this is after the year 9999; shorten the waits") from None


def _expected(entry: Say, outcome: Decision | Refusal) -> bool:
    """Hold an outcome against what the file expects; tell whether it was refused."""
    code = outcome.code
    words = outcome.words if isinstance(outcome, Refusal) else "; ".join(outcome.said)
    if code and not entry.refused:
        raise PlayError(entry.mark, f"{entry.at}: “{entry.text}” was refused ({code}): {words}")
    if entry.refused and code != entry.refused:
        came = f"refused with {code}: {words}" if code else "taken"
        raise PlayError(
            entry.mark,
            f"{entry.at}: “{entry.text}” should be refused with {entry.refused}; it was {came}",
        )
    return bool(code)
