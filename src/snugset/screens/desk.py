"""One build's bench on a thread of its own, so that a write to disk never holds up a key."""

import asyncio
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from datetime import datetime
from pathlib import Path

from snugset.bench import Bench
from snugset.clock import Clock
from snugset.guide.address import Address
from snugset.guide.answer import parse_answer
from snugset.guide.ask import prompt
from snugset.guide.decide import decide
from snugset.guide.events import Record
from snugset.guide.kinds import KINDS
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Refusal
from snugset.guide.state import State
from snugset.guide.walk import find, occurrences
from snugset.journal.owner import Owner
from snugset.plan.plan import Plan
from snugset.screens.standing import Standing, standing
from snugset.typed import TYPE_CHECKING, Any, Self, TypeVar
from snugset.values import dataclass

if TYPE_CHECKING:
    from snugset.guide.spec_file import Saved
    from snugset.guide.undoing import Undoing

Result = TypeVar("Result")


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """A build as it stands after an answer was kept; what a screen shows."""

    plan: Plan
    state: State
    prompt: Prompt | None
    """None when the build is finished."""
    standing: Standing
    records: tuple[Record, ...]
    outcome: Decision | Refusal | None
    """What the last answer came to."""
    person: str = ""
    """Who answers now."""


def looked(
    plan: Plan,
    state: State,
    records: tuple[Record, ...],
    moment: datetime,
    *,
    outcome: Decision | Refusal | None = None,
    person: str = "",
) -> Look:
    """Look at a build as it stands at a moment."""
    asked = prompt(plan, state, moment)
    leaves = occurrences(plan, state, moment)
    return Look(
        plan=plan,
        state=state,
        prompt=asked,
        standing=standing(plan, leaves, asked.address if asked else None),
        records=records,
        outcome=outcome,
        person=person,
    )


