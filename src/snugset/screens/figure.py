"""One calculator: a form made from its declaration, with its result beside it as it is typed."""

import asyncio
from functools import partial

from textual.content import Content

from snugset.guide.address import Address
from snugset.guide.answer import LONGEST
from snugset.guide.offers import Offer, offers
from snugset.guide.ruling import Refusal
from snugset.journal.errors import JournalError
from snugset.printable import printable
from snugset.screens import outcome, worked
from snugset.screens.base import Plain
from snugset.screens.calculators import kept
from snugset.screens.desk import Desk
from snugset.screens.fields import FigureForm
from snugset.screens.words import joined, text
from snugset.trade import calculator as declared
from snugset.trade.asked import asked
from snugset.trade.calculator import Calculator, FigureError, Result
from snugset.trade.echoed import echoed
from snugset.trade.noted import noted
from snugset.trade.typed import Fields, read_fields


class FigureScreen(FigureForm):
    """What is typed is worked out as it is typed; a result can be noted into the build."""

    NAME = "figure"

    def __init__(self, calculator: Calculator, desk: Desk | None) -> None:
        super().__init__(calculator, desk)
        self.result: Result | None = None
        """What the fields come to, as they stand."""
        self._busy = False
        self._noted = ""

    def on_mount(self) -> None:
        """Fill in what was typed here before, else what the build has."""
        self.query_one("#where", Plain).put(f"{self.calculator.name} · {self.calculator.words}")
        for one in self.calculator.inputs:
            self.query_one(f"#ask-{one.key}", Plain).put(f"{one.key}: {one.words} · {asked(one)}")
        before = kept(self).forms.get(self._key)
        offered = self._offered()
        self._fill(offered if before is None else before, offered)
        self._field(self.calculator.inputs[0].key).focus(scroll_visible=False)

    def _offers(self) -> dict[str, Offer]:
        if self.desk is None:
            return {}
        look = self.desk.look
        return offers(look.plan, look.state, look.prompt, self.calculator.name)

    def _offered(self) -> dict[str, str]:
        return {key: offer.text for key, offer in self._offers().items()}

    async def _work_out(self) -> None:
        """Read each field and work out the whole, beside the event loop."""
        fields, result, wrong = await asyncio.to_thread(self._figure, self._read())
        self.result = result
        offered = self._offers()
        for one in self.calculator.inputs:
            echo = self.query_one(f"#echo-{one.key}", Plain)
            echo.put(self._echo(one, fields, wrong, offered.get(one.key)))
        self._show(fields, wrong)
        self._see(self.focused)

    def _figure(self, texts: dict[str, str]) -> tuple[Fields, Result | None, FigureError | None]:
        fields = read_fields(self.calculator, texts, kept(self).doors.known)
        if fields.faults or fields.missing or not texts:
            return fields, None, None
        try:
            return fields, self.calculator.compute(fields.values), None
        except FigureError as error:
            return fields, None, error

    def _echo(
        self, one: declared.Input, fields: Fields, wrong: FigureError | None, offer: Offer | None
    ) -> Content:
        """Give what stands under a field: what is wrong, or what was read and where it is from."""
        fault = fields.faults.get(one.key, "")
        if wrong is not None and wrong.key == one.key:
            fault = wrong.problem
        if fault:
            return text(f"✗ {fault}", "bold $error")
        typed = self._field(one.key).value.strip()
        if not typed:
            return text("")
        read = echoed(one, fields.values.get(one.key))
        choice = fields.values.get(one.key) if one.choices else None
        if isinstance(choice, str) and choice != typed:
            read = choice
        parts = [f"= {read}" if read else ""]
        if offer is not None and offer.text == typed:
            parts.append(f"from {offer.origin}")
        return text(" · ".join(filter(None, parts)), "$secondary")

    def _show(self, fields: Fields, wrong: FigureError | None) -> None:
        keys = {one.key for one in self.calculator.inputs}
        if self.result is not None:
            parts = worked.came(self.calculator, self.result)
        elif wrong is not None and wrong.key not in keys:
            parts = [text(f"✗ {wrong}", "bold $error")]
        elif fields.faults or wrong is not None:
            at = ", ".join(fields.faults) or (wrong.key if wrong else "")
            parts = [text(f"✗ To be put right: {at}", "bold $error")]
        elif fields.missing:
            parts = [text(f"Still needed: {', '.join(fields.missing)}", "bold")]
        else:
            parts = [text("Type what there is; what there is not stays empty.", "bold")]
        if self.result is None:
            parts += [text(""), *worked.about(self.calculator)]
        self.query_one("#came", Plain).put(joined(parts))

    def _say(self, parts: list[Content]) -> None:
        """Say something over the result."""
        shown = worked.came(self.calculator, self.result) if self.result else []
        self.query_one("#came", Plain).put(joined([*parts, text(""), *shown]))
        self.query_one("#result").scroll_home(animate=False)

    def action_example(self) -> None:
        """Fill in the worked example, or put back what stood there."""
        self._swap(dict(self.calculator.example.inputs))

    def action_empty(self) -> None:
        """Empty every field, or put back what stood there."""
        self._swap({})

    def action_build(self) -> None:
        """Put in what the build has; what it has not stays as it is typed."""
        offered = self._offered()
        if self.desk is None:
            self._say([text("No build is open; these are only typed.", "bold $warning")])
        elif not offered:
            self._say([text("The build has nothing of it yet.", "bold $warning")])
        else:
            self._fill({**self.texts, **offered}, offered)

    def action_note(self) -> None:
        """Note inputs, result and working in the build that is open."""
        if self.desk is None:
            self._say([text("No build is open to note it in.", "bold $warning")])
        elif self.result is None:
            self._say([text("There is no result to note yet.", "bold $warning")])
        elif not self._busy:
            words = noted(self.calculator, self._read(), self.result, longest=LONGEST)
            if words == self._noted:
                self._say([text("✓ That is noted already.", "$success")])
                return
            self._busy = True
            self.begin_work(partial(self._keep, self.desk, printable(words)))

    async def _keep(self, desk: Desk, words: str) -> None:
        """Keep the note at the step that is asked, or at the last one of a finished build."""
        state, at = desk.look.state, None
        if desk.look.prompt is None and state.facts:
            at = max(state.facts, key=lambda one: state.facts[one].sequence)
        try:
            look = await desk.say(f"note {words}", at)
        except JournalError as error:
            self._say([text(f"✗ Not kept: {error.message}. F4 tries again.", "bold $error")])
            return
        finally:
            self._busy = False
        if isinstance(look.outcome, Refusal):
            self._say(outcome.came(look.outcome))
            return
        self._noted = words
        where: Address | None = look.prompt.address if look.prompt else at
        self._say([text(f"✓ Noted at {where}; it stands on the build sheet.", "$success")])
