"""Following a build that is open elsewhere: the same picture, and no answer is taken."""

import asyncio

from textual.content import Content
from textual.widgets import Static

from snugset.journal.errors import JournalError
from snugset.screens.desk import Look
from snugset.screens.doors import Opening
from snugset.screens.follower import Follower
from snugset.screens.painting import Painting
from snugset.screens.words import text

EVERY = 2
"""Seconds from one look to the next."""


class FollowScreen(Painting):
    """A build as it goes on elsewhere; once it is free, one key takes it over."""

    NAME = "follow"

    def __init__(self, opening: Opening, follower: Follower) -> None:
        super().__init__(follower, "")
        self._opening = opening
        self._follower = follower
        self.under = self._who()

    def on_mount(self) -> None:
        """Show it, and look again now and then."""
        self.show(self._follower.look)
        self.set_interval(EVERY, self.action_again)

    def _who(self) -> list[Content]:
        """Say who has it open, or that nobody has."""
        if not self._follower.held:
            return [text("It is free now: Enter takes it over.", "bold")]
        owner = self._follower.owner
        by = f": {owner}" if owner else ""
        return [text(f"Read only. Open elsewhere{by}.", "bold $warning")]

    def show(self, look: Look) -> None:
        """Paint it with no line to type in."""
        super().show(look)
        self.query_one("#cue", Static).update(text("read only"))
        self.field.placeholder = ""

    def painted(self) -> None:
        """Take no keys: nothing is answered here."""
        self.place()

    def action_again(self) -> None:
        """Read the build again."""
        self.begin_work(self._looking, anew=True)

    async def _looking(self) -> None:
        try:
            look = await asyncio.to_thread(self._follower.refresh)
        except (JournalError, ValueError) as error:
            self.under = [text(f"It cannot be read now: {error}.", "bold $error")]
            self.say_under(self.under)
            return
        self.under = self._who()
        if self.is_attached:
            self.show(look)

    def action_take(self) -> None:
        """Take the build over; the list of builds opens it."""
        self.begin_work(self._taking)

    async def _taking(self) -> None:
        await self._looking()
        if not self._follower.held:
            self.dismiss(Opening(folder=self._opening.folder, clock=self._opening.clock))

    def action_leave(self) -> None:
        """Go back to the list."""
        self.dismiss(None)


async def stand_beside(opening: Opening) -> FollowScreen:
    """Read a build to be followed; JournalError or BuildError if it cannot be read."""
    follower = await asyncio.to_thread(Follower, opening.folder, opening.clock)
    return FollowScreen(opening, follower)
