"""Every answer, who gave it and when; the newest can be taken back here."""

from textual.app import ComposeResult
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from snugset.guide.said import said
from snugset.screens.base import Base, Plain, text
from snugset.screens.desk import Desk


class HistoryScreen(Base):
    """The journal in words."""

    NAME = "history"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk

    def body(self) -> ComposeResult:
        """Give the list and a line for what an undo came to."""
        yield OptionList(id="answers", classes="list", markup=False)
        yield Plain("message")

    def on_mount(self) -> None:
        """Fill the list, newest first."""
        self._fill()

    def _fill(self) -> None:
        look = self.desk.look
        standing = {given.number for given in look.state.given}
        found = self.query_one(OptionList)
        found.clear_options()
        for record in reversed(look.records):
            back = record.answer and record.answer not in standing and record.kind != "undone"
            sign = "↶" if back else " "
            stamp = record.at.replace("T", " ").removesuffix("Z")[:16]
            found.add_option(Option(text(f"{sign} {stamp} {record.person}  {said(record)}")))
        newest = look.state.given[-1].what if look.state.given else "nothing"
        self.query_one("#where", Plain).put(
            f"History · times UTC · F3 takes back {newest}: the record, not the engine"
        )

    async def action_back(self) -> None:
        """Take back the newest answer, and say what that came to."""
        look = await self.desk.say("back")
        outcome = look.outcome
        words = getattr(outcome, "said", None) or (getattr(outcome, "words", ""),)
        self.query_one("#message", Plain).put(words[0])
        self._fill()
