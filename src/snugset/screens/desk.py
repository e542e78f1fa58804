"""One build's bench on a thread of its own, so that a write to disk never holds up a key."""

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Self, TypeVar

from snugset.bench import Bench, Clock
from snugset.guide.address import Address
from snugset.guide.answer import parse_answer
from snugset.guide.ask import Progress, progress
from snugset.guide.decide import decide
from snugset.guide.events import Record
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Refusal
from snugset.guide.state import State
from snugset.journal.owner import Owner
from snugset.plan.plan import Plan

Result = TypeVar("Result")


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """A build as it stands after an answer was kept; what a screen shows."""

    plan: Plan
    state: State
    prompt: Prompt | None
    """None when the build is finished."""
    progress: Progress
    records: tuple[Record, ...]
    outcome: Decision | Refusal | None
    """What the last answer came to."""


class Desk:
    """The bench, reached from the screens; everything of it runs on one thread."""

    def __init__(self, bench: Bench, pool: ThreadPoolExecutor) -> None:
        self._bench = bench
        self._pool = pool
        self._dropped = False
        self.look: Look = self._looked(None)

    @classmethod
    async def open(cls, folder: Path, *, owner: Owner, clock: Clock, fresh: bool = False) -> Self:
        """Open a build; JournalError or BuildError if it cannot be."""
        pool = ThreadPoolExecutor(1, thread_name_prefix="bench")
        try:
            bench = await _on(
                pool, lambda: Bench.open(folder, owner=owner, clock=clock, fresh=fresh)
            )
            return await _on(pool, lambda: cls(bench, pool))
        except BaseException:
            pool.shutdown(wait=False)
            raise

    def _looked(self, outcome: Decision | Refusal | None) -> Look:
        bench = self._bench
        moment = bench.clock()
        return Look(
            plan=bench.plan,
            state=bench.state,
            prompt=bench.prompt(),
            progress=progress(bench.plan, bench.state, moment),
            records=tuple(bench.records),
            outcome=outcome,
        )

    async def say(self, typed: str, at: Address | None = None) -> Look:
        """Answer; when this returns the answer is on disk, or was refused.

        JournalError if it could not be written; nothing is acknowledged then, and it can be said
        again.
        """

        def answered() -> Look:
            return self._looked(self._bench.say(typed, at=at))

        self.look = await _on(self._pool, answered)
        return self.look

    async def refresh(self) -> Look:
        """Look again: time passes, and a wait may be over."""
        self.look = await _on(self._pool, lambda: self._looked(None))
        return self.look

    def preview(self, typed: str) -> Decision | Refusal | None:
        """Say what an answer would come to, keeping nothing; None where nothing is asked."""
        look = self.look
        if look.prompt is None:
            return None
        answer = parse_answer(
            typed,
            address=look.prompt.address,
            sequence=look.state.sequence,
            person=self._bench.person,
        )
        return decide(look.plan, look.state, answer, self._bench.clock())

    def drop(self) -> None:
        """Let the build go, once what is being kept is kept."""
        if not self._dropped:
            self._dropped = True
            self._pool.submit(self._bench.close).result(timeout=5)
            self._pool.shutdown(wait=False)


async def _on(pool: ThreadPoolExecutor, work: Callable[[], Result]) -> Result:
    return await asyncio.get_running_loop().run_in_executor(pool, work)
