"""The fields of one figure: value, source, what it assumes, and a reason against a rule."""

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.message import Message
from textual.widgets import Input

from snugset.files.figures import Figure
from snugset.guide.prompt import Prompt
from snugset.guide.state import Spec
from snugset.screens.base import Field, Plain
from snugset.screens.typed import chosen

NAMES = ("value", "source", "assumes", "reason")


class Form(VerticalScroll, can_focus=False):
    """Enter goes to the next field, and from the last gives the figure."""

    class Changed(Message):
        """Something was typed."""

    class Given(Message):
        """The figure is to be kept."""

    def __init__(self) -> None:
        super().__init__(id="form", classes="form")
        self._choices: tuple[str, ...] = ()

    def compose(self) -> ComposeResult:
        """Give the fields."""
        for name in NAMES:
            label = Plain(f"ask-{name}")
            label.add_class("ask")
            yield label
            yield Field(id=name)

    def begin(self, figure: Figure, asked: Prompt, spec: Spec | None, typed: str) -> None:
        """Open the fields for a figure, as it stands now."""
        self._choices = asked.choices
        choices = [f"{number} {choice}" for number, choice in enumerate(asked.choices, 1)]
        unit = f", in {asked.unit}" if asked.unit else ""
        one_of = f", one of: {', '.join(choices)}" if choices else ""
        had = spec is not None and spec.had
        self._field("value", f"Value{unit}{one_of}", typed or (spec.typed if spec and had else ""))
        self._field("source", "Where does it come from?", (spec and spec.source) or "")
        self._field("assumes", figure.assumes, (spec and spec.assumes) or "")
        self._field("reason", "", "")
        self.display = True
        self._at("value").focus()

    def _field(self, name: str, label: str, value: str) -> None:
        """Show a field; one without a label is hidden."""
        self.query_one(f"#ask-{name}", Plain).put(label)
        field = self._at(name)
        field.display = bool(label)
        field.value = value
        field.cursor_position = len(value)

    def _at(self, name: str) -> Input:
        return self.query_one(f"#{name}", Input)

    @property
    def value(self) -> str:
        """The value alone."""
        return chosen(self._at("value").value.strip(), self._choices)

    @property
    def answer(self) -> str:
        """The figure as it is typed at the bench: ``value; source; what it assumes ! reason``."""
        reason = self._at("reason").value.strip()
        because = f" ! {reason}" if reason else ""
        if self.value.lower() == "none":
            return f"none{because}"
        rest = (self._at(name).value.replace(";", ",").strip() for name in ("source", "assumes"))
        return f"{'; '.join([self.value, *rest]).rstrip('; ')}{because}"

    def none(self) -> None:
        """Say that it is not to be had."""
        self._at("value").value = "none"
        self._at("value").focus()

    def because(self) -> None:
        """Show the field for the reason, and go there."""
        self._field("reason", "Go on all the same, because …", self._at("reason").value)
        self._at("reason").focus()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Pass on that something was typed."""
        event.stop()
        self.post_message(self.Changed())

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Go to the next field that is shown, or give the figure."""
        event.stop()
        shown = [name for name in NAMES if self._at(name).display]
        at = shown.index(event.input.id or "value")
        if self.value.lower() == "none" or at + 1 == len(shown):
            self.post_message(self.Given())
        else:
            self._at(shown[at + 1]).focus()
