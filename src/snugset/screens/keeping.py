"""How the bench takes what is typed: foreseen as it is typed, kept once, never lost."""

from collections.abc import Sequence
from functools import partial

from textual.content import Content
from textual.widgets import Input

from snugset.guide.address import Address, AddressError
from snugset.guide.ruling import Decision, Refusal
from snugset.journal.errors import JournalError
from snugset.screens import outcome, typed
from snugset.screens.desk import Desk
from snugset.screens.painting import Painting
from snugset.screens.words import text

AGAIN = 20
"""Seconds after which the build is looked at again: a wait may be over."""
SLOW = 0.5
"""Seconds after which it is said that an answer is still being kept."""


class Keeping(Painting):
    """Shows what is typed, keeps an answer, and looks again; the bench says what can be done."""

    def __init__(self, desk: Desk, note: str = "") -> None:
        super().__init__(desk, note)
        self.desk = desk
        self._refused = ""
        """What was typed when it was refused or not kept."""
        self._last = ""
        """What was typed last, to go on from where a rule stopped it."""
        self._warned = -1
        """The sequence at which it was said what stays so in metal; only then it is taken back."""
        self._later: tuple[Address, str] | None = None
        """What was typed when a break came between, to be proposed where it was asked."""

    def on_mount(self) -> None:
        """Show the first prompt."""
        self.show(self.desk.look)
        self.set_interval(AGAIN, self._look_again)

    def on_screen_resume(self) -> None:
        """Show what changed on another screen; what was being typed stays."""
        if self.desk.look is not self.shown:
            self.show(self.desk.look)
            self._foresee(self.field.value)
        self.field.focus()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show what the typed text comes to, as it is typed."""
        event.stop()
        self._foresee(event.value)

    def _foresee(self, words: str) -> None:
        asked = self.desk.look.prompt
        shows = typed.aside(words) or typed.showing(words, asked)[0]
        if not words.strip() or words == self._refused or shows:
            self.foresee(None, None)
            self.say_under(self.under)
            return
        try:
            given = typed.read(words, asked)
        except AddressError as error:
            self.foresee(None, None)
            self.say_under([text(f"✗ {error}", "bold $warning")])
            return
        come = self.desk.preview(given.text, given.at)
        here = asked is not None and given.at is None
        live = outcome.live(asked, given.text, come) if asked is not None and here else None
        self.foresee(live, come if here and isinstance(come, Decision) else None)
        if asked is None or given.at is not None:
            self.say_under(outcome.foreseen(None, given.text, come))
        else:
            self.say_under(outcome.foreseen(asked, given.text, come))

    def on_answer_held(self) -> None:
        """Say why a key that is held down gives no second answer."""
        told = text("A key held down counts once. Press it again for this one.", "italic")
        self.say_under([*self.under, told])

    def _keep(self, words: str, at: Address | None = None, whole: str = "") -> None:
        """Keep an answer off the event loop; the field takes no keys until it is shown."""
        self.field.busy = True
        self.begin_work(partial(self._keeping, words, at, whole))

    async def _keeping(self, words: str, at: Address | None, whole: str) -> None:
        slow = self.set_timer(SLOW, lambda: self.say_under([text("Being kept …", "italic")]))
        try:
            look = await self.desk.say(words, at)
        except JournalError as error:
            self._refuse(
                whole,
                [
                    text(f"✗ Not kept: {error.message}.", "bold $error"),
                    text("It stays typed: Enter tries again, ^N copies the build.", "bold"),
                ],
            )
            return
        finally:
            slow.stop()
        moved = self.shown is None or look.state.sequence != self.shown.state.sequence
        if isinstance(look.outcome, Refusal) and not moved:
            asked = look.prompt if at is None else None
            self._refuse(whole, outcome.refused(asked, words, look.outcome))
            return
        if isinstance(look.outcome, Refusal) and self.shown and self.shown.prompt:
            # Nobody was here for long: something else is asked before what was typed counts.
            self._later = (self.shown.prompt.address, whole)
        stays = self._later is not None and look.prompt and look.prompt.address == self._later[0]
        self._refused, self._last = whole if stays else "", whole
        self.under = outcome.came(look.outcome)
        self.field.value = ""
        self.show(look)

    def _refuse(self, whole: str, parts: Sequence[Content]) -> None:
        """Say why an answer was not taken; it stays typed, to be put right."""
        self._refused, self._last, self.under = whole, whole, parts
        self.say_under(parts)
        self.field.open()
        if whole:
            self.field.begin(whole)

    def _look_again(self) -> None:
        """Look at the build again now and then: a wait may be over."""
        if not self.field.busy and self.is_current:
            self.begin_work(self._looking)

    def painted(self) -> None:
        """Propose what was typed before a break, where it is asked again."""
        super().painted()
        asked = self.desk.look.prompt
        if self._later and asked and asked.address == self._later[0] and not self.field.value:
            self.field.begin(self._later[1])
            self._later = None

    async def _looking(self) -> None:
        try:
            look = await self.desk.refresh()
        except JournalError as error:
            self.say_under([text(f"✗ Not kept: {error.message}.", "bold $error")])
            return
        if self.shown is not None and look.prompt != self.shown.prompt and not self.field.busy:
            self.show(look)
