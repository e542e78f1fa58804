"""One build on the bench: the shell that keeps what the core decides before it is shown."""

from datetime import datetime
from pathlib import Path
from types import TracebackType

from snugset.clock import Clock, utc
from snugset.guide.address import Address
from snugset.guide.answer import Answer, parse_answer
from snugset.guide.apply import apply, fold
from snugset.guide.ask import prompt
from snugset.guide.beside import HANDOVER
from snugset.guide.decide import decide
from snugset.guide.events import Event, Record
from snugset.guide.prompt import Prompt
from snugset.guide.returning import IDLE, came_back
from snugset.guide.ruling import Decision, Refusal
from snugset.guide.state import State
from snugset.journal.attachments import PhotoError, Picture, keep_picture
from snugset.journal.errors import JournalError
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.journal.pictured import pictured
from snugset.stored import fitting, head_of, plan_of, recorded, stood
from snugset.typed import Self

BEHIND = (
    "The build holds more than was shown: an answer was kept though the disk reported a fault, or "
    "another program wrote. Read what is asked now, then answer."
)


class Bench:
    """The one writer of a build: asks, decides, keeps. What it returns is durable."""

    def __init__(self, journal: Journal, *, clock: Clock, person: str) -> None:
        self.journal = journal
        self.clock = clock
        self.person = person
        """Who answers now; a handover changes it."""
        self.base = Path()
        """The folder that the paths of photographs are taken from."""
        self.records: list[Record] = list(journal.records())
        self.plan, self.state = stood(self.records, journal.folder.name)

    @classmethod
    def open(cls, folder: Path, *, owner: Owner, clock: Clock, fresh: bool = False) -> Self:
        """Open a build; what a break put in doubt is kept before anything is asked.

        `fresh` is for a build that was begun this moment: there was no break.
        """
        journal = Journal.open(folder, owner=owner)
        try:
            bench = cls(journal, clock=clock, person=owner.person)
            with fitting(folder.name):
                if not fresh:
                    bench.came_back()
                bench.prompt()
        except BaseException:
            journal.close()
            raise
        return bench

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        _kind: type[BaseException] | None,
        _error: BaseException | None,
        _trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let the build go."""
        self.journal.close()

    def copy(self, target: Path) -> str:
        """Write everything that was acknowledged into one new file; the digest of its chain.

        It needs nothing of the build's own disk but its attachments.
        """
        from snugset.journal.carry import copy_records  # noqa: PLC0415 - loads the archive

        if not target.parent.is_dir():
            raise JournalError("disk", f"there is no folder {target.parent}; make it first")
        head = head_of(self.plan, self.state, self.clock())
        return copy_records(self.journal.folder, self.records, head, target)

    def spoiled(self) -> tuple[str, ...]:
        """Say which photographs are missing, or are not what was copied into the build."""
        from snugset.journal.attachments import problems  # noqa: PLC0415 - for a copy only

        return tuple(problems(self.journal.folder, self.records))

    def came_back(self) -> None:
        """Keep that there was a break, before a prompt is derived."""
        events = came_back(self.plan, self.state, self.clock())
        if events:
            self._keep(events, answer=0)

    def notice(self) -> bool:
        """Keep that nobody answered for half an hour; tell whether it was so."""
        idle = (self.clock() - datetime.fromisoformat(self.state.last_at)).total_seconds()
        if idle <= IDLE or self.state.returning:
            return False
        before = self.state
        try:
            self.came_back()
        except JournalError as error:
            self._catch_up(error)
        return self.state is not before

    def prompt(self) -> Prompt | None:
        """Give the one thing asked now; None when the build is finished."""
        return prompt(self.plan, self.state, self.clock())

    @property
    def standing(self) -> Address:
        """Where the build stands, also while coming back to it is not read yet.

        The figure itself, where its source is asked: that takes any words for its own.
        """
        asked = self.prompt()
        if asked is None:
            return Address("finished")
        stood = self.state.breaks[-1].stood if self.state.returning else ""
        at = Address.parse(stood) if stood else asked.address
        return Address(".".join(at.step.split(".")[:2])) if at.step.startswith("spec.") else at

    def say(self, typed: str, *, at: Address | None = None) -> Decision | Refusal:
        """Answer what is asked now, or at another address what may be answered there."""
        address = at
        if address is None:
            asked = self.prompt()
            address = asked.address if asked else Address("finished")
        return self.answer(
            parse_answer(typed, address=address, sequence=self.state.sequence, person=self.person)
        )

    def hand_over(self, name: str) -> Decision | Refusal:
        """Let another person go on, whatever is asked; a refusal says why not."""
        return self.say(f"person {name}", at=HANDOVER)

    def answer(self, answer: Answer) -> Decision | Refusal:
        """Decide an answer and keep its events; a refusal changes nothing.

        After half an hour without one, the break is kept first, and the answer is refused: it was
        meant for an engine that may not be as it was left.
        """
        if self.notice():
            return Refusal(
                code="away",
                words="More than half an hour has passed: read what is asked now, then answer "
                "again what you typed.",
                suggest=(answer.text,) if answer.text else (),
            )
        picture: Picture | None = None
        if answer.verb == "photo" and answer.text:
            first = decide(self.plan, self.state, answer, self.clock())
            if isinstance(first, Refusal) and first.code == "photo-unread":
                try:
                    picture, answer = pictured(answer, self.base)
                except PhotoError as error:
                    return Refusal(code=error.code, words=str(error))
        decision = decide(self.plan, self.state, answer, self.clock())
        if isinstance(decision, Decision):
            if picture is not None:
                keep_picture(self.journal.folder, picture)
            person = decision.person or self.person
            try:
                self._keep(decision.events, answer=self.state.answer + 1, person=person)
            except JournalError as error:
                self._catch_up(error)
                return Refusal(code="behind", words=BEHIND, suggest=(answer.text,))
            self.person = person
        return decision

    def _catch_up(self, error: JournalError) -> None:
        """Go on from what the journal has come to hold; any other error is raised again."""
        if error.code != "behind":
            raise error
        self.journal.catch_up()
        self.records = list(self.journal.records())
        self.plan = plan_of(self.records)
        self.state = fold(self.records)

    def _keep(self, events: tuple[Event, ...], *, answer: int, person: str = "") -> None:
        moment = self.clock()
        self._add(
            recorded(
                events,
                after=self.state.sequence,
                answer=answer,
                at=utc(moment),
                person=person or self.person,
            ),
            moment,
        )

    def keep(self, records: list[Record]) -> None:
        """Keep records decided from this state, all or none: a spec sheet filled from a file."""
        if records:
            self._add(records, self.clock())

    def _add(self, records: list[Record], moment: datetime) -> None:
        state = self._after(records)
        self._store(records, state, moment)
        self.records += records
        self.state = state

    def _store(self, records: list[Record], state: State, moment: datetime) -> None:
        """Make records durable, with the state after them."""
        self.journal.append(records, head_of(self.plan, state, moment))

    def _after(self, records: list[Record]) -> State:
        """Fold on; an undo takes an answer out of the middle, so it folds from the first record."""
        if any(record.kind == "undone" for record in records):
            return fold([*self.records, *records])
        state = self.state
        for record in records:
            state = apply(state, record)
        return state