class Desk:
    """The bench, reached from the screens; everything that reads or writes is on one thread."""

    def __init__(self, bench: Bench, pool: ThreadPoolExecutor) -> None:
        self._bench = bench
        self._pool = pool
        self._dropped = False
        self._outcome: Decision | Refusal | None = None
        self.look: Look = self._looked()
        """The build as it stood after the last answer; read on the event loop alone."""

    @classmethod
    async def open(cls, folder: Path, *, owner: Owner, clock: Clock, fresh: bool = False) -> Self:
        """Open a build; JournalError or BuildError if it cannot be."""
        pool = ThreadPoolExecutor(1, thread_name_prefix="bench")
        opening = pool.submit(
            lambda: cls(Bench.open(folder, owner=owner, clock=clock, fresh=fresh), pool)
        )
        try:
            return await asyncio.wrap_future(opening)
        except asyncio.CancelledError:
            # The screens were left while it was being opened.
            opening.add_done_callback(_let_go)
            raise
        finally:
            if not opening.done() or opening.cancelled() or opening.exception() is not None:
                pool.shutdown(wait=False)

    @property
    def build(self) -> str:
        """The build's id."""
        return self._bench.journal.folder.name

    def _looked(self) -> Look:
        bench = self._bench
        return looked(
            bench.plan,
            bench.state,
            tuple(bench.records),
            bench.clock(),
            outcome=self._outcome,
            person=bench.person,
        )

    async def say(self, typed: str, at: Address | None = None) -> Look:
        """Answer; when this returns the answer is on disk, or was refused.

        JournalError if it could not be written; nothing is acknowledged then, and it can be said
        again.
        """

        def answered() -> Look:
            self._outcome = self._bench.say(typed, at=at)
            return self._looked()

        self.look = await self._on(answered)
        return self.look

    async def refresh(self) -> Look:
        """Look again, with the last outcome: a wait may be over, or nobody was here for long.

        JournalError if the break could not be kept; the look is then as it was.
        """

        def looked() -> Look:
            self._bench.notice()
            return self._looked()

        self.look = await self._on(looked)
        return self.look

    def asked_at(self, at: Address) -> Prompt | None:
        """Give what is asked at any place of the build as it stands; None where there is none."""
        found = find(self.look.plan, self.look.state, self._bench.clock(), at)
        ask = KINDS[found.step.kind].ask if found else None
        return ask(found) if found and ask else None

    async def copy(self, target: Path) -> tuple[str, tuple[str, ...]]:
        """Write everything that was acknowledged into one new file; JournalError if it cannot.

        The digest, and what is wrong with the photographs, which are copied as far as they can be.
        """
        bench = self._bench
        return await self._on(lambda: (bench.copy(target), bench.spoiled()))

    async def undoing(self) -> "Undoing":
        """Say what taking back the newest answer would come to, keeping nothing."""
        from snugset.guide.undoing import undoing  # noqa: PLC0415 - loaded when asked for

        bench = self._bench
        return await self._on(
            lambda: undoing(bench.plan, bench.records, bench.state, bench.clock())
        )

    async def order(self) -> str:
        """Write the order list of the build as it was looked at last, as plain text."""
        look = self.look

        def written() -> str:
            from snugset.sheet.order import order_of  # noqa: PLC0415 - loaded when asked for
            from snugset.sheet.order_text import order_text  # noqa: PLC0415 - as above

            return order_text(order_of(look.plan, look.records))

        return await self._on(written)

    async def fill(self, path: Path, *, taking: bool) -> tuple[str, ...]:
        """Say what a spec sheet file changes; `taking` keeps it, all of it or nothing.

        BuildError with every mistake, its line and a caret; JournalError if it could not be kept.
        """
        bench = self._bench

        def filled() -> tuple[str, ...]:
            from snugset import filling  # noqa: PLC0415 - loaded when asked for
            from snugset.opening import pin  # noqa: PLC0415 - as above

            file = pin(path)
            if taking:
                found = filling.take(bench, file)
                self._outcome = None
                self.look = self._looked()
            else:
                found = filling.proposed(bench.plan, file, bench.state, bench.person, bench.clock())
            return tuple(filling.changed_lines(found))

        return await self._on(filled)

    async def save_specs(self, path: Path) -> "Saved":
        """Write the spec sheet to a new file; OSError if that cannot be."""

        def saved() -> "Saved":
            from snugset.guide.spec_file import spec_file  # noqa: PLC0415 - loaded when asked for
            from snugset.writing import write_new  # noqa: PLC0415 - as above

            found = spec_file(self._bench.plan, self._bench.state)
            write_new(path, found.text)
            return found

        return await self._on(saved)

    def preview(self, typed: str, at: Address | None = None) -> Decision | Refusal | None:
        """Say what an answer would come to, keeping nothing; None where nothing is asked."""
        look = self.look
        address = at or (look.prompt.address if look.prompt else None)
        if address is None:
            return None
        answer = parse_answer(
            typed, address=address, sequence=look.state.sequence, person=self._bench.person
        )
        return decide(look.plan, look.state, answer, self._bench.clock())

    async def sheet(self) -> Path:
        """Write the build sheet into the build's folder and give its path; JournalError."""
        from snugset.sheets import keep_sheet  # noqa: PLC0415 - loaded when asked for

        return await self._on(lambda: keep_sheet(self._bench.journal.folder))

    async def let_go(self) -> None:
        """Let the build go, once what is being kept is kept."""
        if not self._dropped:
            self._dropped = True
            await self._on(self._bench.close)
            self._pool.shutdown(wait=False)

    def drop(self) -> None:
        """Let the build go when there is no event loop any more; waits for what is being kept."""
        if not self._dropped:
            self._dropped = True
            self._pool.submit(self._bench.close).result()
            self._pool.shutdown()

    async def _on(self, work: Callable[[], Result]) -> Result:
        return await asyncio.wrap_future(self._pool.submit(work))


def _let_go(opening: Future[Any]) -> None:
    """Close a build that nobody waits for any more, on its own thread."""
    if not opening.cancelled() and opening.exception() is None:
        opening.result()._bench.close()  # noqa: SLF001 - its own class
