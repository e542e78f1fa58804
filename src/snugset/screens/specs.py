"""The spec sheet: every figure with its value, its source and what it assumes."""

from textual import events
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Input, OptionList
from textual.widgets.option_list import Option

from snugset.files.figures import Figure, show_value
from snugset.guide.address import Address
from snugset.guide.conditions import hold
from snugset.guide.ruling import Refusal
from snugset.guide.state import Spec
from snugset.journal.errors import JournalError
from snugset.screens import outcome
from snugset.screens.base import Base, Plain
from snugset.screens.desk import Desk
from snugset.screens.sheet_form import Form
from snugset.screens.words import hung, joined, text, wrapped


def row(name: str, spec: Spec | None, *, asked: bool = True, width: int = 80) -> Content:
    """Give a figure in two lines: its value, then where that comes from and what it assumes."""
    first = text(f"{name:<20} ", "bold")
    if spec is None:
        return first.append(text("not asked yet" if asked else "not for this build", "italic"))
    if spec.had:
        source = f"from {spec.source}" if spec.source else "no source yet"
        value = wrapped([text(show_value(spec.value))], max(8, width - first.cell_length))
        under = "\n" + " " * first.cell_length
        first = first.append(text(under.join(each.plain for each in value)))
    else:
        source = "" if spec.value is None else f"{spec.source}: {show_value(spec.value)}"
        first = first.append(text("I don't have it", "italic"))
    assumes = f"assumes {spec.assumes}" if spec.assumes else ""
    second = " · ".join(part for part in (source, assumes) if part)
    return joined([first, hung(f"    {second}", width, "italic")]) if second else first


class SpecsScreen(Base):
    """The figures; the one that is marked can be given again."""

    NAME = "specs"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self._busy = False
        self._figure: Figure | None = None
        """The one that is being given."""

    def body(self) -> ComposeResult:
        """Give the list, what is asked, the form, and what comes of it."""
        yield OptionList(id="figures", classes="list", markup=False)
        yield Plain("facts")
        yield Form()
        yield Plain("message")

    @property
    def form(self) -> Form:
        """The fields of one figure."""
        return self.query_one(Form)

    def on_mount(self) -> None:
        """Fill the list."""
        self._fill(0)
        self._close()
        self.query_one("#message", Plain).put("")

    def on_resize(self, event: events.Resize) -> None:
        """Fold the rows anew."""
        super().on_resize(event)
        if self.is_mounted and self._figure is None:
            self._fill(self.query_one(OptionList).highlighted or 0)

    def _fill(self, marked: int) -> None:
        look = self.desk.look
        figures, specs = look.plan.procedure.figures, look.state.specs
        asked = {n for n, one in figures.items() if hold(one.conditions, look.plan, look.state)}
        width = self.size.width - 3
        rows = ((n, row(n, specs.get(n), asked=n in asked, width=width)) for n in figures)
        found = self.query_one(OptionList)
        found.set_options([Option(shown, id=name) for name, shown in rows])
        found.highlighted = marked
        had = sum(spec.had for spec in specs.values())
        count = len(asked | set(specs))
        self.query_one("#where", Plain).put(f"Spec sheet · {had} of {count} figures had")

    def _close(self) -> None:
        """Go from the form back to the list."""
        self._figure = None
        self.form.display = False
        found = self.query_one(OptionList)
        found.display = True
        found.focus()

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show what the marked figure is for."""
        self.query_one("#facts", Plain).put(self._about(event.option.id or ""))

    def _about(self, name: str, *facts: str) -> Content:
        figure = self.desk.look.plan.procedure.figures[name]
        none = f"Without it: {figure.none}" if figure.none else "It must be had."
        said = [text(figure.ask, "bold"), text(figure.why), *map(text, facts)]
        return joined([part for part in (*said, *(() if facts else (text(none),))) if part.plain])

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Open the fields of the marked figure."""
        self._open(event.option.id or "")

    def _open(self, name: str, typed: str = "") -> None:
        look = self.desk.look
        figure, spec = look.plan.procedure.figures[name], look.state.specs.get(name)
        asked = self.desk.asked_at(Address(f"spec.{name}"))
        here = look.prompt is not None and look.prompt.address == Address(f"spec.{name}")
        if asked is None or (spec is None and not here):
            self._say([text(f"{name} is asked for in its turn; leave with Esc.", "bold $warning")])
            return
        self._figure = figure
        self.query_one(OptionList).display = False
        self.query_one("#facts", Plain).put(self._about(name, *asked.facts))
        self._say([])
        self.form.begin(figure, asked, spec, typed)

    def on_form_changed(self) -> None:
        """Show in both systems, and judge, what is typed."""
        come = self.desk.preview(self._said(), self._address())
        typed = bool(self.form.value)
        self._say(outcome.foreseen(None, "", come) if self._figure and typed else [])

    def on_form_given(self) -> None:
        """Keep the figure; the newest counts."""
        if not self._busy:
            self._busy = True
            self.begin_work(self._keeping)

    async def _keeping(self) -> None:
        """One at a time: Enter struck again meanwhile gives nothing more."""
        await self._keep()
        self._busy = False

    async def _keep(self) -> None:
        try:
            look = await self.desk.say(self._said(), self._address())
        except JournalError as error:
            self._say([text(f"✗ Not kept: {error.message}. Enter tries again.", "bold $error")])
            return
        self._say(outcome.came(look.outcome))
        if isinstance(look.outcome, Refusal):
            self.form.query_one("#value", Input).focus()
        elif self._figure is not None:
            self._fill(list(look.plan.procedure.figures).index(self._figure.name))
            self._close()

    def _said(self) -> str:
        """Give the answer that the fields make up."""
        again = self._figure is not None and self._figure.name in self.desk.look.state.specs
        return f"again {self.form.answer}" if again else self.form.answer

    def _address(self) -> Address:
        return Address(f"spec.{self._figure.name if self._figure else ''}")

    def _say(self, parts: list[Content]) -> None:
        self.query_one("#message", Plain).put(joined(parts))

    def action_open(self) -> None:
        """Open the marked figure."""
        if self._figure is None:
            self.query_one(OptionList).action_select()

    def action_none(self) -> None:
        """Say that the figure is not to be had; Enter keeps that."""
        marked = self.query_one(OptionList).highlighted_option
        if self._figure is not None:
            self.form.none()
        elif marked is not None:
            self._open(marked.id or "", "none")

    def action_override(self) -> None:
        """Open the field for the reason of going on against a rule."""
        if self._figure is not None:
            self.form.because()

    def action_fill(self) -> None:
        """Ask for a file, and fill the sheet from it."""
        self._to_a_file(taking=True)

    def action_save(self) -> None:
        """Ask for a file, and save the sheet to it."""
        self._to_a_file(taking=False)

    def _to_a_file(self, *, taking: bool) -> None:
        from snugset.screens.file import FileScreen  # noqa: PLC0415 - loaded when asked for

        self.app.push_screen(FileScreen(self.desk, taking=taking))

    def on_screen_resume(self) -> None:
        """Show what a file has changed; a figure that is being given stays as it is."""
        if self._figure is None:
            self._fill(self.query_one(OptionList).highlighted or 0)

    def action_leave(self) -> None:
        """Leave the form, or the sheet."""
        if self._figure is None:
            self.app.pop_screen()
        else:
            self._say([])
            self._close()
