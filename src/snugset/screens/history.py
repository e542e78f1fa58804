"""Every answer, who gave it and when; the newest can be taken back here."""

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from snugset.guide.events import Record
from snugset.guide.people import initials
from snugset.guide.said import said
from snugset.journal.errors import JournalError
from snugset.printable import counted
from snugset.screens import outcome
from snugset.screens.base import Base, Plain
from snugset.screens.desk import Desk
from snugset.screens.words import joined, lines, text


def row(record: Record, who: str, *, standing: bool) -> Content:
    """Give a record in a line, `who` gave it; an arrow marks what was taken back."""
    stamp = record.at.replace("T", " ").removesuffix("Z")[:16]
    sign = " " if standing else "↶"
    words = f"{sign} {stamp} {who}  {said(record)}"
    return text(words, "" if standing else "italic")


class HistoryScreen(Base):
    """The journal in words, newest first."""

    NAME = "history"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self._busy = False
        self._told = -1
        """The sequence at which it was said what follows from taking back; only then it is done."""

    def body(self) -> ComposeResult:
        """Give the list and what an undo would come to, or came to."""
        yield OptionList(id="answers", classes="list", markup=False)
        yield Plain("message")

    def on_mount(self) -> None:
        """Fill the list."""
        self.query_one("#message", Plain).put("")
        self._fill()
        self.query_one(OptionList).focus()

    def _fill(self) -> None:
        look = self.desk.look
        standing = {given.number for given in look.state.given} | {0}
        short = initials(look.state.people)
        alone = len(set(short.values())) == 1
        found = self.query_one(OptionList)
        found.set_options(
            [
                Option(
                    row(
                        record,
                        record.person if alone else f"{short[record.person]:<3}",
                        standing=record.kind == "undone" or record.answer in standing,
                    ),
                    id=str(record.sequence),
                )
                for record in reversed(look.records)
            ]
        )
        found.highlighted = 0
        people = ", ".join(f"{letters}\u00a0{name}" for name, letters in short.items())
        self.query_one("#where", Plain).put(
            f"History of {look.state.name} · {counted(len(look.records), 'record')} · times in UTC"
            + ("" if alone else f" · {people}")
        )

    def action_back(self) -> None:
        """Say what taking back the newest answer comes to; at the second time do it."""
        if not self._busy:
            self._busy = True
            self.begin_work(self._back)

    async def _back(self) -> None:
        """One at a time: F3 struck again meanwhile takes nothing more back."""
        await self._undo()
        self._busy = False

    async def _undo(self) -> None:
        message = self.query_one("#message", Plain)
        sequence = self.desk.look.state.sequence
        if self._told != sequence:
            self._told = sequence
            follows = await self.desk.undoing()
            again = [text("F3 again takes it back. Esc leaves it.", "bold $warning")]
            message.put(joined([lines(follows.lines), *(again if follows.possible else [])]))
            return
        try:
            look = await self.desk.say("back")
        except JournalError as error:
            message.put(text(f"✗ Not kept: {error.message}. F3 tries again.", "bold $error"))
            return
        message.put(joined(outcome.came(look.outcome)))
        self._fill()

    def action_sheet(self) -> None:
        """Write the build sheet as a page."""
        self.begin_work(self._write_sheet)

    async def _write_sheet(self) -> None:
        message = self.query_one("#message", Plain)
        message.put(text("The build sheet is written …", "italic"))
        try:
            message.put(f"The build sheet is in {await self.desk.sheet()}")
        except JournalError as error:
            message.put(text(f"✗ No build sheet: {error.message}.", "bold $error"))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Begin measuring the marked reading again, on the bench."""
        record = self.desk.look.records[int(event.option.id or 1) - 1]
        if record.kind in ("reading", "set-aside"):
            self.dismiss(f"@{record.body['at']} again ")
        else:
            self.query_one("#message", Plain).put("Only a reading is measured again.")

    def action_open(self) -> None:
        """Measure the marked reading again."""
        self.query_one(OptionList).action_select()
