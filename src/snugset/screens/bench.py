"""The bench: one thing to do, large and plain, with its view beside it."""

from typing import cast

from snugset.guide.address import AddressError
from snugset.guide.kinds.spec import PARTS
from snugset.guide.ruling import Refusal
from snugset.journal.errors import JournalError
from snugset.journal.owner import Owner
from snugset.screens import asking, typed
from snugset.screens.answer import Answer
from snugset.screens.desk import Desk
from snugset.screens.doors import Opening
from snugset.screens.keeping import Keeping
from snugset.screens.words import text
from snugset.typed import TYPE_CHECKING

if TYPE_CHECKING:
    from snugset.screens.app import SnugsetApp


class BenchScreen(Keeping):
    """What the builder lives in."""

    NAME = "bench"

    def on_answer_given(self, message: Answer.Given) -> None:
        """Take an answer, or do what a word asks for."""
        word = typed.aside(message.typed)
        if word:
            self.field.open()
            self.field.value = ""
            self.call_later(self.run_action, word)
            return
        shows, named = typed.showing(message.typed, self.desk.look.prompt)
        if shows == "copy":
            self.field.open()
            self.field.value = ""
            self._copying(named)
            return
        if shows == "figure":
            from snugset.plain.aside import figured  # noqa: PLC0415 - loaded when asked for

            lines = figured(self.desk.look.plan.engine, named)
            self._refuse(message.typed, [text(line.strip()) for line in lines])
            return
        try:
            given = typed.read(message.typed, self.desk.look.prompt)
        except AddressError as error:
            self._refuse(message.typed, [text(f"✗ {error}", "bold $error")])
            return
        if given.at is None and given.text.strip().lower() == "back":
            self.begin_work(self._back)
            return
        if not self._to_fill_in(given.text):
            self._keep(given.text, given.at, message.typed)

    def _to_fill_in(self, words: str) -> bool:
        """Begin a choice that needs one more word, such as “again PLACE”."""
        asked = self.desk.look.prompt
        begun = typed.to_fill_in(words)
        if asked is None or not begun or words not in asked.choices:
            return False
        come = self.desk.preview(words)
        if not isinstance(come, Refusal) or come.overridable:
            return False
        self.field.open()
        self.field.begin(begun)
        return True

    def action_why(self) -> None:
        """Show the reason of this step, its cautions and tools."""
        asked = self.desk.look.prompt
        if asked is not None:
            self.under = asking.why(asked)
            self.say_under(self.under)

    def action_list(self) -> None:
        """Turn to the list of steps."""
        self.chosen_view = "list"
        self.draw_view()

    def action_crank(self) -> None:
        """Turn to the crank."""
        self.chosen_view = "crank"
        self.draw_view()

    def action_back(self) -> None:
        """Take back the newest answer; what stays so in metal is said first."""
        if not self.field.busy:
            self.field.busy = True
            self.begin_work(self._back)

    async def _back(self) -> None:
        coming = await self.desk.undoing()
        if not coming.metal or self._warned == self.desk.look.state.sequence:
            self._keep("back")
            return
        self._warned = self.desk.look.state.sequence
        again = text("F3 again takes it back; any answer leaves it.", "bold $warning")
        self.under = [*map(text, coming.lines), again]
        self.say_under(self.under)
        self.field.open()
        self.field.value = ""

    def action_far(self) -> None:
        """Show the prompt for a metre away, or as before."""
        app = cast("SnugsetApp", self.app)
        app.far = not app.far
        self.set_class(app.far, "far")
        self.place()

    def action_stage(self) -> None:
        """Begin counting what is done of a stage."""
        self._begin("stage ")

    def action_note(self) -> None:
        """Begin a note."""
        self._begin("note ")

    def action_skip(self) -> None:
        """Begin a skip with its reason."""
        self._begin("skip ")

    def action_person(self) -> None:
        """Begin a handover, also where any words would be taken as a source."""
        self._begin(typed.HANDING_OVER if self._takes_any_words() else "person ")

    def action_photo(self) -> None:
        """Begin a photograph."""
        if self._takes_any_words():
            self.say_under([text("Give this text first, then the photograph.")])
        else:
            self._begin("photo ")

    def _takes_any_words(self) -> bool:
        """Tell whether what is typed is taken as it is: the source of a figure."""
        asked = self.desk.look.prompt
        step = asked.address.step if asked is not None else ""
        return step.startswith("spec.") and step.rpartition(".")[2] in PARTS

    def action_order(self) -> None:
        """Show the order list."""
        from snugset.screens.order import OrderScreen  # noqa: PLC0415 - loaded when asked for

        self.app.push_screen(OrderScreen(self.desk))

    def _begin(self, word: str) -> None:
        self.field.begin(typed.begin(word, self.field.value))

    def action_override(self) -> None:
        """Begin the reason for going on, after what was stopped."""
        whole = self.field.value or self._last
        if whole and " ! " not in whole:
            self.field.begin(f"{whole} ! ")

    def action_arrived(self) -> None:
        """Say that what was waited for is there, at the first wait."""
        held = next(iter(self.desk.look.state.holds), None)
        if held is None:
            self.say_under([text("Nothing is waited for.")])
        elif not self.field.busy:
            self._keep("arrived", held)

    def action_working(self) -> None:
        """Show the working in full: of what is typed, else of the newest reading."""
        from snugset.screens import worked  # noqa: PLC0415 - loaded when asked for

        asked, whole = self.desk.look.prompt, self.field.value.strip()
        try:
            given = typed.read(whole, asked)
        except AddressError as error:
            self.say_under([text(f"✗ {error}", "bold $warning")])
            return
        come = self.desk.preview(given.text, given.at) if whole else None
        at = asked if given.at is None else None
        kept = worked.newest(self.desk)
        self.app.push_screen(worked.WorkingScreen(worked.working(at, given.text, come, kept)))

    def action_specs(self) -> None:
        """Show the spec sheet."""
        from snugset.screens.specs import SpecsScreen  # noqa: PLC0415 - loaded when asked for

        self.app.push_screen(SpecsScreen(self.desk))

    def action_copy(self) -> None:
        """Copy the build to another place; what is typed stays."""
        self._copying("")

    def _copying(self, file: str) -> None:
        from snugset.screens.copy import CopyScreen  # noqa: PLC0415 - loaded when asked for

        self.app.push_screen(CopyScreen(self.desk, file))

    def action_history(self) -> None:
        """Show every answer."""
        from snugset.screens.history import HistoryScreen  # noqa: PLC0415 - loaded when asked for

        self.app.push_screen(HistoryScreen(self.desk), self._measure_again)

    def _measure_again(self, begun: object) -> None:
        """Begin what was chosen in the history."""
        if isinstance(begun, str):
            self.field.begin(begun)

    def action_sheet(self) -> None:
        """Write the build sheet as a page."""
        self.begin_work(self._write_sheet)

    async def _write_sheet(self) -> None:
        self.say_under([text("The build sheet is written …", "italic")])
        try:
            self.say_under([text(f"The build sheet is in {await self.desk.sheet()}")])
        except (JournalError, ValueError) as error:
            self.say_under([text(f"✗ No build sheet: {error}.", "bold $error")])

    def action_leave(self) -> None:
        """Empty the field; with nothing typed let the build go, back to the list."""
        if self.field.value:
            self.field.value = ""
            return
        self.field.busy = True
        self.begin_work(self._leaving)

    async def _leaving(self) -> None:
        await self.desk.let_go()
        self.app.pop_screen()


async def sit_down(opening: Opening, owner: Owner) -> BenchScreen:
    """Open a build; JournalError or BuildError if it cannot be."""
    desk = await Desk.open(opening.folder, owner=owner, clock=opening.clock, fresh=opening.fresh)
    return BenchScreen(desk, opening.note)
